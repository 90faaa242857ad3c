/**
 * Plans under a planner's hands: what a move would do, moves accepted into a draft, a draft judged before it is put
 * in force. The crews' problem takes a second or more to put together, so the last ones are kept by what they rest on.
 */

import { createHash } from "node:crypto";
import type { Db } from "@/db/open";
import { loadKeptPast } from "@/db/queries/pastWeather";
import {
  carryKits,
  copyAsDraft,
  loadCutting,
  loadPlan,
  loadPlanVisits,
  type NewPlace,
  type PlanHead,
  type PlannedVisit,
  planInForce,
  putInForce,
  replacePlannedKits,
  writePlaces,
} from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { addLogEntry } from "@/db/queries/reports";
import { kitRows } from "@/db/queries/storePlan";
import {
  type BrokenByName,
  begunVisits,
  effectOfMove,
  judgeByName,
  kitsOfPlan,
  type NamedEffect,
  type NamedMove,
  otherPlaces,
  type PreparedProgramme,
  type ProgrammeInput,
  placedFromRows,
  planFromRows,
  prepareProgramme,
  problemAgainst,
  readyKits,
  type StoredNight,
  type VisitShift,
  type WhyHereByName,
} from "@/lib/programme";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import { evaluate, type Plan, type PlanCost, type ScheduleProblem } from "@/lib/schedule";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { refreshEstimates } from "./planning";

/** A move that was accepted into a draft, as its basis keeps it: enough to take it back. */
export interface AcceptedMove {
  visitId: string;
  by: string;
  at: number;
  shifts: VisitShift[];
  /** Of the shifted visits: those that were pinned before. */
  wasPinned: string[];
  costBefore: PlanCost;
  nightsBefore: unknown;
  /** Hard rules that it broke when it was accepted. */
  broken: string[];
}

/** What a plan's basis says beyond the versions of the rules. */
export interface PlanNotes {
  /** The plan in force when it was made; null = none. */
  replaces?: number | null;
  copyOf?: number;
  frozenDays?: number;
  weeks?: number;
  seconds?: number;
  settled?: { rounds: number; corrected: number; how: string };
  moves: AcceptedMove[];
}

export function notesOf(head: PlanHead): PlanNotes {
  const basis = head.basis as Partial<PlanNotes>;
  return { ...basis, moves: basis.moves ?? [] };
}

/** Days up to this one (not with it) stay as the plan in force has them; undefined = nothing is frozen. */
export function frozenUntil(head: PlanHead): CalendarDate | undefined {
  const { frozenDays } = notesOf(head);
  return frozenDays ? addDays(head.firstDay, frozenDays) : undefined;
}

export interface OpenPlan {
  head: PlanHead;
  rows: PlannedVisit[];
  input: ProgrammeInput;
  prepared: PreparedProgramme;
  /** With the plan's own pins, and the plan in force to compare with. */
  problem: ScheduleProblem;
  plan: Plan;
}

/** The plan read back into the crews' problem as the data stand now; undefined when there is no such plan. */
export function openPlan(db: Db, planId: number, today: CalendarDate): OpenPlan | undefined {
  const head = loadPlan(db, planId);
  if (!head) return undefined;
  const rows = loadPlanVisits(db, planId);
  const { input, prepared } = prepare(db, today, remainingDays(head, today), begunVisits(rows, today));
  const inForce = planInForce(db);
  const inForceRows = inForce ? loadPlanVisits(db, inForce.id) : [];
  const problem = problemAgainst(prepared.problem, rows, inForceRows, frozenUntil(head));
  const plan = planFromRows(problem, rows, nightsOf(head, input), head.cost);
  return { head, rows, input, prepared, problem, plan };
}

function remainingDays(head: PlanHead, today: CalendarDate): number {
  return Math.max(1, head.dayCount - Math.max(0, daysBetween(head.firstDay, today)));
}

/** The search names nights by crew and day index, a hand move by crew code and date. */
function nightsOf(head: PlanHead, input: ProgrammeInput): StoredNight[] {
  const nights = (head.basis.nights ?? []) as (StoredNight | { crew: number; day: number })[];
  return nights.flatMap((n): StoredNight[] => {
    if ("crewCode" in n) return [n];
    const crew = input.crews[n.crew];
    return crew ? [{ crewCode: crew.code, on: addDays(head.firstDay, n.day) }] : [];
  });
}

