"use client";

import Link from "next/link";
import { useRouter } from "next/navigation";
import { type ReactNode, useEffect, useState } from "react";
import { ask } from "@/app/_client/ask";
import { Button } from "@/app/_ui/Button";
import {
  formatAmount,
  formatClock,
  formatCount,
  formatDate,
  formatDaysLate,
  formatHours,
} from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import type { BoardVisit } from "@/app/_ui/PlanBoard";
import { StateMark } from "@/app/_ui/StateMark";
import { useToast } from "@/app/_ui/Toast";
import { CLASS_WORDS, FACTOR_LOOK } from "@/app/_ui/weather/factors";
import type { VisitView } from "@/db/queries/planViews";
import type { CostChange, NamedVisit } from "@/lib/programme";
import type { Problem } from "@/lib/result";
import { pin as pinVisits } from "./actions";
import { signed } from "./EffectShown";

export interface VisitPanelProps {
  planId: number;
  revision: number;
  visit: BoardVisit;
  mayEdit: boolean;
  frozen: boolean;
  onMove: () => void;
  /** Choose the new place on the board itself. */
  onPick: () => void;
  onSelect: (id: string | undefined) => void;
}

/** One visit: where, who, when, how long, with what, in what weather, for which promise; and what may be done. */
export function VisitPanel(props: VisitPanelProps) {
  const { planId, revision, visit, mayEdit, frozen, onMove, onPick, onSelect } = props;
  const router = useRouter();
  const toast = useToast();
  const [view, setView] = useState<VisitView>();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [isPinning, setIsPinning] = useState(false);

  useEffect(() => {
    let isCurrent = true;
    ask<VisitView>("/plan/visit", { plan: planId, visit: visit.id }).then((answer) => {
      if (!isCurrent) return;
      if (answer.ok) setView(answer.value);
      else setProblems(answer.problems);
    });
    return () => {
      isCurrent = false;
    };
  }, [planId, visit.id]);

  async function pin(): Promise<void> {
    setIsPinning(true);
    const answer = await pinVisits({ planId, revision, visitIds: [visit.id], isPinned: !visit.isPinned });
    setIsPinning(false);
    const problem = answer.ok ? undefined : answer.problems[0];
    toast(
      problem
        ? { kind: "problem", text: `${problem.message} ${problem.remedy}` }
        : {
            kind: "good",
            text: visit.isPinned
              ? "Free: the next search may move it."
              : "Pinned: the next search leaves it here.",
          },
    );
    router.refresh();
  }

  const isPlaced = visit.crewId !== null;
  // What is done stays where it was; the search knows it no more.
  const mayMove = mayEdit && !view?.doneOn;
  return (
    <div className="grid gap-4">
      {problems.map((p) => (
        <Notice key={p.message} kind="problem" announce title={p.message}>
          {p.remedy}
        </Notice>
      ))}
      {isPlaced ? null : (
        <Notice kind="hold" title={`Not placed: ${visit.rule}`}>
          {visit.detail}
        </Notice>
      )}
      {view ? (
        <Facts view={view} visit={visit} onSelect={onSelect} />
      ) : (
        <FactsComing failed={problems.length > 0} />
      )}
      {mayMove ? (
        <div className="flex flex-wrap gap-2">
          <Button kind="primary" onClick={onMove} disabled={frozen}>
            Move …
          </Button>
          <Button onClick={onPick} disabled={frozen}>
            Choose on the board
          </Button>
          {isPlaced ? (
            <Button glyph="pinned" onClick={pin} busy={isPinning} aria-pressed={visit.isPinned}>
              {visit.isPinned ? "Unpin" : "Pin"}
            </Button>
          ) : null}
        </div>
      ) : null}
      {mayMove && frozen ? (
        <p className="text-quiet">It lies in the frozen days and cannot be moved.</p>
      ) : null}
      {mayMove ? <WhyHere planId={planId} visitId={visit.id} isPlaced={isPlaced} /> : null}
      <p className="text-quiet">
        A planning aid: hours within the planning limits are no leave to climb. The crew on site decides;
        local rules, the site owner and the makers' instructions come first.
      </p>
    </div>
  );
}

/** Keeps the room that the facts will take. */
function FactsComing({ failed }: { failed: boolean }) {
  return failed ? null : (
    <div className="min-h-96" aria-busy="true">
      <span className="ui-spinner" aria-hidden="true" /> Reading the visit
    </div>
  );
}

