/** Where each hop stands against its promise, and the programme's progress over time. */
import type { Acceptance } from "@/lib/acceptance";
import { english, phrase } from "@/lib/phrase";
import type { EndSide, Gate, Hop } from "@/lib/site";
import { addDays, type CalendarDate, daysBetween, weekdayOf } from "@/lib/time";
import { OPEN_GATE, openGateWords } from "./gates";
import { noCoordinateWords } from "./missing";
import { lastOpening, type ShutGate, shutGates } from "./shutGates";
import { parseVisitId, SIDES, visitIdOf } from "./visits";

/** `to accept`: the work is done, readings are missing or off. `late` goes before what else may be said of a hop. */
export type HopState = "done" | "to accept" | "on promise" | "at risk" | "late" | "held" | "not planned";

/** How far a hop's acceptance is; a hop without any reading has no entry. */
export interface HopAcceptance {
  state: Acceptance["state"];
  acceptedOn?: CalendarDate;
  /** What is missing or off, in words. */
  lacking: string;
  /** Ids of revisits that nobody has reported done. */
  openRevisits: readonly string[];
}

export interface PlannedVisitTimes {
  visitId: string;
  hopCode: string;
  startOn: CalendarDate | null;
  endOn: CalendarDate | null;
  /** Minutes between P50 and P80 by past weather. */
  riskMin: number;
  unplacedRule: string | null;
  unplacedDetail: string | null;
  /** A revisit that was taken back since the plan was made: nothing is left to do. */
  isWithdrawn?: boolean;
  /** That it was reported on hold since the plan was made, by whom and why. */
  hold?: { by: string; reason: string };
}

/** When a hop ends by simulation of the plan in force (docs/methods/risk.md). */
export interface SimulatedFinish {
  p50On: CalendarDate;
  p80On: CalendarDate;
  /** Share of runs in which the promise is met; undefined = no promise. */
  promiseMetShare?: number;
}

export interface HopProgress {
  hopCode: string;
  state: HopState;
  /** Where it stands by the plan alone, its promise passed or not. */
  byPlan: HopState;
  promisedOn?: CalendarDate;
  doneOn?: CalendarDate;
  /** Day of the alignment by the plan in force. */
  plannedOn?: CalendarDate;
  /** Not later in one run of two by the simulation; undefined until the plan was simulated. */
  p50On?: CalendarDate;
  /**
   * Not later in four runs of five by the simulation. Until there is one: the planned day and the weather that one year
   * in five brings to the hop's own visits.
   */
  p80On?: CalendarDate;
  promiseMetShare?: number;
  /**
   * Planned (or done) against promise, days, a gate that opens later counted as the plan's end; positive = late. Of a hop
   * that is not done when its promise has passed at least the days since.
   */
  daysLate?: number;
  /** Of a hop still to do: gates that are shut when a visit is planned. */
  shutGates?: readonly ShutGate[];
  /** What holds it, in words. */
  heldBy?: string;
}

/** Minutes of a usual working day, to turn weather risk into days. Common practice: ten hours. */
const WORKDAY_MIN = 600;

/** What may hold a hop besides the reasons of the plan (lib/schedule/reasons.ts), with places: a screen says them in its language. */
export const HELD_BY = {
  gateDatedSince: "held by an open gate when planned; dated or met since, so a new plan can place it",
  designMendedSince: "held by a design check when planned; mended since, so a new plan can place it",
  coordinateSince: "held by a missing coordinate when planned; given since, so a new plan can place it",
  reportedHold: "put on hold by {{name}}: {{reason}}",
  revisitUnplanned: "revisit not in the plan yet: {{lacking}}",
  noReading: "no acceptance reading yet",
  notAccepted: "work done, readings missing or failed, no revisit planned: {{lacking}}",
  endMissing: "an end is missing in the design data",
} as const;

/** Rules that stop a visit itself; other visits wait for those that it stops. */
const OWN_STOPS: ReadonlySet<string | null> = new Set(["gate", "coordinate", "design check"]);

