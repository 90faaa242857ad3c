// biome-ignore-all lint/a11y/useFocusableInteractive: of a grid only the cells take the focus
import { memo, startTransition, useEffect, useLayoutEffect, useRef, useState } from "react";
import { useWords } from "../language/LanguageProvider";
import { Backdrop } from "./Backdrop";
import { BoardHead, type BoardHeadProps } from "./BoardHead";
import { BoardRow, type BoardRowProps } from "./BoardRow";
import { CrewNames } from "./CrewNames";
import { type DaySpan, rangeIn } from "./geometry";
import { nextRows, rowDays, rowsIn, type Stretch } from "./reach";
import { ZOOMS, type Zoom } from "./types";
import { useReach } from "./useReach";

export const HEAD_PX = 68;
/** Rows so far out of view are drawn ahead. */
const SPARE_PX = 120;
/**
 * While the board scrolls across, its rows take in the next chunk of days in so many turns, each by another place of
 * the scroll: of all rows at once it is more than fits between two frames.
 */
const TURNS = 4;

/** What every row is told alike. */
type RowShare = Pick<
  BoardRowProps,
  | ("firstDay" | "dayCount" | "frozenUntilDay" | "crewPx")
  | ("selectedId" | "pickedIds" | "partnerId" | "isMoving" | "canDrag")
  | ("onSelect" | "onPick" | "onPoint" | "onCellFocus" | "onCellPress" | "onDrop")
>;

export interface BoardSheetProps extends RowShare {
  /** What scrolls. */
  root: { current: HTMLElement | null };
  todayDay?: number;
  dayHours?: BoardHeadProps["dayHours"];
  zoom: Zoom;
  span: DaySpan;
  rows: readonly (Pick<BoardRowProps, "crew" | "blocks" | "chunks"> & { lanes: number })[];
  /** As from `topsOf`. */
  tops: readonly number[];
  cursorRow: number;
  cursorDay: number;
  /** What lies around the view is drawn while nobody scrolls. */
  isAhead: boolean;
}

/** Head, days and rows of the board, as far as they are in view: all that is drawn anew while it scrolls. */
export const BoardSheet = memo(function BoardSheet(props: BoardSheetProps) {
  const { root, firstDay, dayCount, todayDay, frozenUntilDay, dayHours, zoom, span, rows, tops, crewPx } =
    props;
  const { locale } = useWords();
  const { dayPx, rowPx, chunkDays } = ZOOMS[zoom];
  const sheet = useRef<HTMLDivElement>(null);
  const view = useView(sheet, (dayPx * chunkDays) / TURNS);
  const turns = Array.from({ length: TURNS }, (_, turn) =>
    rangeIn(
      view.left,
      view.width - crewPx,
      dayPx,
      dayCount,
      chunkDays,
      1 + Math.floor((turn * chunkDays) / TURNS),
    ),
  );
  const days = turns[0]!;
  const inView = useRowsInTurn(
    rowsIn(tops, view.top - SPARE_PX, view.top + view.height - HEAD_PX + SPARE_PX),
  );
  const ahead = useReach(
    root,
    { fromDay: days.from, toDay: days.to, fromRow: inView.from, toRow: inView.to },
    dayCount,
    rows.length,
    zoom,
    props.isAhead,
  );
  // The row with the cursor stays, or the Tab key would find no way in.
  const rowsDrawn = rows.flatMap((shown, row) => {
    const isInView = row === props.cursorRow || (row >= inView.from && row < inView.to);
    const drawn = rowDays(isInView, turns[row % TURNS]!, row, ahead);
    return drawn ? { ...shown, ...drawn, row, topPx: tops[row] ?? 0, heightPx: shown.lanes * rowPx } : [];
  });
  const daysDrawn = rowDays(true, days, ahead?.fromRow ?? 0, ahead) ?? days;
  return (
    <div
      ref={sheet}
      className="ui-board-sheet"
      style={{ width: crewPx + dayCount * dayPx, height: HEAD_PX + (tops.at(-1) ?? 0) }}
    >
      <BoardHead
        {...{ firstDay, dayCount, dayPx, zoom, span, todayDay, frozenUntilDay, dayHours, locale }}
        from={daysDrawn.from}
        to={daysDrawn.to}
      />
      <Backdrop {...{ firstDay, dayPx, todayDay, frozenUntilDay }} />
      <CrewNames crewPx={crewPx} rows={rowsDrawn} heightPx={tops.at(-1) ?? 0} />
      {rowsDrawn.map(({ crew, blocks, chunks, row, topPx, heightPx, from, to }) => (
        <BoardRow
          key={crew.id}
          crew={crew}
          row={row}
          topPx={HEAD_PX + topPx}
          lanePx={rowPx}
          heightPx={heightPx}
          dayPx={dayPx}
          crewPx={crewPx}
          dayCount={dayCount}
          from={from}
          to={to}
          firstDay={firstDay}
          frozenUntilDay={frozenUntilDay}
          blocks={blocks}
          chunks={chunks}
          selectedId={props.selectedId}
          pickedIds={props.pickedIds}
          partnerId={props.partnerId}
          cursorDay={props.cursorRow === row ? props.cursorDay : undefined}
          isMoving={props.isMoving}
          canDrag={props.canDrag}
          locale={locale}
          onSelect={props.onSelect}
          onPick={props.onPick}
          onPoint={props.onPoint}
          onCellFocus={props.onCellFocus}
          onCellPress={props.onCellPress}
          onDrop={props.onDrop}
        />
      ))}
    </div>
  );
});

