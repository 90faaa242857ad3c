"use client";

import { useRouter } from "next/navigation";
import { useCallback, useDeferredValue, useEffect, useMemo, useRef, useState } from "react";
import { keepInAddress } from "@/app/_client/keepInAddress";
import { Button } from "@/app/_ui/Button";
import { settledOf } from "@/app/_ui/board/settled";
import { Dialog } from "@/app/_ui/Dialog";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { PlanBoard, type PlanBoardProps, type Zoom } from "@/app/_ui/PlanBoard";
import { useToast } from "@/app/_ui/Toast";
import { useMedia } from "@/app/_ui/useMedia";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { type BoardFilter, countsOf, withFaint } from "./boardFilter";
import { ChangesNotice } from "./ChangesNotice";
import { EditButtons, type NamedEdit } from "./EditButtons";
import type { EditDone } from "./EffectForm";
import { FindOnBoard, type Found } from "./FindOnBoard";
import { crewsFromJson, visitsFromJson } from "./flatBoard";
import { GroupBar } from "./GroupBar";
import { GroupMoveDialog } from "./GroupMoveDialog";
import { MoveDialog, type MoveWanted } from "./MoveDialog";
import { VisitPanel } from "./VisitPanel";

export interface PlanDeskProps {
  planId: number;
  revision: number;
  state: "draft" | "in force" | "past";
  firstDay: CalendarDate;
  dayCount: number;
  todayDay?: number;
  frozenUntilDay: number;
  /** From `boardCrewsJson`. */
  crewsJson: string;
  /** From `boardVisitsJson`. */
  visitsJson: string;
  dayHours: PlanBoardProps["dayHours"];
  zoom: Zoom;
  visitId?: string;
  /** Managers and administrators of a plan that is not past. */
  mayEdit: boolean;
  /** What the planner can undo and do again. */
  undo?: NamedEdit;
  redo?: NamedEdit;
  filter?: BoardFilter;
  /** Crew to bring into view at the start. */
  crewId?: string;
}

/** Under this name a tab remembers that it just put a move into a new draft. */
const MOVED_INTO = "plan moved into";
const NONE: ReadonlySet<string> = new Set();