interface Kept {
  key: string;
  input: ProgrammeInput;
  prepared: PreparedProgramme;
}

// Next bundles this module more than once; the process keeps one list.
const shared = globalThis as typeof globalThis & { bothendsPrepared?: Kept[] };
const KEPT_PROBLEMS = 3;

function prepare(
  db: Db,
  today: CalendarDate,
  dayCount: number,
  begun: ReadonlySet<string>,
): { input: ProgrammeInput; prepared: PreparedProgramme } {
  const loaded = loadProgrammeInput(db, { today, dayCount, frozenDays: 0 });
  const input = { ...loaded, done: new Set([...loaded.done, ...begun]), inForce: [], pinned: [] };
  const key = fingerprint(input);
  const kept = shared.bothendsPrepared ?? [];
  const known = kept.find((k) => k.key === key);
  const made = known ?? {
    key,
    input,
    prepared: prepareProgramme(input, {
      worked: refreshEstimates(db, input),
      keptPast: loadKeptPast(db, input),
    }),
  };
  shared.bothendsPrepared = [made, ...kept.filter((k) => k !== made)].slice(0, KEPT_PROBLEMS);
  return made;
}

/** Two inputs with the same fingerprint make the same problem. A forecast goes in by its head and the sum of its wind. */
function fingerprint(input: ProgrammeInput): string {
  const { weather, done, issued, ...rest } = input;
  const series = weather.map(({ forecast: f, history: _blocks, ...place }) => [
    place,
    f && [f.startsAtMillis, f.issuedAtMillis, f.hours, f.source, f.windMs.reduce(addKnown, 0)],
  ]);
  return createHash("sha1")
    .update(JSON.stringify([rest, series, [...done].sort(), [...issued].sort()]))
    .digest("base64url");
}

const addKnown = (sum: number, value: number) => sum + (Number.isNaN(value) ? 0 : value);

export const noSuchPlan = (id: number): Problem => ({
  path: "planId",
  rule: "no-such-plan",
  value: id,
  message: `There is no plan ${id}: it was discarded.`,
  remedy: "Open the plan in force, or solve anew.",
});

/** Why an edit of a plan that was read at `revision` cannot go on; undefined when it can. */
export function staleEdit(head: PlanHead | undefined, id: number, revision: number): Problem | undefined {
  if (!head) return noSuchPlan(id);
  if (head.state === "past") {
    return {
      path: "planId",
      rule: "plan-is-past",
      value: id,
      message: `Plan ${id} is past and cannot be changed.`,
      remedy: "Open the plan in force.",
    };
  }
  if (head.revision === revision) return undefined;
  const last = notesOf(head).moves.at(-1);
  const changed = last ? ` The last change: ${last.by} moved ${last.visitId}.` : "";
  return {
    path: "revision",
    rule: "changed-meanwhile",
    value: revision,
    message: `Somebody changed plan ${id} while you had it open; nothing of yours was saved.${changed}`,
    remedy: "Look at the plan as it is now, then decide again.",
  };
}

export function effectFor(db: Db, planId: number, move: NamedMove, today: CalendarDate): Result<NamedEffect> {
  const open = openPlan(db, planId, today);
  if (!open) return refused(noSuchPlan(planId));
  return effectOfMove(open.problem, open.plan, move);
}

export function otherPlacesFor(
  db: Db,
  planId: number,
  visitId: string,
  today: CalendarDate,
): Result<WhyHereByName & { bindingItem?: string }> {
  const open = openPlan(db, planId, today);
  if (!open) return refused(noSuchPlan(planId));
  const places = otherPlaces(open.problem, open.plan, visitId);
  if (!places.ok) return places;
  const ready = readyKits(open.input, open.prepared.visits, open.plan);
  return ok({ ...places.value, bindingItem: ready.get(visitId)?.bindingItem });
}

/** Hard rules that a plan breaks as the data stand now. */
export function brokenRules(open: OpenPlan): BrokenByName[] {
  return judgeByName(open.problem, open.plan);
}

export interface MoveDone {
  /** The draft that holds the move: a new one when the plan was in force. */
  planId: number;
  revision: number;
  moves: number;
}

export interface Hand {
  by: string;
  at: number;
}

