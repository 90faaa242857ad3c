"use client";

import { useRouter } from "next/navigation";
import { useCallback, useEffect, useMemo, useState } from "react";
import { Dialog } from "@/app/_ui/Dialog";
import { Panel } from "@/app/_ui/Panel";
import { PlanBoard, type PlanBoardProps, type Zoom } from "@/app/_ui/PlanBoard";
import { useToast } from "@/app/_ui/Toast";
import { useMedia } from "@/app/_ui/useMedia";
import { addDays, type CalendarDate } from "@/lib/time";
import { takeBack } from "./actions";
import { keepInAddress } from "./ask";
import { crewsFromJson, visitsFromJson } from "./flatBoard";
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
}

/** The board with the visit that one looks at beside it; on narrow screens the visit comes as a sheet. */
export function PlanDesk(props: PlanDeskProps) {
  const { planId, revision, state, firstDay, dayCount, crewsJson, visitsJson, mayEdit } = props;
  const crews = useMemo(() => crewsFromJson(crewsJson), [crewsJson]);
  const visits = useMemo(() => visitsFromJson(visitsJson), [visitsJson]);
  const router = useRouter();
  const toast = useToast();
  const [visitId, setVisitId] = useState(props.visitId);
  const [move, setMove] = useState<MoveWanted>();
  const [pickingId, setPickingId] = useState<string>();
  const isNarrow = useMedia("(max-width: 72rem)");

  const select = useCallback((id: string | undefined) => {
    setVisitId(id);
    keepInAddress("visit", id);
  }, []);
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

  const selected = visits.find((v) => v.id === visitId);
  const panel = selected ? (
    <VisitPanel
      key={`${planId} ${revision} ${selected.id}`}
      planId={planId}
      revision={revision}
      visit={selected}
      mayEdit={mayEdit}
      frozen={selected.crewId !== null && selected.startDay < props.frozenUntilDay}
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

  function onMoved(done: { planId: number; revision: number }): void {
    setMove(undefined);
    const isNew = done.planId !== planId;
    toast({
      kind: "good",
      text: isNew
        ? `The move is in draft ${done.planId}. The plan in force is as it was.`
        : `The move is in draft ${done.planId}.`,
      action: {
        label: "Take it back",
        run: async () => {
          const answer = await takeBack({ planId: done.planId, revision: done.revision });
          const problem = answer.ok ? undefined : answer.problems[0];
          toast(
            problem
              ? { kind: "problem", text: `${problem.message} ${problem.remedy}` }
              : { kind: "good", text: "Taken back." },
          );
          router.refresh();
        },
      },
    });
    if (isNew) router.push(`/plan?plan=${done.planId}&visit=${encodeURIComponent(move?.visitId ?? "")}`);
    else router.refresh();
  }

  return (
    <div className={isNarrow || !panel ? "grid gap-4" : "grid gap-4 grid-cols-[minmax(0,1fr)_24rem]"}>
      <Panel flush className="min-w-0">
        <PlanBoard
          label={`Plan ${planId}, ${state}`}
          firstDay={firstDay}
          dayCount={dayCount}
          todayDay={props.todayDay}
          frozenUntilDay={props.frozenUntilDay}
          crews={crews}
          visits={visits}
          dayHours={props.dayHours}
          selectedId={visitId}
          onSelect={select}
          onMove={mayEdit ? drop : undefined}
          movingId={pickingId}
          onCancelMove={() => setPickingId(undefined)}
          initialZoom={props.zoom}
          onZoom={keepZoom}
        />
      </Panel>
      {isNarrow ? (
        <Dialog
          open={panel !== null && move === undefined && pickingId === undefined}
          onClose={() => select(undefined)}
          title={selected ? `${selected.hopCode} at ${selected.siteCode}` : ""}
        >
          {panel}
        </Dialog>
      ) : panel ? (
        <aside aria-label="The visit" className="min-w-0">
          <Panel title={`${selected?.hopCode} at ${selected?.siteCode}`}>{panel}</Panel>
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
          onMoved={onMoved}
          onStale={() => {
            setMove(undefined);
            router.refresh();
          }}
        />
      ) : null}
    </div>
  );
}