/**
 * The rows in view, with a few new ones at a time: a fast scroll down begins the drawing anew before it is done, and all
 * that came meanwhile would be one long task.
 */
function useRowsInTurn(inView: Stretch): Stretch {
  const [shown, setShown] = useState(inView);
  const { from, to } = inView;
  useEffect(() => {
    const next = nextRows(shown, { from, to });
    if (next !== shown) startTransition(() => setShown(next));
  }, [shown, from, to]);
  return shown;
}

interface View {
  left: number;
  top: number;
  width: number;
  height: number;
}

/**
 * What of the board is in view, in coarse steps: within a step nothing needs to be drawn anew, so scrolling
 * costs a render only every `stepPx` across and every `SPARE_PX` down.
 */
function useView(sheet: { current: HTMLElement | null }, stepPx: number): View {
  const [view, setView] = useState<View>({ left: 0, top: 0, width: 1200, height: 700 });
  useLayoutEffect(() => {
    // What scrolls is around it, and has no ref yet when this runs first.
    const element = sheet.current?.parentElement;
    if (!element) return;
    let frame = 0;
    const look = (): void => {
      const next: View = {
        left: Math.floor(element.scrollLeft / stepPx) * stepPx,
        top: Math.floor(element.scrollTop / SPARE_PX) * SPARE_PX,
        width: element.clientWidth + stepPx,
        height: element.clientHeight + SPARE_PX,
      };
      setView((now) => (sameView(now, next) ? now : next));
    };
    const soon = (): void => {
      if (frame !== 0) return;
      frame = requestAnimationFrame(() => {
        frame = 0;
        // Drawn in short turns between frames, ahead of what is in view: a long one would hold up the scrolling.
        startTransition(look);
      });
    };
    look();
    element.addEventListener("scroll", soon, { passive: true });
    const observer = new ResizeObserver(soon);
    observer.observe(element);
    return () => {
      element.removeEventListener("scroll", soon);
      observer.disconnect();
      cancelAnimationFrame(frame);
    };
  }, [sheet, stepPx]);
  return view;
}

function sameView(a: View, b: View): boolean {
  return a.left === b.left && a.top === b.top && a.width === b.width && a.height === b.height;
}
