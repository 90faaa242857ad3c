/** What planners do to a plan by hand: visits moved and pinned, each edit recorded, undone and done again. */

import type { Db } from "@/db/open";
import { addLogEntry, type LogAction } from "@/db/queries/log";
import {
  editEnds,
  editsSince,
  lastChangeOf,
  loadEdit,
  type PlanEditRow,
  placesOf,
  recordEdit,
  recordReturn,
} from "@/db/queries/planEdits";
import {
  addPlanVisits,
  copyAsDraft,
  loadCutting,
  loadPlan,
  loadPlanVisits,
  type NewPlace,
  type PlanHead,
  type PlannedVisit,
  replacePlannedKits,
  setPinned,
  writePlaces,
} from "@/db/queries/plans";
import { aboutVisit, kitRows } from "@/db/queries/storePlan";
import { english, type Phrase, phrase } from "@/lib/phrase";
import {
  effectOfPlaces,
  kitsOfPlan,
  type NamedEffect,
  type NamedPlace,
  type PlanRow,
  placedFromRows,
  planFromRows,
} from "@/lib/programme";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { Plan, ScheduleProblem } from "@/lib/schedule";
import { type CalendarDate, daysBetween } from "@/lib/time";
import {
  editName,
  editPhrase,
  type Hand,
  noSuchPlan,
  type OpenPlan,
  openPlan,
  staleEdit,
  timesWords,
  whatPhrase,
} from "./planEdits";

export interface EditDone {
  /** The draft that holds the edit: a new one when a visit of the plan in force was moved. */
  planId: number;
  revision: number;
  editNo: number;
}

/** Writes a move into the draft, or into a new draft made from the plan in force. Call inside `writing`. */
export function acceptMoves(
  db: Db,
  open: OpenPlan,
  visitIds: readonly string[],
  effect: NamedEffect,
  hand: Hand,
): Result<EditDone> {
  return acceptShifts(db, open, visitIds, effect, hand, nameOf(visitIds));
}

/** Keeps the times of today's data for every visit that gets others by them. Call inside `writing`. */
export function acceptTimes(db: Db, open: OpenPlan, effect: NamedEffect, hand: Hand): Result<EditDone> {
  return acceptShifts(db, open, [], effect, hand, timesWords(effect.shifts.length));
}

/** @param visitIds taken in hand: they are pinned where they go; none = nobody chose a place for any. */
function acceptShifts(
  db: Db,
  open: OpenPlan,
  visitIds: readonly string[],
  effect: NamedEffect,
  hand: Hand,
  words: string,
): Result<EditDone> {
  const stale = staleEdit(db, open.head.id, open.head.revision);
  if (stale) return refused(stale);
  const draft = open.head.state === "draft" ? open.head : draftOf(db, open.head, hand);
  const rows = new Map(open.rows.map((r) => [r.visitId, r]));
  const isHeld = heldBy(open.problem, visitIds);
  const changes = effect.shifts.map(({ visitId, to, unplaced }) => {
    const before = placeOf(rows.get(visitId)!);
    const after: NewPlace = {
      visitId,
      crewCode: to?.crewCode ?? null,
      startOn: to?.startOn ?? null,
      startMin: to?.startMin ?? null,
      endOn: to?.endOn ?? null,
      endMin: to?.endMin ?? null,
      riskMin: riskMin(open, visitId, to?.startOn),
      isPinned: to !== undefined && (isHeld.has(visitId) || before.isPinned),
      unplacedRule: to ? null : (unplaced?.rule ?? "moved by hand"),
      unplacedDetail: to ? null : (unplaced?.detail ?? `no place beside ${words}`),
    };
    return { before, after };
  });
  const after = changes.map((c) => c.after);
  const basis = { ...draft.basis, nights: effect.nights };
  if (!writePlaces(db, draft.id, draft.revision, after, { cost: effect.after, basis })) {
    return refused(staleEdit(db, draft.id, draft.revision) ?? noSuchPlan(draft.id));
  }
  takeInLater(db, draft.id, open);
  planKits(db, draft.id, open);
  const broken = effect.broken.map((b) => b.message);
  const editNo = recordEdit(db, {
    planId: draft.id,
    kind: "move",
    ...byHand(hand),
    words,
    revision: draft.revision + 1,
    changes,
    broken,
  });
  // All that were taken in hand, the other ends of joint work with them; what they push along is in the edit.
  const to = effect.shifts.flatMap((s) => (isHeld.has(s.visitId) && s.to ? [s.to] : []));
  if (visitIds.length === 0)
    log(db, hand, "give times anew", draft.id, { visits: effect.shifts.length, broken });
  else log(db, hand, "move visit", draft.id, { visitIds, to: to.length === 1 ? to[0] : to, broken });
  return ok({ planId: draft.id, revision: draft.revision + 1, editNo });
}

