// biome-ignore-all lint/a11y/useSemanticElements: cells are placed freely on a sheet, which a table cannot do
// biome-ignore-all lint/a11y/useFocusableInteractive: of a grid only the cells take the focus
"use client";

import { type DragEvent, type MouseEvent, memo, useRef } from "react";
import { addDays, type CalendarDate } from "@/lib/time";
import { formatDate } from "../format";
import { BoardChunk } from "./BoardChunk";
import { BoardSigns } from "./BoardSigns";
import { DRAG_TYPE } from "./drag";
import { type Chunk, chunksInView, hasDay, type PlacedBlock } from "./geometry";
import { OffDays } from "./OffDays";
import type { BoardCrew, PickHow } from "./types";

export interface BoardRowProps {
  crew: BoardCrew;
  row: number;
  topPx: number;
  lanePx: number;
  heightPx: number;
  dayPx: number;
  crewPx: number;
  dayCount: number;
  /** Days drawn: [from, to), whole chunks. */
  from: number;
  to: number;
  firstDay: CalendarDate;
  frozenUntilDay: number;
  blocks: readonly PlacedBlock[];
  /** The blocks chunk by chunk. */
  chunks: readonly Chunk[];
  selectedId?: string;
  pickedIds: ReadonlySet<string>;
  partnerId?: string;
  /** Day of the cell that takes the focus, if it is in this row. */
  cursorDay?: number;
  isMoving: boolean;
  canDrag: boolean;
  locale: string;
  onSelect: (id: string) => void;
  onPick: (id: string, how: PickHow) => void;
  onPoint: (id: string | undefined) => void;
  onCellFocus: (row: number, day: number) => void;
  onCellPress: (row: number, day: number) => void;
  onDrop: (visitId: string, row: number, day: number) => void;
}

/**
 * One crew: its days chunk by chunk. Presses and drops are heard here and their day is worked
 * out from the place, so that days without a visit need no element of their own.
 */
export const BoardRow = memo(function BoardRow(props: BoardRowProps) {
  const { crew, row, topPx, lanePx, heightPx, dayPx, crewPx, dayCount, from, to, firstDay } = props;
  const { frozenUntilDay, chunks, selectedId, pickedIds, partnerId, cursorDay, isMoving, canDrag, locale } =
    props;
  const drawn = chunksInView(chunks, from, to, cursorDay);

  function dayAt(event: MouseEvent | DragEvent): number | undefined {
    const x = event.clientX - event.currentTarget.getBoundingClientRect().left - crewPx;
    const day = Math.floor(x / dayPx);
    return day >= 0 && day < dayCount ? day : undefined;
  }
  /** Where a let-go would land: set by hand, for a row must not be drawn anew with every step of the pointer. */
  const target = useRef<HTMLDivElement>(null);
  function mark(day: number | undefined): void {
    const element = target.current;
    if (!element) return;
    element.hidden = day === undefined;
    if (day === undefined) return;
    element.style.left = `${day * dayPx}px`;
    element.style.width = `${dayPx}px`;
    element.firstElementChild!.textContent = `${crew.id}, ${formatDate(addDays(firstDay, day), "weekday", locale)}`;
  }
  function onClick(event: MouseEvent): void {
    const day = dayAt(event);
    if (day === undefined) return;
    props.onCellFocus(row, day);
    props.onCellPress(row, day);
  }
  function onDragOver(event: DragEvent): void {
    const day = dayAt(event);
    const isTarget =
      day !== undefined && day >= frozenUntilDay && event.dataTransfer.types.includes(DRAG_TYPE);
    mark(isTarget ? day : undefined);
    if (!isTarget) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = "move";
  }
  function onPoint(event: MouseEvent): void {
    const day = dayAt(event);
    mark(day !== undefined && day >= frozenUntilDay ? day : undefined);
  }
  function onDrop(event: DragEvent): void {
    mark(undefined);
    const day = dayAt(event);
    const id = event.dataTransfer.getData(DRAG_TYPE);
    if (day === undefined || !id) return;
    event.preventDefault();
    props.onDrop(id, row, day);
  }

  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the board hears Enter on the cell that has the focus
    <div
      role="row"
      aria-rowindex={row + 2}
      className="ui-board-row"
      data-moving={isMoving}
      style={{ top: topPx, height: heightPx }}
      onClick={onClick}
      onDragOver={canDrag ? onDragOver : undefined}
      onDragLeave={(event) => {
        if (!event.currentTarget.contains(event.relatedTarget as Node | null)) mark(undefined);
      }}
      onDrop={canDrag ? onDrop : undefined}
      onPointerMove={isMoving ? onPoint : undefined}
      onPointerLeave={() => mark(undefined)}
    >
      <div
        role="rowheader"
        className="ui-board-crew-said"
        aria-colindex={1}
        aria-label={crew.note ? `${crew.code}, ${crew.note}` : crew.code}
      />
      {drawn.map(({ firstDay: fromDay, toDay }) => (
        <OffDays key={fromDay} days={crew.days} fromDay={fromDay} toDay={toDay} dayPx={dayPx} />
      ))}
      {drawn.map((chunk) => {
        const isHere = (id: string | undefined): boolean =>
          id !== undefined && chunk.blocks.some((block) => block.visit.id === id);
        const picked =
          pickedIds.size === 0 ? [] : chunk.blocks.filter((block) => pickedIds.has(block.visit.id));
        return (
          <BoardChunk
            key={chunk.firstDay}
            crew={crew}
            row={row}
            chunk={chunk}
            dayPx={dayPx}
            lanePx={lanePx}
            firstDay={firstDay}
            frozenUntilDay={frozenUntilDay}
            selectedId={isHere(selectedId) ? selectedId : undefined}
            pickedLines={picked.length === 0 ? undefined : picked.map((b) => b.visit.id).join("\n")}
            partnerId={isHere(partnerId) ? partnerId : undefined}
            cursorDay={hasDay(chunk, cursorDay) ? cursorDay : undefined}
            canDrag={canDrag}
            locale={locale}
            onSelect={props.onSelect}
            onPick={props.onPick}
            onPoint={props.onPoint}
            onCellFocus={props.onCellFocus}
          />
        );
      })}
      <BoardSigns blocks={props.blocks} lanePx={lanePx} />
      <div ref={target} className="ui-board-drop" aria-hidden="true" hidden>
        <span />
      </div>
    </div>
  );
});
