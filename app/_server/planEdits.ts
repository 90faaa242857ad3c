/**
 * Plans under a planner's hands: what a move would do, a draft judged before it is put in force; planMoves.ts writes
 * the moves. The crews' problem takes a second or more to put together, so the last ones are kept by what they rest on.
 */

import { createHash } from "node:crypto";
import type { Db } from "@/db/open";
import { holdsOf } from "@/db/queries/holds";
import { keptPaces } from "@/db/queries/keptPaces";
import { addLogEntry } from "@/db/queries/log";
import { loadKeptPast } from "@/db/queries/pastWeather";
import { editsSince, type PlanEditRow } from "@/db/queries/planEdits";
import {
  carryKits,
  carryPlaces,
  loadPlan,
  loadPlanVisits,
  nightsOfPlan,
  type PlanHead,
  type PlannedVisit,
  planInForce,
  putInForce,
} from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { doneVisits } from "@/db/queries/reports";
import { english, type Phrase, phrase, readBack } from "@/lib/phrase";
import {
  type BrokenByName,
  effectOfMove,
  effectOfMoves,
  effectOfTimes,
  type GroupMove,
  isPlaced,
  judgeAgainst,
  leftBehind,
  movesOfGroup,
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
  servedInTurn,
  visitPhrase,
  type WhyHereByName,
  withUnderWay,
} from "@/lib/programme";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { type Plan, type PlanCost, price, type ScheduleProblem } from "@/lib/schedule";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { refreshEstimates } from "./planning";

/** What a plan's basis says beyond the versions of the rules. */
export interface PlanNotes {
  /** The plan in force when it was made; null = none. */
  replaces?: number | null;
  copyOf?: number;
  frozenDays?: number;
  weeks?: number;
  seconds?: number;
  settled?: { rounds: number; corrected: number; how: string };
}

export function notesOf(head: PlanHead): PlanNotes {
  return head.basis as PlanNotes;
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
  /** The plan in force, read back into the same problem; undefined when there is none or it is this one. */
  inForce?: Plan;
}

/** The plan read back into the crews' problem as the data stand now; undefined when there is no such plan. */
export function openPlan(db: Db, planId: number, today: CalendarDate): OpenPlan | undefined {
  const head = loadPlan(db, planId);
  if (!head) return undefined;
  const rows = loadPlanVisits(db, planId);
  const inForce = planInForce(db);
  const inForceRows = inForce ? loadPlanVisits(db, inForce.id) : [];
  const onHold = new Set(inForce ? holdsOf(db, inForce).keys() : []);
  const made = prepare(db, today, remainingDays(head, today), leftBehind(rows, today, onHold));
  const { input } = made;
  const known = { workLeft: input.workLeft, nightsAway: nightsOf(head, input), onHold };
  const prepared = {
    ...made.prepared,
    problem: withUnderWay(made.prepared.problem, rows.filter(isPlaced), known),
  };
  // Stock is promised to the kits of the plan that is looked at, as its needs are netted.
  const placed = placedFromRows(prepared.problem, rows);
  const { problem: served } = servedInTurn(prepared.problem, input, prepared.visits, placed);
  const problem = problemAgainst(served, rows, inForceRows, frozenUntil(head), onHold);
  const plan = planFromRows(problem, rows, nightsOf(head, input), head.cost);
  if (!inForce || inForce.id === head.id) return { head, rows, input, prepared, problem, plan };
  const before = planFromRows(problem, inForceRows, nightsOf(inForce, input), inForce.cost);
  return { head, rows, input, prepared, problem, plan, inForce: before };
}

function remainingDays(head: PlanHead, today: CalendarDate): number {
  return Math.max(1, head.dayCount - Math.max(0, daysBetween(head.firstDay, today)));
}

const nightsOf = (head: PlanHead, input: ProgrammeInput): StoredNight[] =>
  nightsOfPlan(
    head,
    input.crews.map((c) => c.code),
  );

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
      keptPaces: keptPaces(db, input),
    }),
  };
  shared.bothendsPrepared = [made, ...kept.filter((k) => k !== made)].slice(0, KEPT_PROBLEMS);
  return made;
}