/** Pins or frees visits as one edit, joint work with its other end: the ids come with it. Call inside `writing`. */
export function pinVisits(
  db: Db,
  plan: { planId: number; revision: number },
  visitIds: readonly string[],
  isPinned: boolean,
  hand: Hand,
): Result<EditDone> {
  const { planId, revision } = plan;
  const stale = staleEdit(db, planId, revision);
  if (stale) return refused(stale);
  const places = [...placesOf(db, planId, visitIds).values()];
  const turned = places.filter((p) => p.crewCode !== null && p.isPinned !== isPinned);
  const ids = turned.map((p) => p.visitId);
  if (!setPinned(db, planId, ids, isPinned, revision)) {
    return refused(
      places.some((p) => p.crewCode !== null)
        ? {
            path: "visitIds",
            rule: "as-it-was",
            value: nameOf(visitIds),
            message: `${nameOf(visitIds)}: ${isPinned ? "pinned" : "not pinned"} already in plan ${planId}.`,
            remedy: "Nothing needs to be done.",
          }
        : {
            path: "visitIds",
            rule: "not-placed",
            value: nameOf(visitIds),
            message: `${nameOf(visitIds)} has no place in plan ${planId}, so there is nothing to pin.`,
            remedy: "Move it onto a crew and day first.",
          },
    );
  }
  const editNo = recordEdit(db, {
    planId,
    kind: isPinned ? "pin" : "free",
    ...byHand(hand),
    words: nameOf(ids),
    revision: revision + 1,
    changes: turned.map((before) => ({ before, after: { ...before, isPinned } })),
    broken: [],
  });
  log(db, hand, isPinned ? "pin visit" : "free visit", planId, { visitIds: ids });
  return ok({ planId, revision: revision + 1, editNo });
}

export type Direction = "undo" | "redo";

/** An edit that may be undone or done again, and what that would do; pins have no effect on times. */
export interface Return {
  edit: PlanEditRow;
  open: OpenPlan;
  effect?: NamedEffect;
}

/** Looks at what undoing an edit (or doing it again) would do, with everything that others did since left as it is. */
export function openReturn(
  db: Db,
  plan: { planId: number; editNo: number },
  direction: Direction,
  userId: string,
  today: CalendarDate,
): Result<Return> {
  const problem = returnProblem(db, plan, direction, userId);
  if (problem) return refused(problem);
  const edit = loadEdit(db, plan.planId, plan.editNo)!;
  const open = openPlan(db, plan.planId, today);
  if (!open) return refused(noSuchPlan(plan.planId));
  if (edit.kind !== "move") return ok({ edit, open });
  const effect = effectOfPlaces(
    open.problem,
    open.plan,
    targetsOf(edit, direction).map(namedPlace),
    earlierPlan(db, open, edit, direction),
  );
  return effect.ok ? ok({ edit, open, effect: effect.value }) : effect;
}

/**
 * The plan as it was before what is now taken back: the edit itself, or its undo. Going back to it breaks nothing that
 * it did not break itself; only what others did since can stand in the way.
 */
function earlierPlan(db: Db, open: OpenPlan, edit: PlanEditRow, direction: Direction): Plan {
  const later = editsSince(db, edit.planId, edit.revision - 1);
  const takenBack =
    direction === "undo" ? edit : later.findLast((e) => e.kind === "undo" && e.ofNo === edit.editNo);
  const rows = new Map<string, PlanRow>(open.rows.map((r) => [r.visitId, r]));
  for (const e of later.reverse()) {
    if (takenBack && e.editNo < takenBack.editNo) break;
    for (const { before } of e.changes) rows.set(before.visitId, before);
  }
  return planFromRows(open.problem, [...rows.values()], [], open.plan.cost);
}

