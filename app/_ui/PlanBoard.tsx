// biome-ignore-all lint/a11y/useSemanticElements: cells are placed freely on a sheet, which a table cannot do
// biome-ignore-all lint/a11y/useFocusableInteractive: of a grid only the cells take the focus
"use client";

import {
  type DragEvent,
  type KeyboardEvent,
  type ReactNode,
  useCallback,
  useDeferredValue,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import { addDays, type CalendarDate } from "@/lib/time";
import { Button, ButtonGroup } from "./Button";
import { BoardKey } from "./board/BoardKey";
import { BoardSheet, HEAD_PX } from "./board/BoardSheet";
import { blocksOf, cellDayOf, chunksOf, daySpanOf, type PlacedBlock, topsOf } from "./board/geometry";
import { PrintedBoard } from "./board/PrintedBoard";
import { pickedWith } from "./board/picks";
import { SETTLED_WORDS, settledOf } from "./board/settled";
import { Tray } from "./board/Tray";
import { type BoardCrew, type BoardVisit, type PickHow, ZOOMS, type Zoom } from "./board/types";
import { visitWords } from "./board/words";

import { formatDate } from "./format";
import { useWords } from "./language/LanguageProvider";
import { LiveRegion, useToast } from "./Toast";
import { useGridCursor } from "./useGridCursor";
import { useMedia } from "./useMedia";

export type {
  BoardCrew,
  BoardDay,
  BoardVisit,
  KitState,
  ReportState,
  WeatherState,
  Zoom,
} from "./board/types";

export interface PlanBoardProps {
  /** Spoken name: "Plan of 25 November". */
  label: string;
  firstDay: CalendarDate;
  dayCount: number;
  todayDay?: number;
  /** Days before this one are settled and cannot change. */
  frozenUntilDay?: number;
  crews: readonly BoardCrew[];
  /** Placed visits, and unplaced ones (`crewId: null`) for the tray. Keep the array stable. */
  visits: readonly BoardVisit[];
  dayHours?: readonly ({ metH: number; ofH: number; lost?: string } | null)[];
  selectedId?: string;
  onSelect?: (id: string | undefined) => void;
  /** Visits to be changed together: with Ctrl or Shift and a press, or Space on a cell. */
  pickedIds?: ReadonlySet<string>;
  onPick?: (picked: ReadonlySet<string>) => void;
  /** A press on a visit picks it or lets it go, without a key: for fingers. What one looks at does not count then. */
  pressPicks?: boolean;
  /** Brings a crew and day into view and puts the cursor there; a new object jumps anew. */
  jump?: { crewId: string; day?: number };
  /** More controls in the board's toolbar. */
  tools?: ReactNode;
  /** Offers moving: by drag, and by "move" mode with Enter or a press on a cell. */
  onMove?: (visitId: string, crewId: string, day: number) => void;
  /** A visit is being moved: the next cell chosen is its new place. */
  movingId?: string;
  /** M on a cell takes up the visit that is selected there, to be moved. */
  onTakeUp?: (visitId: string) => void;
  onCancelMove?: () => void;
  initialZoom?: Zoom;
  onZoom?: (zoom: Zoom) => void;
  /** CSS length of the scrolling part. */
  height?: string;
}

const NONE: ReadonlySet<string> = new Set();
/** With days narrower than this a scroll meets many visits at once: they are drawn before it comes. */
const NARROW_DAY_PX = 60;

/**
 * Crews down, days across, visits as blocks. Draws only what is in view: forty crews by half a year stays smooth.
 * Arrow keys move over crew and day, Page up and down by a week; Enter selects the visits of the cell in turn,
 * or drops the visit that is being moved; Space picks the cell's visits for a change of several; Escape lets go.
 */
export function PlanBoard(props: PlanBoardProps) {
  const words = useWords();
  const { t, locale } = words;
  const toast = useToast();
  const { label, firstDay, dayCount, todayDay, frozenUntilDay = 0, crews, visits, dayHours } = props;
  const { selectedId, onSelect, onMove, movingId, onCancelMove, onZoom, height = "min(72vh, 48rem)" } = props;
  const { pickedIds = NONE, onPick, pressPicks, jump, tools } = props;
  const [chosenZoom, setZoom] = useState<Zoom>(props.initialZoom ?? "week");
  // The button answers at once, the board a frame later.
  const zoom = useDeferredValue(chosenZoom);
  const [pointedId, setPointedId] = useState<string>();
  const [refusal, setRefusal] = useState<{ text: string; leftPx: number; topPx: number }>();
  const { dayPx, rowPx, chunkDays } = ZOOMS[zoom];
  const isPhone = useMedia("(max-width: 40rem)");
  const crewPx = isPhone ? 92 : 152;
  const root = useRef<HTMLDivElement>(null);
  const [opensAt] = useState(() => visits.find((v) => v.id === selectedId && v.crewId !== null));
  const cursor = useGridCursor(root, crews.length, dayCount, 7, {
    row: Math.max(
      0,
      crews.findIndex((crew) => crew.id === opensAt?.crewId),
    ),
    column: (opensAt && cellDayOf(opensAt)) ?? todayDay ?? 0,
  });

  const span = useMemo(() => daySpanOf(visits), [visits]);
  const byId = useMemo(() => new Map(visits.map((visit) => [visit.id, visit])), [visits]);
  const rows = useMemo(() => {
    const byCrew = new Map<string, BoardVisit[]>();
    for (const visit of visits) {
      if (visit.crewId === null) continue;
      const list = byCrew.get(visit.crewId);
      if (list) list.push(visit);
      else byCrew.set(visit.crewId, [visit]);
    }
    return crews.map((crew) => {
      const { blocks, lanes } = blocksOf(byCrew.get(crew.id) ?? [], span, dayPx);
      return { crew, blocks, lanes, chunks: chunksOf(blocks, dayCount, chunkDays) };
    });
  }, [crews, visits, span, dayPx, dayCount, chunkDays]);
  const unplaced = useMemo(() => visits.filter((visit) => visit.crewId === null), [visits]);
  const tops = useMemo(() => topsOf(rows.map((row) => row.lanes * rowPx)), [rows, rowPx]);
  const goToDay = useCallback(
    (day: number): void => {
      if (root.current) root.current.scrollLeft = Math.max(0, day * dayPx - dayPx / 2);
    },
    [dayPx],
  );
  // Opens at the selected visit or today, and stays through a change of zoom at the day one looks at.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only a change of zoom moves the view
  useLayoutEffect(() => goToDay(cursor.column), [zoom]);
  useKeepInView(root, cursor, dayPx, crewPx, tops);
  const goTo = useRef(cursor.go);
  useEffect(() => {
    goTo.current = cursor.go;
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: only a new jump jumps
  useEffect(() => {
    const row = jump ? crews.findIndex((crew) => crew.id === jump.crewId) : -1;
    if (!jump || row < 0) return;
    const day = jump.day ?? cursor.column;
    goTo.current(row, day);
    goToDay(day);
  }, [jump]);
  // Whoever chooses a new place finds the board in view and the focus where the visit stands now.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only a visit that begins to move
  useEffect(() => {
    const visit = movingId === undefined ? undefined : byId.get(movingId);
    if (!visit) return;
    root.current?.parentElement?.scrollIntoView({ block: "nearest" });
    const row = crews.findIndex((crew) => crew.id === visit.crewId);
    goTo.current(row < 0 ? cursor.row : row, cellDayOf(visit) ?? cursor.column);
  }, [movingId]);

  const firstFreeDay = (): string =>
    formatDate(addDays(firstDay, Math.min(frozenUntilDay, dayCount - 1)), "weekday", locale);
  const tellSettledDay = (): void =>
    toast({
      kind: "info",
      text: t("This day is settled and takes no visit: choose {{day}} or later.", { day: firstFreeDay() }),
    });
  const now = {
    rows,
    visits,
    selectedId,
    movingId,
    onSelect,
    onMove,
    crews,
    frozenUntilDay,
    tellSettledDay,
  };
  const live = useRef({ ...now, pickedIds, onPick });
  useEffect(() => {
    live.current = { ...now, pickedIds, onPick };
  });
  const dropRefusal = useCallback(() => setRefusal(undefined), []);
  const anchor = useRef<string>(undefined);
  const pick = useCallback((id: string, how: PickHow) => {
    const now = live.current;
    const scene = {
      visits: now.visits,
      crewIds: now.crews.map((crew) => crew.id),
      picked: now.pickedIds,
      shownId: now.selectedId,
      anchorId: anchor.current,
    };
    anchor.current = id;
    now.onPick?.(pickedWith(scene, id, how));
  }, []);
  const pickByPress = useCallback((id: string) => pick(id, "press"), [pick]);
  const select = useCallback((id: string) => live.current.onSelect?.(id), []);
  const press = useCallback((row: number, day: number) => {
    const now = live.current;
    const crew = now.crews[row];
    if (!crew) return;
    if (now.movingId && now.onMove) {
      if (day >= now.frozenUntilDay) now.onMove(now.movingId, crew.id, day);
      else now.tellSettledDay();
      return;
    }
    const here = visitsOn(now.rows[row]?.blocks ?? [], day);
    if (here.length === 0) return;
    const at = here.indexOf(now.selectedId ?? "");
    now.onSelect?.(here[(at + 1) % here.length]);
  }, []);

  const drop = useCallback((visitId: string, row: number, day: number) => {
    const { crews: all, frozenUntilDay: from, pickedIds: picked, ...tell } = live.current;
    const crew = all[row];
    if (!crew || day < from) return;
    if (picked.size === 0) tell.onSelect?.(visitId);
    tell.onMove?.(visitId, crew.id, day);
  }, []);
  const whySettled = (visit: BoardVisit): string | undefined => {
    const settled = onMove ? settledOf(visit, { frozenUntilDay, todayDay }) : undefined;
    return settled && t(SETTLED_WORDS[settled]);
  };
  /** Some visits stay where they are: whoever takes hold of one reads why, there where they look. */
  function onDragStart(event: DragEvent): void {
    setRefusal(undefined);
    const id = (event.target as HTMLElement).dataset.settled;
    const visit = id === undefined ? undefined : byId.get(id);
    if (!visit) return;
    event.preventDefault();
    setRefusal({ text: whySettled(visit) ?? "", leftPx: event.clientX, topPx: event.clientY });
  }
  /** A visit let go where no row takes it stays where it was, and whoever dragged it is told. */
  function onDragEnd(event: DragEvent): void {
    if (event.dataTransfer.dropEffect !== "none" || !(event.target as HTMLElement).draggable) return;
    toast({
      kind: "info",
      text: t("Nothing was moved: let the visit go on a crew's row, on {{day}} or later.", {
        day: firstFreeDay(),
      }),
    });
  }

  function takeUp(): void {
    const visit = byId.get(selectedId ?? "");
    if (!props.onTakeUp || !visit || movingId) return;
    const why = whySettled(visit);
    if (why) toast({ kind: "info", text: why });
    else props.onTakeUp(visit.id);
  }
  function onKeyDown(event: KeyboardEvent): void {
    if (cursor.onKey(event)) return;
    if (event.key === "Enter" && (event.target as HTMLElement).dataset.cell) {
      event.preventDefault();
      press(cursor.row, cursor.column);
    } else if (event.key === " " && (event.target as HTMLElement).dataset.cell && onPick) {
      event.preventDefault();
      onPick(toggled(pickedIds, visitsOn(rows[cursor.row]?.blocks ?? [], cursor.column)));
    } else if (event.key.toLowerCase() === "m" && !event.ctrlKey && !event.metaKey && !event.altKey) {
      if ((event.target as HTMLElement).dataset.cell) takeUp();
    } else if (event.key === "Escape") {
      if (movingId) onCancelMove?.();
      else if (pickedIds.size > 0) onPick?.(NONE);
      else onSelect?.(undefined);
    }
  }

  const selected = selectedId === undefined ? undefined : byId.get(selectedId);
  const moving = movingId === undefined ? undefined : byId.get(movingId);
  const read = byId.get(pointedId ?? "") ?? selected;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: hears of drags that began inside it; keys move by "Move …"
    <div className="ui-board-frame" onDragStart={onDragStart} onDragEnd={onDragEnd}>
      <div className="ui-toolbar ui-no-print px-4 py-3">
        <ButtonGroup label={t("Zoom")}>
          {(Object.keys(ZOOMS) as Zoom[]).map((one) => (
            <Button
              key={one}
              size="small"
              aria-pressed={chosenZoom === one}
              onClick={() => {
                setZoom(one);
                onZoom?.(one);
              }}
            >
              {one === "day" ? t("Day") : one === "week" ? t("Week") : t(one)}
            </Button>
          ))}
        </ButtonGroup>
        {todayDay === undefined ? null : (
          <Button size="small" onClick={() => goToDay(todayDay)}>
            {t("Today")}
          </Button>
        )}
        {tools}
        {moving ? (
          <div className="ui-board-moving" role="status">
            {t("Choose the new crew and day for {{hop}}", { hop: moving.hopCode })}
            <Button size="small" onClick={onCancelMove}>
              {t("Leave it")}
            </Button>
          </div>
        ) : null}
      </div>
      <div
        ref={root}
        role="grid"
        className="ui-board"
        aria-label={
          onPick
            ? t(
                "{{board}}. Arrow keys move by crew and day, Enter selects, Space picks for a change of several.",
                { board: label },
              )
            : t("{{board}}. Arrow keys move by crew and day, Enter selects.", { board: label })
        }
        aria-rowcount={crews.length + 1}
        aria-colcount={dayCount + 1}
        style={{ maxHeight: height, ["--crew" as string]: `${crewPx}px`, ["--day" as string]: `${dayPx}px` }}
        onKeyDown={onKeyDown}
      >
        <BoardSheet
          {...{
            root,
            firstDay,
            dayCount,
            todayDay,
            frozenUntilDay,
            dayHours,
            zoom,
            span,
            rows,
            tops,
            crewPx,
          }}
          {...{ selectedId, pickedIds }}
          partnerId={selected?.togetherId}
          cursorRow={cursor.row}
          cursorDay={cursor.column}
          isAhead={dayPx < NARROW_DAY_PX && !isPhone}
          isMoving={movingId !== undefined}
          canDrag={onMove !== undefined}
          onSelect={pressPicks ? pickByPress : select}
          onPick={onPick ? pick : select}
          onPoint={setPointedId}
          onCellFocus={cursor.set}
          onCellPress={press}
          onDrop={drop}
        />
      </div>
      <PrintedBoard
        {...{
          root,
          firstDay,
          dayCount,
          todayDay,
          frozenUntilDay,
          crews,
          visits,
          dayHours,
          span,
          zoom,
          crewPx,
        }}
      />
      <p className="ui-readout ui-no-print mx-4" aria-hidden="true">
        {read
          ? visitWords(read, firstDay, words)
          : t("Point at a visit, or move over the board with the arrow keys.")}
      </p>
      <LiveRegion>
        {selected ? t("Selected: {{visit}}", { visit: visitWords(selected, firstDay, words) }) : ""}
        {selected && whySettled(selected) ? `. ${whySettled(selected)}` : ""}
      </LiveRegion>
      <Refusal refusal={refusal} onGone={dropRefusal} />
      <BoardKey />
      {unplaced.length > 0 ? (
        <Tray visits={unplaced} selectedId={selectedId} onSelect={select} canDrag={onMove !== undefined} />
      ) : null}
    </div>
  );
}

/** Ids of a crew's visits that take some of a day. */
function visitsOn(blocks: readonly PlacedBlock[], day: number): string[] {
  return blocks
    .filter(({ visit }) => visit.startDay <= day && visit.endDay >= day)
    .map(({ visit }) => visit.id);
}

/** All of them in, unless they all are: then out. */
function toggled(picked: ReadonlySet<string>, ids: readonly string[]): ReadonlySet<string> {
  const next = new Set(picked);
  const areIn = ids.every((id) => next.has(id));
  for (const id of ids) {
    if (areIn) next.delete(id);
    else next.add(id);
  }
  return next;
}

const REFUSAL_MILLIS = 6000;

/** Why a visit cannot be dragged, beside the pointer; gone with the next press, key or scroll, and after a while. */
function Refusal({
  refusal,
  onGone,
}: {
  refusal: { text: string; leftPx: number; topPx: number } | undefined;
  onGone: () => void;
}) {
  useEffect(() => {
    if (!refusal) return;
    const timer = setTimeout(onGone, REFUSAL_MILLIS);
    const ends = ["pointerdown", "keydown", "scroll"] as const;
    for (const end of ends) window.addEventListener(end, onGone, { capture: true, passive: true });
    return () => {
      clearTimeout(timer);
      for (const end of ends) window.removeEventListener(end, onGone, { capture: true });
    };
  }, [refusal, onGone]);
  return (
    <div role="status" aria-live="polite">
      {refusal ? (
        <p
          className="ui-board-refusal"
          style={{
            left: `min(${refusal.leftPx}px, 100vw - 21rem)`,
            top: `min(${refusal.topPx}px, 100vh - 6rem)`,
          }}
        >
          {refusal.text}
        </p>
      ) : null}
    </div>
  );
}

/** Scrolls the cell under the cursor clear of the sticky head and the crew column. */
function useKeepInView(
  root: { current: HTMLElement | null },
  cursor: { row: number; column: number },
  dayPx: number,
  crewPx: number,
  tops: readonly number[],
): void {
  const { row, column } = cursor;
  const before = useRef({ row, column });
  useLayoutEffect(() => {
    const element = root.current;
    if (!element || (before.current.row === row && before.current.column === column)) return;
    before.current = { row, column };
    const left = column * dayPx;
    const widthPx = element.clientWidth - crewPx;
    if (left < element.scrollLeft) element.scrollLeft = left;
    else if (left + dayPx > element.scrollLeft + widthPx) element.scrollLeft = left + dayPx - widthPx;
    const top = tops[row] ?? 0;
    const bottom = tops[row + 1] ?? top;
    const heightPx = element.clientHeight - HEAD_PX;
    if (top < element.scrollTop) element.scrollTop = top;
    else if (bottom > element.scrollTop + heightPx) element.scrollTop = bottom - heightPx;
  }, [root, row, column, dayPx, crewPx, tops]);
}