/** What held a visit when planned and does so no more. */
const LIFTED: ReadonlySet<string | null | undefined> = new Set([
  HELD_BY.gateDatedSince,
  HELD_BY.designMendedSince,
  HELD_BY.coordinateSince,
]);

/** How a hop's design stands now; asked for hops that a plan keeps out by it, and for those that no plan has seen. */
export interface DesignNow {
  /** The hop goes from nowhere or to nowhere, so that nothing can be taken off. */
  lacksEnd?: boolean;
  /** What stops the hop, as a new plan would say it (`designStops`); undefined = no check fails. */
  stop?: string;
  /** Sites of its ends that have no coordinate. */
  withoutCoordinate: readonly { side: EndSide; siteCode: string }[];
}

/**
 * Why a visit has no place, as things stand: a plan keeps what stopped a visit when the plan was made, and a gate may
 * have been dated, met or opened since, the design mended, a coordinate given.
 *
 * @param gates those of the visit's hop
 * @param design undefined = not known: what the plan says of it stands
 */
export function reasonNow(
  visit: Pick<PlannedVisitTimes, "visitId" | "unplacedRule" | "unplacedDetail">,
  gates: readonly Gate[],
  design?: DesignNow,
): string | null {
  const kept = visit.unplacedDetail ?? visit.unplacedRule;
  const { kind, side } = parseVisitId(visit.visitId) ?? {};
  // An install needs its own end only, everything else both (problem.ts holds visits by the same rule).
  const concerns = (of: EndSide | undefined) => kind !== "install" || of === undefined || of === side;
  const open = gates.find((g) => g.state === "open" && concerns(g.side));
  if (visit.unplacedRule === "gate" && kept?.includes(OPEN_GATE))
    return open ? openGateWords(open) : HELD_BY.gateDatedSince;
  const isByDesign = visit.unplacedRule === "design check" || visit.unplacedRule === "coordinate";
  if (!isByDesign || !design) return kept;
  if (design.stop) return design.stop;
  if (open) return openGateWords(open);
  const nowhere = design.withoutCoordinate.find((site) => concerns(site.side));
  if (nowhere) return noCoordinateWords(nowhere.siteCode);
  return visit.unplacedRule === "coordinate" ? HELD_BY.coordinateSince : HELD_BY.designMendedSince;
}

/** @param today a promise that lies before it is missed, whatever the plan says, until the hop is accepted */
export function hopProgress(
  hops: readonly HopInProgress[],
  visits: readonly PlannedVisitTimes[],
  done: ReadonlyMap<string, CalendarDate>,
  today: CalendarDate,
  simulated: ReadonlyMap<string, SimulatedFinish> = new Map(),
  acceptance: ReadonlyMap<string, HopAcceptance> = new Map(),
): HopProgress[] {
  const byHop = new Map<string, PlannedVisitTimes[]>();
  for (const v of visits) if (!v.isWithdrawn) byHop.set(v.hopCode, [...(byHop.get(v.hopCode) ?? []), v]);
  return hops.map((hop) => {
    const of = acceptance.get(hop.code);
    const byPlan = progressOf(hop, byHop.get(hop.code) ?? [], done, simulated.get(hop.code), of);
    return pastPromise({ ...byPlan, byPlan: byPlan.state }, today);
  });
}

/** No run keeps a promise that has passed. */
function pastPromise(hop: HopProgress, today: CalendarDate): HopProgress {
  const { state, promisedOn, heldBy } = hop;
  if (state === "done" || promisedOn === undefined || promisedOn >= today) return hop;
  const daysLate = Math.max(hop.daysLate ?? 0, daysBetween(promisedOn, today));
  return {
    ...hop,
    state: "late",
    daysLate,
    promiseMetShare: 0,
    ...(state === "to accept" && {
      heldBy: english(phrase(HELD_BY.notAccepted, { lacking: heldBy! })),
    }),
  };
}

type HopInProgress = Pick<Hop, "code" | "promisedOn" | "gates" | "acceptance"> & { design?: DesignNow };