/** Carries an undo or redo out. Call inside `writing`: that the visits still stand as the edit left them is asked again. */
export function carryReturn(db: Db, back: Return, direction: Direction, hand: Hand): Result<EditDone> {
  const { edit, open, effect } = back;
  const { planId } = edit;
  const problem =
    returnProblem(db, edit, direction, hand.userId) ?? staleEdit(db, planId, open.head.revision);
  if (problem) return refused(problem);
  const places = targetsOf(edit, direction);
  const { revision, basis } = open.head;
  const isWritten = effect
    ? writePlaces(db, planId, revision, places, {
        cost: effect.after,
        basis: { ...basis, nights: effect.nights },
      })
    : setPinned(
        db,
        planId,
        places.map((p) => p.visitId),
        places[0]!.isPinned,
        revision,
      );
  if (!isWritten) return refused(noSuchPlan(planId));
  if (effect) {
    takeInLater(db, planId, open);
    planKits(db, planId, open);
  }
  const editNo = recordReturn(
    db,
    {
      planId,
      ...byHand(hand),
      words: english(editName(edit)),
      revision: revision + 1,
      changes: edit.changes.map((c) => (direction === "undo" ? { before: c.after, after: c.before } : c)),
      broken: effect?.broken.map((b) => b.message) ?? [],
    },
    direction,
    edit.editNo,
  );
  log(db, hand, direction === "undo" ? "undo plan edit" : "redo plan edit", planId, {
    edit: edit.editNo,
    visitIds: places.map((p) => p.visitId),
  });
  return ok({ planId, revision: revision + 1, editNo });
}

function returnProblem(
  db: Db,
  { planId, editNo }: { planId: number; editNo: number },
  direction: Direction,
  userId: string,
): Problem | undefined {
  const head = loadPlan(db, planId);
  if (!head) return noSuchPlan(planId);
  const edit = editEnds(db, planId, userId)[direction];
  if (edit?.editNo !== editNo) {
    return {
      path: "editNo",
      rule: "not-the-last",
      value: editNo,
      ...sentences(notTheLast(edit, direction, String(planId)), phrase("Look at the plan as it is now.")),
    };
  }
  if (edit.kind === "move" ? head.state !== "draft" : head.state === "past") {
    return {
      path: "planId",
      rule: "not-a-draft",
      value: planId,
      ...sentences(
        phrase("Plan {{plan}} is {{state}}; moves are taken back in drafts only.", {
          plan: String(planId),
          state: phrase(head.state),
        }),
        phrase("Move the visit again: that makes a new draft."),
      ),
    };
  }
  return changedSince(db, edit, direction);
}

/** Why the edit that a planner read on the button is not the one to take back or to do again. */
function notTheLast(edit: PlanEditRow | undefined, direction: Direction, plan: string): Phrase {
  if (direction === "undo") {
    return edit
      ? phrase("Your last change in plan {{plan}} is {{edit}} by now.", { plan, edit: editName(edit) })
      : phrase("You have nothing to undo in plan {{plan}}.", { plan });
  }
  return edit
    ? phrase("What you undid last in plan {{plan}} is {{edit}} by now.", { plan, edit: editName(edit) })
    : phrase("You have nothing to redo in plan {{plan}}.", { plan });
}

/** Visits that no longer stand as the edit left them: somebody else decided about them since. */
function changedSince(db: Db, edit: PlanEditRow, direction: Direction): Problem | undefined {
  const left = edit.changes.map((c) => (direction === "undo" ? c.after : c.before));
  const now = placesOf(
    db,
    edit.planId,
    left.map((p) => p.visitId),
  );
  const other = left.filter((p) => !samePlace(now.get(p.visitId), p));
  if (other.length === 0) return undefined;
  const ids = new Set(other.map((p) => p.visitId));
  const by = lastChangeOf(db, edit.planId, edit.editNo, ids);
  return {
    path: "editNo",
    rule: "changed-since",
    value: nameOf([...ids]),
    ...sentences(
      by
        ? phrase("{{what}} stands elsewhere by now: {{change}}. It was left as it is.", {
            what: whatPhrase(nameOf([...ids])),
            change: editPhrase(by),
          })
        : phrase("{{what}} stands elsewhere by now. It was left as it is.", {
            what: whatPhrase(nameOf([...ids])),
          }),
      phrase("Look at where it stands, then move it by hand if it is to go back."),
    ),
  };
}