/** Two inputs with the same fingerprint make the same problem. A forecast goes in by its head and the sum of its wind. */
function fingerprint(input: ProgrammeInput): string {
  const { weather, done, issued, onHold: _held, ...rest } = input;
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
  ...sentences(
    phrase("There is no plan {{plan}}: it was discarded.", { plan: String(id) }),
    phrase("Open the plan in force, or solve anew."),
  ),
});

/** Why an edit of a plan that was read at `revision` cannot go on; undefined when it can. */
export function staleEdit(db: Db, id: number, revision: number): Problem | undefined {
  const head = loadPlan(db, id);
  if (!head) return noSuchPlan(id);
  if (head.state === "past") {
    return {
      path: "planId",
      rule: "plan-is-past",
      value: id,
      ...sentences(
        phrase("Plan {{plan}} is past and cannot be changed.", { plan: String(id) }),
        phrase("Open the plan in force."),
      ),
    };
  }
  if (head.revision === revision) return undefined;
  const last = editsSince(db, id, revision).at(-1);
  return {
    path: "revision",
    rule: "changed-meanwhile",
    value: revision,
    ...sentences(
      last
        ? phrase(
            "Somebody changed plan {{plan}} while you had it open; nothing of yours was saved. The last change: {{change}}.",
            { plan: String(id), change: editPhrase(last) },
          )
        : phrase("Somebody changed plan {{plan}} while you had it open; nothing of yours was saved.", {
            plan: String(id),
          }),
      phrase("Look at the plan as it is now, then decide again."),
    ),
  };
}

/** What an edit is called: "the move of VH001/near/install". */
const EDIT_NAMES = {
  move: phrase("the move of {{what}}").text,
  pin: phrase("the pin of {{what}}").text,
  free: phrase("the unpinning of {{what}}").text,
  undo: phrase("the undo of {{what}}").text,
  redo: phrase("the redo of {{what}}").text,
} as const;

/** What an edit of many visits that a plan's page made is called. */
const TIMES_OF = phrase("the times of {{n}} visits").text;
export const timesWords = (n: number): string => english(phrase(TIMES_OF, { n: String(n) }));

const WHAT = [...Object.values(EDIT_NAMES), phrase("{{n}} visits").text, TIMES_OF];

/** What an edit is about: a visit's id, the number of several, the name of another edit. */
export function whatPhrase(words: string): Phrase {
  const visit = visitPhrase(words);
  return typeof visit === "string" ? withVisitNames(readBack(words, WHAT)) : visit;
}

/** "the move of VH001/near/install" names its visit as people do. */
const withVisitNames = ({ text, values = {} }: Phrase): Phrase =>
  phrase(
    text,
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        typeof value === "string"
          ? visitPhrase(value)
          : typeof value === "object" && "text" in value
            ? withVisitNames(value)
            : value,
      ]),
    ),
  );

/** What the buttons name. Of an undo and a redo the words are themselves the name of an edit. */
export const editName = ({ kind, words }: Pick<PlanEditRow, "kind" | "words">): Phrase =>
  phrase(EDIT_NAMES[kind], { what: whatPhrase(words) });

const EDIT_SENTENCES = {
  move: phrase("{{who}} moved {{what}}").text,
  pin: phrase("{{who}} pinned {{what}}").text,
  free: phrase("{{who}} unpinned {{what}}").text,
  undo: phrase("{{who}} took back {{what}}").text,
  redo: phrase("{{who}} did again {{what}}").text,
} as const;

/** Who did what: "Rita moved VH001/near/install". */
export const editPhrase = (e: Pick<PlanEditRow, "kind" | "byName" | "words">): Phrase =>
  phrase(EDIT_SENTENCES[e.kind], { who: e.byName, what: whatPhrase(e.words) });

export function effectFor(db: Db, planId: number, move: NamedMove, today: CalendarDate): Result<NamedEffect> {
  const open = openPlan(db, planId, today);
  if (!open) return refused(noSuchPlan(planId));
  return effectOfMove(open.problem, open.plan, move);
}