function progressOf(
  hop: HopInProgress,
  visits: readonly PlannedVisitTimes[],
  done: ReadonlyMap<string, CalendarDate>,
  simulated: SimulatedFinish | undefined,
  acceptance: HopAcceptance | undefined,
): Omit<HopProgress, "byPlan"> {
  const base = { hopCode: hop.code, promisedOn: hop.promisedOn };
  const openRevisits = acceptance?.openRevisits ?? [];
  const worked = finishingVisits(hop, visits).map((id) => done.get(id));
  if (worked.every((on) => on !== undefined) && openRevisits.length === 0) {
    const workedOn = worked.reduce((a, b) => (a > b ? a : b));
    return { ...base, ...standing(hop, workedOn, acceptance) };
  }
  const shut = shutGates(
    visits.filter((v) => !done.has(v.visitId)),
    hop.gates,
  );
  const toDo = { ...base, shutGates: shut };
  const unplanned = openRevisits.find((id) => !visits.some((v) => v.visitId === id));
  if (unplanned) {
    return {
      ...toDo,
      state: "not planned",
      heldBy: english(phrase(HELD_BY.revisitUnplanned, { lacking: acceptance!.lacking })),
    };
  }
  const onHold = visits.find((v) => v.hold)?.hold;
  if (onHold)
    return {
      ...toDo,
      state: "held",
      heldBy: english(phrase(HELD_BY.reportedHold, { name: onHold.by, reason: onHold.reason })),
    };
  const allUnplaced = visits.filter((v) => v.endOn === null);
  if (allUnplaced.length > 0) {
    // One end may have been freed since: what still stops the other is named first.
    const stopped = allUnplaced.find(
      (v) => OWN_STOPS.has(v.unplacedRule) && !LIFTED.has(reasonNow(v, hop.gates, hop.design)),
    );
    const unplaced = stopped ?? allUnplaced[0]!;
    const heldBy = reasonNow(unplaced, hop.gates, hop.design) ?? undefined;
    return { ...toDo, state: LIFTED.has(heldBy) ? "not planned" : "held", heldBy };
  }
  if (visits.length === 0) {
    const heldBy = heldBeforePlan(hop);
    return { ...base, state: heldBy === undefined ? "not planned" : "held", heldBy };
  }
  const plannedOn = visits.map((v) => v.endOn!).reduce((a, b) => (a > b ? a : b));
  const ownRiskMin = visits.reduce((s, v) => s + v.riskMin, 0);
  const p80On = simulated?.p80On ?? addWorkdays(plannedOn, Math.ceil(ownRiskMin / WORKDAY_MIN));
  // No work is done before its gates open, whatever the plan believed.
  const opensOn = lastOpening(shut);
  const daysLate = lateness(opensOn && opensOn > plannedOn ? opensOn : plannedOn, hop.promisedOn);
  const state =
    daysLate !== undefined && daysLate > 0
      ? "late"
      : shut.length > 0 || (hop.promisedOn && p80On > hop.promisedOn)
        ? "at risk"
        : "on promise";
  const { p50On, promiseMetShare } = simulated ?? {};
  return { ...toDo, state, plannedOn, p50On, p80On, promiseMetShare, daysLate };
}

/** What will keep a hop out that no plan has seen yet, in the order in which a plan names it (`reasonNow`). */
function heldBeforePlan({ gates, design }: HopInProgress): string | undefined {
  if (design?.lacksEnd) return HELD_BY.endMissing;
  if (design?.stop) return design.stop;
  const gate = gates.find((g) => g.state === "open");
  if (gate) return openGateWords(gate);
  const [nowhere] = design?.withoutCoordinate ?? [];
  return nowhere && noCoordinateWords(nowhere.siteCode);
}

/** Visits with which the work on a hop ends: the alignment, the acceptance where it has its own, further parts. */
function finishingVisits(hop: HopInProgress, visits: readonly PlannedVisitTimes[]): string[] {
  const kinds =
    hop.acceptance === "own visit" ? (["alignment", "acceptance"] as const) : (["alignment"] as const);
  const furtherParts = visits.map((v) => v.visitId).filter((id) => (parseVisitId(id)?.part ?? 1) > 1);
  return [...kinds.flatMap((kind) => SIDES.map((side) => visitIdOf(hop.code, side, kind))), ...furtherParts];
}