function Facts({
  view,
  visit,
  onSelect,
}: {
  view: VisitView;
  visit: BoardVisit;
  onSelect: VisitPanelProps["onSelect"];
}) {
  const { visit: v, kit, finish } = view;
  const facts: [string, ReactNode][] = [
    [
      "Site",
      <Link
        key="s"
        href={`/sites/${encodeURIComponent(v.siteCode)}`}
      >{`${v.siteCode} ${view.siteName}`}</Link>,
    ],
    [
      "Hop",
      <>
        <Link key="h" href={`/hops/${encodeURIComponent(v.hopCode)}`}>
          {v.hopCode}
        </Link>
        , {v.side} end
      </>,
    ],
    ["Work", v.kind],
    ["Crew", v.crewCode ? `${v.crewCode} ${view.crewName ?? ""}` : "none"],
  ];
  if (v.startOn) {
    const end =
      v.endOn === v.startOn
        ? formatClock(v.endMin)
        : `${formatDate(v.endOn, "weekday")} ${formatClock(v.endMin)}`;
    facts.push([
      "When",
      `${formatDate(v.startOn, "full")}, ${formatClock(v.startMin)} to ${end} (${view.zone})`,
    ]);
  }
  facts.push(
    ["On site with set-up, P50", formatHours(view.p50Min ?? v.durationMin)],
    ["Work, P80", view.p80Min === null ? "not estimated" : formatHours(view.p80Min)],
    [
      "Weather on top, P80",
      !v.startOn
        ? "–"
        : v.riskMin > 0
          ? `${formatHours(v.riskMin)}, by past years`
          : view.weather
            ? "none: inside the forecast"
            : "none",
    ],
    ["Promise", view.promisedOn ? formatDate(view.promisedOn, "full") : "none"],
    [
      "Hop ends",
      finish?.finishOn
        ? `${formatDate(finish.finishOn, "weekday")}${finish.daysLate === undefined ? "" : `, ${formatDaysLate(finish.daysLate)}`}`
        : "not planned to its end",
    ],
    [
      "Site open",
      `${formatClock(view.access.fromMin)} to ${formatClock(view.access.toMin)}${view.access.noticeDays > 0 ? `, ${formatCount(view.access.noticeDays, "day")} notice` : ""}`,
    ],
  );
  if (view.doneOn) facts.push(["Reported done", formatDate(view.doneOn, "full")]);
  return (
    <>
      <dl className="grid grid-cols-[9rem_minmax(0,1fr)] gap-x-3 gap-y-1">
        {facts.map(([term, words]) => (
          <div key={term} className="contents">
            <dt className="text-quiet">{term}</dt>
            <dd className="m-0">{words}</dd>
          </div>
        ))}
      </dl>
      {visit.togetherId ? (
        <Button size="small" onClick={() => onSelect(visit.togetherId)}>
          Show the other end
        </Button>
      ) : null}
      {view.weather ? <DayHours weather={view.weather} visit={view.visit} /> : null}
      {kit ? (
        <section className="grid gap-1" aria-label="Kit">
          <h3>Kit</h3>
          <p>
            <StateMark
              state={view.shortItems.length > 0 ? "short" : kit.state === "issued" ? "done" : "planned"}
            >
              {view.shortItems.length > 0
                ? `short of ${formatCount(view.shortItems.length, "item")}`
                : kit.state}
            </StateMark>{" "}
            Picked {formatDate(kit.pickOn, "weekday")} at {kit.placeCode}
            {v.kitReadyOn ? `, whole from ${formatDate(v.kitReadyOn, "weekday")}` : ""}.{" "}
            <Link href={`/kits/${encodeURIComponent(v.visitId)}`}>Pick list</Link>
          </p>
          {view.shortItems.length > 0 ? (
            <ul>
              {view.shortItems.map((i) => (
                <li key={`${i.itemCode}${i.name}`}>
                  <Link href={`/stock/items/${encodeURIComponent(i.itemCode)}`}>{i.itemCode}</Link> lacks{" "}
                  {formatAmount(i.shortC / 100, i.unit)}; an order takes {formatCount(i.leadTimeDays, "day")}
                </li>
              ))}
            </ul>
          ) : null}
        </section>
      ) : null}
    </>
  );
}

