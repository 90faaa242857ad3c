"use client";

import { useEffect, useState } from "react";
import { flushSync } from "react-dom";
import { addDays, type CalendarDate } from "@/lib/time";
import { useWords } from "../language/LanguageProvider";
import { BlockWords, blockStyle } from "./Block";
import { BoardHead } from "./BoardHead";
import { BoardSigns } from "./BoardSigns";
import { blocksOf, type DaySpan, offRuns } from "./geometry";
import { type Days, headZoom, PAPER_CREW_PX, printedStrips, visitsIn, withCodes } from "./printed";
import { isNoteTight, isTight, sizeOf } from "./signs";
import { type BoardCrew, type BoardVisit, ZOOMS, type Zoom } from "./types";

export interface PrintedBoardProps {
  /** The part of the board that scrolls. */
  root: { current: HTMLElement | null };
  firstDay: CalendarDate;
  dayCount: number;
  todayDay?: number;
  frozenUntilDay: number;
  crews: readonly BoardCrew[];
  visits: readonly BoardVisit[];
  dayHours?: readonly ({ metH: number; ofH: number; lost?: string } | null)[];
  span: DaySpan;
  zoom: Zoom;
  crewPx: number;
}

/** The board as it goes on paper: there only while the browser prints, for what scrolls on the screen is cut on paper. */
export function PrintedBoard(props: PrintedBoardProps) {
  const { root, zoom, crewPx, dayCount } = props;
  const seen = useSeenWhilePrinting(root, ZOOMS[zoom].dayPx, crewPx, dayCount);
  if (!seen) return null;
  const { strips, dayPx } = printedStrips(props, seen);
  return (
    <div className="ui-board-print">
      {strips.map((days) => (
        <Strip key={days.from} {...props} dayPx={dayPx} days={days} />
      ))}
    </div>
  );
}

/** The days in view as the browser begins to print; undefined at all other times. */
function useSeenWhilePrinting(
  root: { current: HTMLElement | null },
  dayPx: number,
  crewPx: number,
  dayCount: number,
): Days | undefined {
  const [seen, setSeen] = useState<Days>();
  useEffect(() => {
    const before = (): void => {
      const { scrollLeft = 0, clientWidth = 0 } = root.current ?? {};
      const from = Math.min(dayCount - 1, Math.floor(scrollLeft / dayPx));
      const to = Math.min(dayCount, Math.ceil((scrollLeft + clientWidth - crewPx) / dayPx));
      flushSync(() => setSeen({ from, to: Math.max(from + 1, to) }));
    };
    const after = (): void => setSeen(undefined);
    window.addEventListener("beforeprint", before);
    window.addEventListener("afterprint", after);
    return () => {
      window.removeEventListener("beforeprint", before);
      window.removeEventListener("afterprint", after);
    };
  }, [root, dayPx, crewPx, dayCount]);
  return seen;
}

/** Some weeks of all crews, each row with the crew's name; the days stand again on top of every page. */
function Strip({
  days,
  dayPx,
  span,
  ...board
}: Omit<PrintedBoardProps, "root"> & { days: Days; dayPx: number }) {
  const { locale } = useWords();
  const { crews, visits, todayDay } = board;
  const firstDay = addDays(board.firstDay, days.from);
  const dayCount = days.to - days.from;
  const lanePx = ZOOMS.week.rowPx;
  const shown = visitsIn(visits, days, span);
  const lines = Array.from({ length: dayCount }, (_, day) => day);
  return (
    <table style={{ width: PAPER_CREW_PX + dayCount * dayPx }}>
      <colgroup>
        <col style={{ width: PAPER_CREW_PX }} />
        <col />
      </colgroup>
      <thead>
        <tr>
          <td colSpan={2} style={{ ["--crew" as string]: `${PAPER_CREW_PX}px` }}>
            <BoardHead
              {...{ firstDay, dayCount, dayPx, span, locale }}
              zoom={headZoom(dayPx)}
              from={0}
              to={dayCount}
              todayDay={todayDay === undefined ? undefined : todayDay - days.from}
              frozenUntilDay={board.frozenUntilDay - days.from}
              dayHours={board.dayHours?.slice(days.from, days.to)}
            />
          </td>
        </tr>
      </thead>
      <tbody>
        {crews.map((crew) => {
          const own = shown.filter((visit) => visit.crewId === crew.id);
          const { blocks, lanes } = withCodes(blocksOf(own, span, dayPx).blocks, dayCount * dayPx);
          return (
            <tr key={crew.id}>
              <th scope="row">
                <span className="ui-board-crew-code">{crew.code}</span>
                {crew.note ? (
                  <span
                    className="ui-board-crew-note"
                    data-tight={isNoteTight(crew.note, PAPER_CREW_PX) || undefined}
                  >
                    {crew.note}
                  </span>
                ) : null}
              </th>
              <td style={{ ["--crew" as string]: "0px" }}>
                <div className="ui-board-print-days" style={{ height: lanes * lanePx }}>
                  {lines.map((day) => (
                    <i key={day} style={{ left: day * dayPx }} />
                  ))}
                  {offRuns(crew.days.slice(days.from, days.to), 0, dayCount).map((run) => (
                    <div
                      key={run.from}
                      className="ui-board-off"
                      style={{ marginLeft: run.from * dayPx, width: (run.to - run.from) * dayPx }}
                    />
                  ))}
                  {blocks.map((block) => (
                    <div
                      key={block.visit.id}
                      className="ui-visit"
                      data-kind={block.visit.kind}
                      data-size={sizeOf(block.widthPx, lanePx)}
                      data-tight={isTight(block, lanePx) || undefined}
                      data-faint={block.visit.isFaint || undefined}
                      data-late={block.visit.isLate}
                      data-report={block.visit.report?.state}
                      style={blockStyle(block, 0, lanePx)}
                    >
                      <BlockWords block={block} lanePx={lanePx} />
                    </div>
                  ))}
                  <BoardSigns blocks={blocks} lanePx={lanePx} />
                </div>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