/** A hop whose work is done: accepted, or waiting for readings. */
function standing(
  hop: HopInProgress,
  workedOn: CalendarDate,
  acceptance: HopAcceptance | undefined,
): Pick<HopProgress, "state" | "doneOn" | "plannedOn" | "daysLate" | "heldBy"> {
  if (acceptance?.acceptedOn) {
    const doneOn = acceptance.acceptedOn > workedOn ? acceptance.acceptedOn : workedOn;
    return { state: "done", doneOn, daysLate: lateness(doneOn, hop.promisedOn) };
  }
  return {
    state: "to accept",
    plannedOn: workedOn,
    daysLate: lateness(workedOn, hop.promisedOn),
    heldBy: acceptance?.lacking ?? HELD_BY.noReading,
  };
}

const lateness = (on: CalendarDate, promised: CalendarDate | undefined) =>
  promised && daysBetween(promised, on);

/** The working day (Monday to Friday) that lies `days` working days after `date`. */
export function addWorkdays(date: CalendarDate, days: number): CalendarDate {
  let on = date;
  for (let left = days; left > 0; ) {
    on = addDays(on, 1);
    if (weekdayOf(on) <= 5) left--;
  }
  return on;
}

export interface ProgressPoint {
  on: CalendarDate;
  /** Hops finished up to and with the day; undefined after today. */
  done?: number;
  planned: number;
  promised: number;
  p50: number;
  p80: number;
}

/** One point a week (and one for today) from the first date that matters to the last. */
export function progressCurve(hops: readonly HopProgress[], today: CalendarDate): ProgressPoint[] {
  const dates = hops.flatMap((h) =>
    [h.promisedOn, h.doneOn, h.plannedOn, h.p50On, h.p80On].filter((d) => d !== undefined),
  );
  if (dates.length === 0) return [];
  const first = dates.reduce((a, b) => (a < b ? a : b), today);
  const last = dates.reduce((a, b) => (a > b ? a : b), today);
  const days = new Set<CalendarDate>([today]);
  for (let d = addDays(first, -(weekdayOf(first) - 1)); d <= addDays(last, 7); d = addDays(d, 7)) days.add(d);
  const upTo = (day: CalendarDate, pick: (h: HopProgress) => CalendarDate | undefined) =>
    hops.filter((h) => {
      const on = pick(h);
      return on !== undefined && on <= day;
    }).length;
  return [...days].sort().map((on) => ({
    on,
    done: on <= today ? upTo(on, (h) => h.doneOn) : undefined,
    planned: upTo(on, (h) => h.doneOn ?? h.plannedOn),
    promised: upTo(on, (h) => h.promisedOn),
    p50: upTo(on, (h) => h.doneOn ?? h.p50On ?? h.plannedOn),
    p80: upTo(on, (h) => h.doneOn ?? h.p80On ?? h.plannedOn),
  }));
}

/** Hops that missed their promise already: no run of any plan keeps it. */
export const missedPromises = (hops: readonly HopProgress[], today: CalendarDate): ReadonlySet<string> =>
  new Set(
    hops
      .filter((h) => h.state !== "done" && h.promisedOn !== undefined && h.promisedOn < today)
      .map((h) => h.hopCode),
  );

/** How many hops stand where: the counts of all states add up to all hops. */
export interface ProgrammeSummary {
  done: number;
  toAccept: number;
  onPromise: number;
  atRisk: number;
  late: number;
  lateDays: number;
  held: number;
  notPlanned: number;
}

/** Counts for the head of the Programme page. */
export function summary(hops: readonly HopProgress[]): ProgrammeSummary {
  const inState = (state: HopState) => hops.filter((h) => h.state === state);
  const late = inState("late");
  return {
    done: inState("done").length,
    toAccept: inState("to accept").length,
    onPromise: inState("on promise").length,
    atRisk: inState("at risk").length,
    late: late.length,
    lateDays: late.reduce((sum, h) => sum + (h.daysLate ?? 0), 0),
    held: inState("held").length,
    notPlanned: inState("not planned").length,
  };
}