/** The site's open hours of the visit's day, hour by hour: a sign and a letter, never colour alone. */
function DayHours({
  weather,
  visit,
}: {
  weather: NonNullable<VisitView["weather"]>;
  visit: VisitView["visit"];
}) {
  const { day, workClass } = weather;
  return (
    <section className="grid gap-1" aria-label="Hours of the day">
      <h3>Hours within the planning limits</h3>
      <p>
        {CLASS_WORDS[workClass]}: {day.metH} of {day.ofH} h
        {day.factor === "none" ? "" : `; ${FACTOR_LOOK[day.factor].word} takes most of the others`}.
        Underlined: the hours of the visit.
      </p>
      <ol className="flex flex-wrap gap-1 list-none p-0 m-0">
        {day.hours.map((h) => {
          const isOwn = h.hour * 60 < (visit.endMin ?? 0) && (h.hour + 1) * 60 > (visit.startMin ?? 1440);
          const words = h.isMet ? "limits met" : FACTOR_LOOK[h.factor].word;
          return (
            <li
              key={h.hour}
              className="grid justify-items-center gap-0.5 pb-1 text-sm border-b-2"
              style={{ borderColor: isOwn ? "currentColor" : "transparent" }}
              title={`${h.hour}:00 ${words}`}
            >
              <span className="text-quiet">{String(h.hour).padStart(2, "0")}</span>
              <span className="ui-tag" data-tone={h.isMet ? "good" : "problem"}>
                {h.isMet ? "ok" : FACTOR_LOOK[h.factor].letter}
                <span className="sr-only">{words}</span>
              </span>
            </li>
          );
        })}
      </ol>
    </section>
  );
}

interface Why {
  places: { visit: NamedVisit; other?: NamedVisit; total: number; changes: CostChange[] }[];
  impossible: number;
  bindingItem?: string;
}

/** The cheapest other places and what each would change. On demand: it takes the server a moment. */
function WhyHere({ planId, visitId, isPlaced }: { planId: number; visitId: string; isPlaced: boolean }) {
  const [why, setWhy] = useState<Why>();
  const [problem, setProblem] = useState<Problem>();
  const [isAsking, setIsAsking] = useState(false);

  async function look(): Promise<void> {
    setIsAsking(true);
    const answer = await ask<Why>("/plan/why", { plan: planId, visit: visitId });
    setIsAsking(false);
    if (answer.ok) setWhy(answer.value);
    else setProblem(answer.problems[0]);
  }

  return (
    <section className="grid gap-2" aria-label="Why here">
      <h3>{isPlaced ? "Why here" : "Where it could go"}</h3>
      {why ? null : (
        <div>
          <Button onClick={look} busy={isAsking}>
            Try every other crew and day
          </Button>
        </div>
      )}
      <div aria-live="polite" className="grid gap-2">
        {problem ? (
          <Notice kind="problem" title={problem.message}>
            {problem.remedy}
          </Notice>
        ) : null}
        {why ? (
          <>
            {why.bindingItem ? (
              <p>
                Its kit waits longest for{" "}
                <Link href={`/stock/items/${encodeURIComponent(why.bindingItem)}`}>{why.bindingItem}</Link>.
              </p>
            ) : null}
            {why.places.length === 0 ? (
              <p>No other crew and day holds it with everything else staying where it is.</p>
            ) : (
              <ul className="grid gap-2 list-none p-0 m-0">
                {why.places.map((p) => (
                  <li key={`${p.visit.crewCode}${p.visit.startOn}`}>
                    <strong>
                      {p.visit.crewCode}, {formatDate(p.visit.startOn, "weekday")}{" "}
                      {formatClock(p.visit.startMin)}
                    </strong>
                    {p.other ? ` with ${p.other.crewCode} at the other end` : ""}
                    {p.total > 0 ? ": costs more" : ": costs less"}
                    <br />
                    <span className="text-quiet">
                      {p.changes.length === 0
                        ? "no term changes by more than rounding"
                        : p.changes
                            .map((c) => `${c.label} ${signed(c.after - c.before)} ${c.unit}`)
                            .join("; ")}
                    </span>
                  </li>
                ))}
              </ul>
            )}
            <p className="text-quiet">
              {formatCount(why.impossible, "crew day", "crew days")} hold no place for it. Everything else
              stays where it is in these trials.
            </p>
          </>
        ) : null}
      </div>
    </section>
  );
}