/** Writes a move into the draft, or into a new draft made from the plan in force. Call inside `writing`. */
export function acceptMove(
  db: Db,
  open: OpenPlan,
  move: NamedMove,
  effect: NamedEffect,
  hand: Hand,
): Result<MoveDone> {
  const stale = staleEdit(loadPlan(db, open.head.id), open.head.id, open.head.revision);
  if (stale) return refused(stale);
  const draft = open.head.state === "draft" ? open.head : draftOf(db, open.head, hand);
  const pinnedBefore = new Set(open.rows.filter((r) => r.isPinned).map((r) => r.visitId));
  const partner = partnerOf(open.problem, move.visitId);
  const places = effect.shifts.map(
    ({ visitId, to, unplaced }): NewPlace => ({
      visitId,
      crewCode: to?.crewCode ?? null,
      startOn: to?.startOn ?? null,
      startMin: to?.startMin ?? null,
      endOn: to?.endOn ?? null,
      endMin: to?.endMin ?? null,
      riskMin: riskMin(open, visitId, to?.startOn),
      isPinned:
        to !== undefined && (visitId === move.visitId || visitId === partner || pinnedBefore.has(visitId)),
      unplacedRule: to ? null : (unplaced?.rule ?? "moved by hand"),
      unplacedDetail: to ? null : (unplaced?.detail ?? `no place beside ${move.visitId}`),
    }),
  );
  const accepted: AcceptedMove = {
    visitId: move.visitId,
    ...hand,
    shifts: effect.shifts,
    wasPinned: effect.shifts.map((s) => s.visitId).filter((id) => pinnedBefore.has(id)),
    costBefore: draft.cost,
    nightsBefore: draft.basis.nights ?? [],
    broken: effect.broken.map((b) => b.message),
  };
  const moves = [...notesOf(draft).moves, accepted];
  const basis = { ...draft.basis, nights: effect.nights, moves };
  if (!writePlaces(db, draft.id, draft.revision, places, { cost: effect.after, basis })) {
    return refused(staleEdit(loadPlan(db, draft.id), draft.id, draft.revision) ?? noSuchPlan(draft.id));
  }
  planKits(db, draft.id, open);
  addLogEntry(db, {
    at: hand.at,
    userName: hand.by,
    action: "move visit",
    subject: `plan ${draft.id}`,
    detail: { visitId: move.visitId, to: effect.shifts[0]?.to, broken: accepted.broken },
  });
  return ok({ planId: draft.id, revision: draft.revision + 1, moves: moves.length });
}

function draftOf(db: Db, head: PlanHead, hand: Hand): PlanHead {
  const id = copyAsDraft(db, head.id, {
    createdBy: hand.by,
    createdAt: hand.at,
    basis: { ...head.basis, copyOf: head.id, replaces: head.id, moves: [] },
  })!;
  return loadPlan(db, id)!;
}

function partnerOf(problem: ScheduleProblem, visitId: string): string | undefined {
  const partner = problem.visits.find((v) => v.id === visitId)?.togetherWith;
  return partner === undefined ? undefined : problem.visits[partner]?.id;
}

/** Minutes between P50 and P80 that past weather adds to a visit that starts on `on`; 0 inside the forecast. */
function riskMin({ problem, rows }: OpenPlan, visitId: string, on: CalendarDate | undefined): number {
  const visit = problem.visits.find((v) => v.id === visitId);
  if (!visit || on === undefined) return 0;
  const perH = problem.windows[visit.window]?.riskMinPerH[daysBetween(problem.firstDay, on)] ?? 0;
  const durationMin = rows.find((r) => r.visitId === visitId)?.durationMin ?? 0;
  return Math.round((perH * durationMin) / 60);
}

/** Pick days and shortages of the kits that nobody has begun follow the visits. */
function planKits(db: Db, planId: number, { input, prepared, problem }: OpenPlan): void {
  const placed = placedFromRows(problem, loadPlanVisits(db, planId));
  const kits = kitsOfPlan(input, prepared.visits, placed, loadCutting(db, planId));
  replacePlannedKits(db, planId, kitRows(kits));
}