function samePlace(a: NewPlace | undefined, b: NewPlace): boolean {
  return (
    a !== undefined &&
    a.crewCode === b.crewCode &&
    a.startOn === b.startOn &&
    a.startMin === b.startMin &&
    a.endOn === b.endOn &&
    a.endMin === b.endMin &&
    a.isPinned === b.isPinned
  );
}

const targetsOf = (edit: PlanEditRow, direction: Direction): NewPlace[] =>
  edit.changes.map((c) => (direction === "undo" ? c.before : c.after));

function namedPlace({ visitId, crewCode, startOn, startMin, endOn, endMin }: NewPlace): NamedPlace {
  if (crewCode === null || startOn === null || startMin === null || endOn === null || endMin === null) {
    return { visitId };
  }
  return { visitId, place: { visitId, crewCode, startOn, startMin, endOn, endMin } };
}

function placeOf(v: PlannedVisit): NewPlace {
  const { visitId, crewCode, startOn, startMin, endOn, endMin, riskMin, isPinned } = v;
  const { unplacedRule, unplacedDetail } = v;
  return {
    visitId,
    crewCode,
    startOn,
    startMin,
    endOn,
    endMin,
    riskMin,
    isPinned,
    unplacedRule,
    unplacedDetail,
  };
}

const byHand = ({ userId, by, at }: Hand) => ({ userId, byName: by, at });

/** One visit by its id, several by their number. */
const nameOf = (visitIds: readonly string[]): string =>
  visitIds.length === 1 ? visitIds[0]! : `${visitIds.length} visits`;

function log(db: Db, hand: Hand, action: LogAction, planId: number, detail: object): void {
  addLogEntry(db, { at: hand.at, userName: hand.by, action, subject: `plan ${planId}`, detail });
}

function draftOf(db: Db, head: PlanHead, hand: Hand): PlanHead {
  const id = copyAsDraft(db, head.id, {
    createdBy: hand.by,
    createdAt: hand.at,
    basis: { ...head.basis, copyOf: head.id, replaces: head.id },
  })!;
  return loadPlan(db, id)!;
}

/** Visits that a hand put somewhere, with the other ends of joint work: they stay pinned there. */
function heldBy(problem: ScheduleProblem, visitIds: readonly string[]): ReadonlySet<string> {
  const index = new Map(problem.visits.map((v, i) => [v.id, i]));
  const others = visitIds.flatMap((id) => {
    const partner = problem.visits[index.get(id) ?? -1]?.togetherWith;
    return partner === undefined ? [] : [problem.visits[partner]!.id];
  });
  return new Set([...visitIds, ...others]);
}

/** Minutes between P50 and P80 that past weather adds to a visit that starts on `on`; 0 inside the forecast. */
function riskMin({ problem, rows }: OpenPlan, visitId: string, on: CalendarDate | undefined): number {
  const visit = problem.visits.find((v) => v.id === visitId);
  if (!visit || on === undefined) return 0;
  const perH = problem.windows[visit.window]?.riskMinPerH[daysBetween(problem.firstDay, on)] ?? 0;
  const durationMin = rows.find((r) => r.visitId === visitId)?.durationMin ?? 0;
  return Math.round((perH * durationMin) / 60);
}

/** Visits that came after the plan was made: it is priced with them, so they stand in it, without a place. */
function takeInLater(db: Db, planId: number, { rows, prepared, plan }: OpenPlan): void {
  const known = new Set(rows.map((r) => r.visitId));
  const reasons = new Map(plan.unplaced.map((u) => [u.visit, u]));
  const later = prepared.visits.flatMap((v, i): PlannedVisit[] => {
    const why = reasons.get(i);
    if (known.has(v.id) || !why) return [];
    return [
      {
        ...aboutVisit(v),
        kitReadyOn: null,
        crewCode: null,
        startOn: null,
        startMin: null,
        endOn: null,
        endMin: null,
        riskMin: 0,
        isPinned: false,
        unplacedRule: why.rule,
        unplacedDetail: why.detail,
      },
    ];
  });
  addPlanVisits(db, planId, later);
}

/** Pick days and shortages of the kits that nobody has begun follow the visits. */
function planKits(db: Db, planId: number, { input, prepared, problem }: OpenPlan): void {
  const placed = placedFromRows(problem, loadPlanVisits(db, planId));
  const kits = kitsOfPlan(input, prepared.visits, placed, loadCutting(db, planId));
  replacePlannedKits(db, planId, kitRows(kits));
}
