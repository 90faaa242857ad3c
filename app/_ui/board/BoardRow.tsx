// biome-ignore-all lint/a11y/useSemanticElements: cells are placed freely on a sheet, which a table cannot do
// biome-ignore-all lint/a11y/useFocusableInteractive: of a grid only the cells take the focus
"use client";

import { type DragEvent, memo } from "react";
import { addDays, type CalendarDate } from "@/lib/time";
import { formatDate } from "../format";
import { Block, DRAG_TYPE } from "./Block";
import type { PlacedBlock } from "./geometry";
import type { BoardCrew } from "./types";
import { visitWords } from "./words";

export interface BoardRowProps {
  crew: BoardCrew;
  row: number;
  topPx: number;
  lanePx: number;
  heightPx: number;
  dayPx: number;
  /** Days drawn: [from, to). */
  from: number;
  to: number;
  firstDay: CalendarDate;
  frozenUntilDay: number;
  blocks: readonly PlacedBlock[];
  selectedId?: string;
  partnerId?: string;
  /** Day of the cell that takes the focus, if it is in this row. */
  cursorDay?: number;
  isMoving: boolean;
  canDrag: boolean;
  locale: string;
  onSelect: (id: string) => void;
  onPoint: (id: string | undefined) => void;
  onCellFocus: (row: number, day: number) => void;
  onCellPress: (row: number, day: number) => void;
  onDrop?: (visitId: string, crewId: string, day: number) => void;
}

/** One crew: days off, day cells that take focus and drops, and visits in the cell of their first day. */
export const BoardRow = memo(function BoardRow(props: BoardRowProps) {
  const { crew, row, topPx, lanePx, heightPx, dayPx, from, to, firstDay, frozenUntilDay, blocks, locale } =
    props;
  const { selectedId, partnerId, cursorDay, isMoving, canDrag, onSelect, onPoint, onDrop } = props;

  // A visit hangs in the cell of its first day; that cell must exist while any part of the visit is in view.
  const byDay = new Map<number, PlacedBlock[]>();
  for (const block of blocks) {
    const { startDay, endDay } = block.visit;
    if (endDay < from || startDay >= to) continue;
    byDay.set(startDay, [...(byDay.get(startDay) ?? []), block]);
  }
  const days: number[] = [];
  for (let day = from; day < to; day++) days.push(day);
  for (const day of byDay.keys()) if (day < from) days.unshift(day);
  days.sort((a, b) => a - b);

  function over(event: DragEvent): void {
    if (event.dataTransfer.types.includes(DRAG_TYPE)) event.preventDefault();
  }

  return (
    <div role="row" aria-rowindex={row + 2} className="ui-board-row" style={{ top: topPx, height: heightPx }}>
      <div role="rowheader" className="ui-board-crew" aria-colindex={1}>
        <span className="ui-board-crew-code">{crew.code}</span>
        {crew.note ? <span className="ui-board-crew-note">{crew.note}</span> : null}
      </div>
      {days.map((day) => {
        const state = crew.days[day];
        const here = byDay.get(day) ?? [];
        const isFrozen = day < frozenUntilDay;
        const date = formatDate(addDays(firstDay, day), "weekday", locale);
        const off = state && !state.works ? `, off${state.why ? `: ${state.why}` : ""}` : "";
        const content = here.map(({ visit }) => visitWords(visit, firstDay, locale)).join(". ");
        return (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the board hears Enter
          <div
            key={day}
            role="gridcell"
            aria-colindex={day + 2}
            aria-label={`${crew.code}, ${date}${off}${isFrozen ? ", frozen" : ""}. ${content || "free"}`}
            data-cell={`${row},${day}`}
            data-off={state ? !state.works : false}
            data-moving={isMoving && !isFrozen}
            tabIndex={cursorDay === day ? 0 : -1}
            className="ui-board-cell"
            style={{ left: day * dayPx, width: dayPx }}
            title={state && !state.works ? state.why : undefined}
            onFocus={() => props.onCellFocus(row, day)}
            onClick={() => props.onCellPress(row, day)}
            onDragOver={onDrop && !isFrozen ? over : undefined}
            onDrop={
              onDrop && !isFrozen
                ? (event) => {
                    event.preventDefault();
                    const id = event.dataTransfer.getData(DRAG_TYPE);
                    if (id) onDrop(id, crew.id, day);
                  }
                : undefined
            }
          >
            {here.map((block) => (
              <Block
                key={block.visit.id}
                block={block}
                cellLeftPx={day * dayPx}
                lanePx={lanePx}
                words={visitWords(block.visit, firstDay, locale)}
                isSelected={block.visit.id === selectedId}
                isPartner={block.visit.id === partnerId}
                isFrozen={isFrozen}
                canDrag={canDrag}
                onSelect={onSelect}
                onPoint={onPoint}
              />
            ))}
          </div>
        );
      })}
    </div>
  );
});