/** Takes the last accepted move of a draft back. Call inside `writing`. */
export function takeBackMove(db: Db, open: OpenPlan, hand: Hand): Result<MoveDone> {
  const { head } = open;
  const stale = staleEdit(loadPlan(db, head.id), head.id, head.revision);
  if (stale) return refused(stale);
  const moves = notesOf(head).moves;
  const last = moves.at(-1);
  if (!last) {
    return refused({
      path: "planId",
      rule: "no-move",
      value: head.id,
      message: "No move by hand is left in this draft.",
      remedy: "Discard the draft to go back to the plan in force.",
    });
  }
  const wasPinned = new Set(last.wasPinned);
  const places = last.shifts.map(
    ({ visitId, from }): NewPlace => ({
      visitId,
      crewCode: from?.crewCode ?? null,
      startOn: from?.startOn ?? null,
      startMin: from?.startMin ?? null,
      endOn: from?.endOn ?? null,
      endMin: from?.endMin ?? null,
      riskMin: riskMin(open, visitId, from?.startOn),
      isPinned: wasPinned.has(visitId),
      unplacedRule: from ? null : "not placed",
      unplacedDetail: from ? null : "it had no place before the move",
    }),
  );
  const left = moves.slice(0, -1);
  const basis = { ...head.basis, nights: last.nightsBefore, moves: left };
  if (!writePlaces(db, head.id, head.revision, places, { cost: last.costBefore, basis })) {
    return refused({
      path: "planId",
      rule: "not-a-draft",
      value: head.id,
      message: `Plan ${head.id} is ${head.state}; moves are taken back in drafts only.`,
      remedy: "Move the visit again: that makes a new draft.",
    });
  }
  planKits(db, head.id, open);
  addLogEntry(db, {
    at: hand.at,
    userName: hand.by,
    action: "take move back",
    subject: `plan ${head.id}`,
    detail: { visitId: last.visitId },
  });
  return ok({ planId: head.id, revision: head.revision + 1, moves: left.length });
}

/** Rules named once each, as problems that refuse a publication. */
export function refusalOfBroken(broken: readonly BrokenByName[]): Problem[] {
  return broken.map((b) => ({
    path: b.visitId ?? b.crewCode ?? "plan",
    rule: b.rule,
    value: b.on,
    message: b.message,
    remedy: "Move the visit, or solve anew with the data as they are now.",
  }));
}

/**
 * Puts a judged draft in force. `replaces` is the plan in force that the planner compared with: when it is another
 * one by now, nothing is written and the planner is told. Call inside `writing`.
 */
export function publish(
  db: Db,
  open: OpenPlan,
  replaces: number | null,
  hand: Hand,
): Result<{ planId: number; replaced: number | null }> {
  const stale = staleEdit(loadPlan(db, open.head.id), open.head.id, open.head.revision);
  if (stale) return refused(stale);
  const inForce = planInForce(db);
  if ((inForce?.id ?? null) !== replaces) {
    return refused({
      path: "replaces",
      rule: "changed-meanwhile",
      value: replaces,
      message: inForce
        ? `Plan ${inForce.id} by ${inForce.createdBy} was put in force while you compared with ${replaces === null ? "no plan" : `plan ${replaces}`}. Nothing was changed.`
        : `Plan ${replaces} is no longer in force. Nothing was changed.`,
      remedy: "Compare with the plan that is in force now, then decide again.",
    });
  }
  if (!putInForce(db, open.head.id, open.head.revision, hand.at)) {
    return refused({
      path: "planId",
      rule: "not-a-draft",
      value: open.head.id,
      message: `Plan ${open.head.id} is no draft any more.`,
      remedy: "Open the plan in force.",
    });
  }
  if (inForce) carryKits(db, inForce.id, open.head.id);
  addLogEntry(db, {
    at: hand.at,
    userName: hand.by,
    action: "put plan in force",
    subject: `plan ${open.head.id}`,
    detail: { replaced: inForce?.id ?? null },
  });
  return ok({ planId: open.head.id, replaced: inForce?.id ?? null });
}

export interface CostsSideBySide {
  /** Null when there is no plan in force. */
  inForce: PlanCost | null;
  plan: PlanCost;
}

/** Both plans priced by one problem, from today on and against what was in force: figures that can be compared. */
export function costsSideBySide(db: Db, open: OpenPlan): CostsSideBySide {
  const inForce = planInForce(db);
  const price = (plan: Plan) => {
    const cost = evaluate(open.problem, plan);
    return cost.ok ? cost.value : plan.cost;
  };
  if (!inForce || inForce.id === open.head.id) return { inForce: null, plan: price(open.plan) };
  const rows = loadPlanVisits(db, inForce.id);
  const other = planFromRows(open.problem, rows, nightsOf(inForce, open.input), inForce.cost);
  return { inForce: price(other), plan: price(open.plan) };
}