/** The board with the visit that one looks at beside it; on narrow screens the visit comes as a sheet. */
export function PlanDesk(props: PlanDeskProps) {
  const { t, locale } = useWords();
  const { planId, revision, state, firstDay, dayCount, crewsJson, visitsJson, mayEdit } = props;
  const crews = useMemo(() => crewsFromJson(crewsJson), [crewsJson]);
  const read = useMemo(() => visitsFromJson(visitsJson), [visitsJson]);
  const [filter, setFilter] = useState(props.filter);
  const visits = useMemo(() => withFaint(read, filter), [read, filter]);
  const filterCounts = useMemo(() => countsOf(read), [read]);
  const router = useRouter();
  const toast = useToast();
  const [visitId, setVisitId] = useState(props.visitId);
  const [move, setMove] = useState<MoveWanted>();
  const [pickingId, setPickingId] = useState<string>();
  const [picked, setPicked] = useState(NONE);
  const [pressPicks, setPressPicks] = useState(false);
  const [movesGroup, setMovesGroup] = useState(false);
  const [jump, setJump] = useState<{ crewId: string; day?: number } | undefined>(
    props.crewId ? { crewId: props.crewId } : undefined,
  );
  const desk = useRef<HTMLDivElement>(null);
  // A move made a draft: whoever made it looks for the visit at its new place, under the draft's band.
  useEffect(() => {
    if (sessionStorage.getItem(MOVED_INTO) !== String(planId)) return;
    sessionStorage.removeItem(MOVED_INTO);
    desk.current?.scrollIntoView({ block: "start" });
  }, [planId]);
  const isNarrow = useMedia("(max-width: 72rem)");

  const select = useCallback((id: string | undefined) => {
    setPicked(NONE);
    setVisitId(id);
    keepInAddress("visit", id);
  }, []);
  const refresh = useCallback(() => router.refresh(), [router]);
  const goTo = useCallback(
    ({ crewId, day, visitId: id }: Found) => {
      if (id !== undefined) select(id);
      if (crewId !== "") setJump({ crewId, day });
    },
    [select],
  );
  function show(next: BoardFilter | undefined): void {
    setFilter(next);
    keepInAddress("show", next);
  }
  const keepZoom = useCallback((zoom: Zoom) => keepInAddress("zoom", zoom), []);
  const drop = useCallback(
    (id: string, crewId: string, day: number) => {
      setPickingId(undefined);
      setMove({ visitId: id, crewCode: crewId, on: addDays(firstDay, day) });
    },
    [firstDay],
  );
  // A visit that the next plan does not have cannot stay selected.
  useEffect(() => {
    if (visitId && !visits.some((v) => v.id === visitId)) select(undefined);
  }, [visits, visitId, select]);
  const pickedVisits = useMemo(
    () => (picked.size === 0 ? [] : visits.filter((v) => picked.has(v.id))),
    [visits, picked],
  );

  // The press is answered on the board at once; the panel, which takes room from it, may follow a frame later.
  const panelId = useDeferredValue(visitId);
  const selected = visits.find((v) => v.id === panelId);
  const panel = selected ? (
    <VisitPanel
      key={`${planId} ${revision} ${selected.id}`}
      planId={planId}
      revision={revision}
      visit={selected}
      mayEdit={mayEdit}
      settled={settledOf(selected, props)}
      onMove={() =>
        setMove({
          visitId: selected.id,
          crewCode: selected.crewId ?? crews[0]?.id ?? "",
          on: addDays(firstDay, selected.crewId === null ? (props.todayDay ?? 0) : selected.startDay),
          startMin: selected.crewId === null ? undefined : selected.startMin,
        })
      }
      onPick={() => setPickingId(selected.id)}
      onSelect={select}
    />
  ) : null;

  function onMoved(done: EditDone, to?: { crewCode: string; on: CalendarDate }): void {
    const id = move?.visitId;
    setMove(undefined);
    setMovesGroup(false);
    const isNew = done.planId !== planId;
    // On a narrow screen its panel would cover the board, and with it what was moved and the way to undo it.
    if (isNarrow) select(undefined);
    toast({
      kind: "good",
      text: isNew
        ? t("The move is in draft {{plan}}. The plan in force is as it was.", { plan: String(done.planId) })
        : t("The move is in draft {{plan}}.", { plan: String(done.planId) }),
    });
    if (!isNew) {
      refresh();
      if (to) setJump({ crewId: to.crewCode, day: daysBetween(firstDay, to.on) });
      return;
    }
    const address = new URLSearchParams(window.location.search);
    address.set("plan", String(done.planId));
    if (id && !isNarrow) address.set("visit", id);
    if (to) address.set("crew", to.crewCode);
    sessionStorage.setItem(MOVED_INTO, String(done.planId));
    router.push(`/plan?${address}`, { scroll: false });
  }
  const selectedName = selected
    ? t("{{hop}} at {{site}}", { hop: selected.hopCode, site: selected.siteCode })
    : "";
  const tools = (
    <>
      {mayEdit ? (
        <>
          <EditButtons planId={planId} undo={props.undo} redo={props.redo} onDone={refresh} />
          <Button
            size="small"
            aria-pressed={pressPicks}
            onClick={() => {
              setPressPicks(!pressPicks);
              setPicked(NONE);
            }}
          >
            {t("Pick several")}
          </Button>
        </>
      ) : null}
      <FindOnBoard {...{ crews, firstDay }} visits={read} todayDay={props.todayDay} onFound={goTo} />
      <label className="ui-board-filter">
        <span>{t("Show")}</span>
        <select
          aria-label={t("Show")}
          className="ui-input"
          value={filter ?? ""}
          onChange={(event) => show((event.target.value || undefined) as BoardFilter | undefined)}
        >
          <option value="">{t("all visits")}</option>
          {filterCounts.map(({ key, label, count }) => (
            <option key={key} value={key}>
              {t(label)} ({formatNumber(count, 0, locale)})
            </option>
          ))}
        </select>
      </label>
    </>
  );

  return (
    <div
      ref={desk}
      style={{ scrollMarginTop: "5rem" }}
      className={isNarrow || !panel ? "grid gap-4" : "grid gap-4 grid-cols-[minmax(0,1fr)_24rem]"}
    >
      <Panel flush className="min-w-0">
        {mayEdit ? <ChangesNotice planId={planId} revision={revision} onRefresh={refresh} /> : null}
        {pickedVisits.length > 0 ? (
          <GroupBar
            {...{ planId, revision }}
            picked={pickedVisits}
            onMove={() => setMovesGroup(true)}
            onDone={refresh}
            onLetGo={() => {
              setPicked(NONE);
              setPressPicks(false);
            }}
          />
        ) : null}
        <PlanBoard
          label={t("Plan {{plan}}, {{state}}", { plan: String(planId), state: t(state) })}
          firstDay={firstDay}
          dayCount={dayCount}
          todayDay={props.todayDay}
          frozenUntilDay={props.frozenUntilDay}
          crews={crews}
          visits={visits}
          dayHours={props.dayHours}
          selectedId={visitId}
          onSelect={select}
          pickedIds={picked}
          onPick={mayEdit ? setPicked : undefined}
          pressPicks={pressPicks}
          jump={jump}
          tools={tools}
          onMove={mayEdit ? drop : undefined}
          movingId={pickingId}
          onTakeUp={mayEdit ? setPickingId : undefined}
          onCancelMove={() => setPickingId(undefined)}
          initialZoom={props.zoom}
          onZoom={keepZoom}
        />
      </Panel>
      {isNarrow ? (
        <Dialog
          open={panel !== null && move === undefined && pickingId === undefined}
          onClose={() => select(undefined)}
          title={selectedName}
        >
          {panel}
        </Dialog>
      ) : panel ? (
        <aside aria-label={t("The visit")} className="min-w-0">
          <Panel title={selectedName}>{panel}</Panel>
        </aside>
      ) : null}
      {move ? (
        <MoveDialog
          key={`${move.visitId} ${move.crewCode} ${move.on}`}
          planId={planId}
          revision={revision}
          isInForce={state === "in force"}
          wanted={move}
          visit={visits.find((v) => v.id === move.visitId)}
          crews={crews}
          firstDay={firstDay}
          lastDay={addDays(firstDay, dayCount - 1)}
          onClose={() => setMove(undefined)}
          onDone={onMoved}
          onRefresh={refresh}
        />
      ) : null}
      {movesGroup ? (
        <GroupMoveDialog
          {...{ planId, revision, crews }}
          isInForce={state === "in force"}
          visitIds={[...picked]}
          pinnedCount={pickedVisits.filter((v) => v.isPinned).length}
          onClose={() => setMovesGroup(false)}
          onDone={onMoved}
          onRefresh={refresh}
        />
      ) : null}
    </div>
  );
}