/** What it would do to move visits as one: by days, to a crew, or both. */
export function effectOfGroup(open: OpenPlan, group: GroupMove): Result<NamedEffect> {
  const moves = movesOfGroup(open.rows, group);
  return moves.ok ? effectOfMoves(open.problem, open.plan, moves.value) : moves;
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

/** Hard rules that a plan breaks as the data stand now: those that keep it from being put in force, and the others. */
export function brokenRules(open: OpenPlan): Pick<NamedEffect, "broken" | "brokenBefore"> {
  return judgeAgainst(open.problem, open.plan, open.inForce);
}

/** What it would do to give the plan the times that follow from the data as they are now. */
export const timesNow = (open: OpenPlan): Result<NamedEffect> => effectOfTimes(open.problem, open.plan);

export interface Hand {
  userId: string;
  by: string;
  at: number;
}

const sayingRemedy = (remedy: Phrase): Pick<Problem, "remedy" | "said"> => ({
  remedy: english(remedy),
  said: { remedy },
});

/** What became of the plan in force that a planner compared with. */
function newerPlan(inForce: PlanHead | undefined, replaces: number | null): Phrase {
  const plan = String(replaces);
  if (!inForce) return phrase("Plan {{plan}} is no longer in force. Nothing was changed.", { plan });
  const newer = { newer: String(inForce.id), name: inForce.createdBy };
  return replaces === null
    ? phrase(
        "Plan {{newer}} by {{name}} was put in force while you compared with no plan. Nothing was changed.",
        newer,
      )
    : phrase(
        "Plan {{newer}} by {{name}} was put in force while you compared with plan {{plan}}. Nothing was changed.",
        { ...newer, plan },
      );
}

/** Rules named once each, as problems that refuse a publication. */
export function refusalOfBroken(broken: readonly BrokenByName[]): Problem[] {
  return broken.map((b) => ({
    path: b.visitId ?? b.crewCode ?? "plan",
    rule: b.rule,
    value: b.on,
    message: b.message,
    ...sayingRemedy(phrase("Move the visit, or solve anew with the data as they are now.")),
  }));
}

/** What was done so long before a plan begins stays on it: reports are corrected and unused material comes back until then. */
const DONE_KEPT_DAYS = 28;

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
  const stale = staleEdit(db, open.head.id, open.head.revision);
  if (stale) return refused(stale);
  const inForce = planInForce(db);
  if ((inForce?.id ?? null) !== replaces) {
    return refused({
      path: "replaces",
      rule: "changed-meanwhile",
      value: replaces,
      ...sentences(
        newerPlan(inForce, replaces),
        phrase("Compare with the plan that is in force now, then decide again."),
      ),
    });
  }
  if (!putInForce(db, open.head.id, open.head.revision, hand.at)) {
    return refused({
      path: "planId",
      rule: "not-a-draft",
      value: open.head.id,
      ...sentences(
        phrase("Plan {{plan}} is no draft any more.", { plan: String(open.head.id) }),
        phrase("Open the plan in force."),
      ),
    });
  }
  if (inForce) {
    const since = addDays(open.head.firstDay, -DONE_KEPT_DAYS);
    const done = [...doneVisits(db)].filter(([, on]) => on >= since).map(([visitId]) => visitId);
    carryPlaces(db, inForce.id, open.head.id, new Set(done));
    carryKits(db, inForce.id, open.head.id);
  }
  addLogEntry(db, {
    at: hand.at,
    userName: hand.by,
    action: "put plan in force",
    subject: `plan ${open.head.id}`,
    detail: { replaced: inForce?.id ?? null },
  });
  return ok({ planId: open.head.id, replaced: inForce?.id ?? null });
}

/** Another plan read back into the problem of this one, to be set beside it. */
export const planBeside = (db: Db, open: OpenPlan, other: PlanHead): Plan =>
  planFromRows(open.problem, loadPlanVisits(db, other.id), nightsOf(other, open.input), other.cost);

export interface CostsSideBySide {
  /** Null when there is no other plan. */
  other: PlanCost | null;
  plan: PlanCost;
}

/**
 * Both plans priced by one problem, from today on and against what was in force: figures that can be compared. Without
 * another plan named it is the one in force.
 */
export function costsSideBySide(open: OpenPlan, other = open.inForce): CostsSideBySide {
  const costOf = (plan: Plan) => {
    const cost = price(open.problem, plan);
    return cost.ok ? cost.value : plan.cost;
  };
  return { other: other ? costOf(other) : null, plan: costOf(open.plan) };
}
