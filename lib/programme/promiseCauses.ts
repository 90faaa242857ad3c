/**
 * Why a hop misses its promise, or is likely to: by facts that a planner can act on, the most certain first. Nothing is
 * run anew here: what the plan, the gates, the kits, the certificates and the last simulation say is put side by side.
 */
import type { VisitKind } from "@/lib/schedule";
import type { EndSide, Gate } from "@/lib/site";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { type CrewGap, isGapStillSo } from "./crewGap";
import { type CrewLimit, type EndingCertificate, type FollowedDays, isStillSo } from "./crewLimit";
import { LEAST_SHARE, type SlipByName } from "./planRisk";
import type { HopProgress } from "./progress";
import type { Crew } from "./types";
import { parseVisitId } from "./visits";

/** A visit by what people call it. */
export interface CausingVisit {
  visitId: string;
  side: EndSide;
  kind: VisitKind;
  crewCode: string | null;
  startOn: CalendarDate | null;
  endOn: CalendarDate | null;
  kitReadyOn: CalendarDate | null;
  /** Of the last runs, which had it with this crew: in which share it slips past its crew's own people. */
  standIn?: { crewCode: string; share: number; limit?: CrewLimit };
  /** Of a revisit: what failed. */
  failed?: string;
}

export type PromiseCause =
  | { kind: "promise past"; on: CalendarDate }
  | { kind: "revisit"; visit: CausingVisit; failed: string }
  | { kind: "shut gate"; gate: Gate; visits: readonly CausingVisit[] }
  | { kind: "gate"; gate: Gate; opensOn: CalendarDate; visit: CausingVisit }
  | { kind: "kit"; readyOn: CalendarDate; visit: CausingVisit }
  | { kind: "certificate"; visit: CausingVisit; share: number; certificate: EndingCertificate }
  | { kind: "people"; visit: CausingVisit; share: number }
  | { kind: "short"; visit: CausingVisit; short: string }
  | { kind: "people changed"; visit: CausingVisit }
  /** The visit may be another hop's; `hops` wait for it beside its own. */
  | { kind: "crew away"; visit: CausingVisit; share: number; gap: CrewGap; hops: number }
  | { kind: "slack"; days: number; p50On?: CalendarDate }
  | { kind: "other work" };

type ShutCause = Extract<PromiseCause, { kind: "shut gate" }>;
type Wait = Extract<PromiseCause, { kind: "gate" | "kit" }>;

export interface HopToExplain {
  progress: Pick<
    HopProgress,
    "hopCode" | "promisedOn" | "plannedOn" | "p50On" | "p80On" | "daysLate" | "state" | "shutGates"
  >;
  gates: readonly Gate[];
  /** Of the plan in force, those reported done left out. */
  visits: readonly CausingVisit[];
  /** Of the last runs: visits, of whatever hop and still to do, that are not done before their crew is away. */
  slips?: readonly { visit: CausingVisit; slip: SlipByName }[];
}

/** A visit that begins so soon after its gate or kit waits for it: the days for notice and a weekend. Our own choice. */
const WAITS_WITHIN_DAYS = 7;
/** More would hide what weighs most. */
const MOST_SLIPS = 2;

/**
 * Empty for a hop that is done, and for one that begins no visit before its gate and has no promise or keeps it in four runs of five.
 * @param followed by the last runs of the plan
 */
export function promiseCauses(
  hop: HopToExplain,
  crews: ReadonlyMap<string, Crew>,
  today: CalendarDate,
  followed?: FollowedDays,
): PromiseCause[] {
  const { promisedOn, plannedOn, p50On, state } = hop.progress;
  const shut = shutCauses(hop);
  if (!promisedOn || (state !== "late" && state !== "at risk")) return shut;
  const causes: PromiseCause[] = [];
  if (promisedOn < today) causes.push({ kind: "promise past", on: promisedOn });
  causes.push(...revisitCauses(hop.visits));
  causes.push(...shut, ...lastWait(hop, shut, today));
  causes.push(...slipCauses(hop, crews, followed));
  causes.push(...hop.visits.flatMap((v) => peopleCause(v, crews, followed)).slice(0, 1));
  const days = plannedOn ? daysBetween(plannedOn, promisedOn) : undefined;
  if (state === "late" && causes.length === 0) causes.push({ kind: "other work" });
  if (state === "at risk" && shut.length === 0 && days !== undefined)
    causes.push({ kind: "slack", days, p50On });
  return causes;
}

/** Joint work stands at both ends: once is enough. */
function revisitCauses(visits: readonly CausingVisit[]): PromiseCause[] {
  const first = new Map(
    visits.flatMap((visit) => (visit.failed ? [[visit.failed, visit] as const] : [])).reverse(),
  );
  return [...first].map(([failed, visit]) => ({ kind: "revisit", visit, failed }));
}

