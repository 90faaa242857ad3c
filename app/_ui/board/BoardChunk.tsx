// biome-ignore-all lint/a11y/useSemanticElements: cells are placed freely on a sheet, which a table cannot do
"use client";

import { memo } from "react";
import { addDays, type CalendarDate } from "@/lib/time";
import { formatDate } from "../format";
import { useWords } from "../language/LanguageProvider";
import { Block } from "./Block";
import { type Chunk, cellDayOf } from "./geometry";
import { settledOf } from "./settled";
import type { BoardCrew, PickHow } from "./types";
import { visitWords } from "./words";

export interface BoardChunkProps {
  crew: BoardCrew;
  row: number;
  chunk: Chunk;
  dayPx: number;
  lanePx: number;
  firstDay: CalendarDate;
  frozenUntilDay: number;
  /** Only when it is in this chunk: a selection elsewhere draws nothing here anew. */
  selectedId?: string;
  /** Ids of those that are picked, as lines: a text stays the same while they do. */
  pickedLines?: string;
  partnerId?: string;
  cursorDay?: number;
  canDrag: boolean;
  locale: string;
  onSelect: (id: string) => void;
  onPick: (id: string, how: PickHow) => void;
  onPoint: (id: string | undefined) => void;
  onCellFocus: (row: number, day: number) => void;
}

/** Room for the frame of a block that is selected or picked (board.css): what reaches out of a chunk is cut off. */
const AROUND_PX = 5;

/**
 * Some days of one crew: a cell for each day on which a visit starts and for the cursor. Scrolling mounts and drops
 * whole chunks and leaves the others alone, and the browser paints again only those that its window of painted
 * things newly takes in: each is cut off at its edges, so it knows without looking which are whole (docs/decisions/039).
 * What is in it has no position of its own: each such element would be one more layer to sort and to watch.
 */
export const BoardChunk = memo(function BoardChunk(props: BoardChunkProps) {
  const words = useWords();
  const { t } = words;
  const { crew, row, chunk, dayPx, lanePx, firstDay, frozenUntilDay, cursorDay, canDrag, locale } = props;
  const picked = new Set(props.pickedLines?.split("\n"));
  const days = new Set(chunk.blocks.map((block) => cellDayOf(block.visit)));
  if (cursorDay !== undefined) days.add(cursorDay);
  const fromPx = chunk.firstDay * dayPx - AROUND_PX;
  const toPx = AROUND_PX + Math.max(chunk.toDay * dayPx, ...chunk.blocks.map((b) => b.leftPx + b.widthPx));
  return (
    <div
      role="presentation"
      className="ui-board-chunk"
      style={{ left: fromPx, width: toPx - fromPx, paddingInline: AROUND_PX }}
    >
      {[...days]
        .sort((a, b) => a - b)
        .map((day) => {
          const here = chunk.blocks.filter((block) => cellDayOf(block.visit) === day);
          const state = crew.days[day];
          const isFrozen = day < frozenUntilDay;
          const isOff = state !== undefined && !state.works;
          const off = !isOff ? "" : state.why ? t(", off: {{why}}", { why: state.why }) : t(", off");
          const date = formatDate(addDays(firstDay, day), "weekday", locale);
          const said = here.map(({ visit }) => visitWords(visit, firstDay, words));
          return (
            <div
              key={day}
              role="gridcell"
              aria-colindex={day + 2}
              aria-label={`${crew.code}, ${date}${off}${isFrozen ? t(", settled") : ""}. ${said.join(". ") || t("free")}`}
              data-cell={`${row},${day}`}
              tabIndex={cursorDay === day ? 0 : -1}
              className="ui-board-cell"
              style={{ marginLeft: (day - chunk.firstDay) * dayPx, width: dayPx }}
              onFocus={() => props.onCellFocus(row, day)}
            >
              {here.map((block, at) => (
                <Block
                  key={block.visit.id}
                  block={block}
                  cellLeftPx={day * dayPx}
                  lanePx={lanePx}
                  dayPx={dayPx}
                  words={said[at] ?? ""}
                  isSelected={block.visit.id === props.selectedId}
                  isPicked={picked.has(block.visit.id)}
                  isPartner={block.visit.id === props.partnerId}
                  isSettled={settledOf(block.visit, { frozenUntilDay }) !== undefined}
                  canDrag={canDrag}
                  onSelect={props.onSelect}
                  onPick={props.onPick}
                  onPoint={props.onPoint}
                />
              ))}
            </div>
          );
        })}
    </div>
  );
});