/** As the page of one visit of the hop says it: of several that a gate holds that one. */
export const causesAtVisit = (causes: readonly PromiseCause[], visitId: string): PromiseCause[] =>
  causes.map((cause) => {
    const own = cause.kind === "shut gate" ? cause.visits.filter((v) => v.visitId === visitId) : [];
    return cause.kind === "shut gate" && own.length > 0 ? { ...cause, visits: own } : cause;
  });

function shutCauses({ progress, visits }: HopToExplain): ShutCause[] {
  const byId = new Map(visits.map((v) => [v.visitId, v]));
  return (progress.shutGates ?? []).flatMap(({ gate, visits: shut }) => {
    const held = shut.flatMap(({ visitId }) => byId.get(visitId) ?? []);
    return held.length > 0 ? [{ kind: "shut gate", gate, visits: held }] : [];
  });
}

/** That of the visit that ends last: it binds the finish. What ends before a shut gate opens binds nothing. */
function lastWait(hop: HopToExplain, shut: readonly ShutCause[], today: CalendarDate): PromiseCause[] {
  const shutUntil = shut.map(({ gate }) => gate.dueOn ?? "9999").reduce((a, b) => (a > b ? a : b), "");
  const ends = ({ endOn }: CausingVisit) => endOn ?? "";
  return hop.visits
    .filter((v) => ends(v) > shutUntil)
    .flatMap((visit) => waitOf(visit, hop.gates, today))
    .sort((a, b) => ends(b.visit).localeCompare(ends(a.visit)) || waitedFor(b).localeCompare(waitedFor(a)))
    .slice(0, 1);
}

const waitedFor = (wait: Wait): CalendarDate => (wait.kind === "gate" ? wait.opensOn : wait.readyOn);

/** The gate or kit, still to come, that an install begins soon after: the later of the two. */
function waitOf(visit: CausingVisit, gates: readonly Gate[], today: CalendarDate): Wait[] {
  const { startOn, kitReadyOn, side } = visit;
  if (startOn === null || visit.kind !== "install") return [];
  const isJustAfter = (on: CalendarDate) => {
    const days = daysBetween(on, startOn);
    return on > today && days >= 0 && days <= WAITS_WITHIN_DAYS;
  };
  const gate = gates
    .filter((g) => g.state === "dated" && g.dueOn !== undefined && (g.side === undefined || g.side === side))
    .sort((a, b) => b.dueOn!.localeCompare(a.dueOn!))
    .find((g) => isJustAfter(g.dueOn!));
  const kitOn = kitReadyOn !== null && isJustAfter(kitReadyOn) ? kitReadyOn : undefined;
  if (kitOn && !(gate && gate.dueOn! >= kitOn)) return [{ kind: "kit", readyOn: kitOn, visit }];
  return gate ? [{ kind: "gate", gate, opensOn: gate.dueOn!, visit }] : [];
}

/** Those that hold the hop most often first. What is named once is not told again. */
function slipCauses(
  { progress: { hopCode }, slips = [] }: HopToExplain,
  crews: ReadonlyMap<string, Crew>,
  followed: FollowedDays | undefined,
): PromiseCause[] {
  const ofHop = ({ hops }: SlipByName) => hops.find((h) => h.of === hopCode)?.share ?? 0;
  return slips
    .filter(({ slip }) => ofHop(slip) >= LEAST_SHARE)
    .sort((a, b) => ofHop(b.slip) - ofHop(a.slip) || a.visit.visitId.localeCompare(b.visit.visitId))
    .slice(0, MOST_SLIPS)
    .map(({ visit, slip }): PromiseCause => {
      const crew = crews.get(visit.crewCode ?? "");
      return followed && crew?.code === slip.crewCode && isGapStillSo(slip.gap, crew, visit, followed)
        ? { kind: "crew away", visit, share: slip.share, gap: slip.gap, hops: hopsBehind(slip) }
        : { kind: "people changed", visit };
    });
}

/** Hops that wait for the visit, its own aside. */
export const hopsBehind = ({ visitId, hops }: SlipByName): number =>
  hops.filter((h) => h.of !== parseVisitId(visitId)?.hopCode).length;

/**
 * Named as the runs reckoned with it, and only while that is so: a share of runs says nothing about people of whom the
 * runs did not know.
 */
function peopleCause(
  visit: CausingVisit,
  crews: ReadonlyMap<string, Crew>,
  followed: FollowedDays | undefined,
): PromiseCause[] {
  const { standIn, endOn, crewCode } = visit;
  if (!standIn || standIn.share < LEAST_SHARE || endOn === null) return [];
  const { share, limit } = standIn;
  // Of runs from before it was kept why.
  if (!limit || !followed) return [{ kind: "people", visit, share }];
  const crew = crews.get(crewCode ?? "");
  if (!crew || crewCode !== standIn.crewCode || !isStillSo(limit, crew, visit, followed))
    return [{ kind: "people changed", visit }];
  if (limit.short !== undefined) return [{ kind: "short", visit, short: limit.short }];
  const { certificate } = limit;
  return certificate
    ? [{ kind: "certificate", visit, share, certificate }]
    : [{ kind: "people", visit, share }];
}
