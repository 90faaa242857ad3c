/** Why a visit is not in the plan, in the planner's words, and what would be enough to place it. */

import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { addDays } from "@/lib/time";
import { counted } from "./counted";
import { PlanEdit } from "./edit";
import { Blink } from "./insert/blink";
import { leadOf } from "./insert/insert";
import { findJointSpot } from "./insert/joint";
import { anywhere, dayRange } from "./insert/range";
import { findSpot } from "./insert/single";
import { Spot } from "./insert/spot";
import { buildModel, type Model } from "./model";
import { PlanState } from "./plan";
import { relaxations } from "./relax";
import { warmStart } from "./replan";
import { BREAKS, OK, RULES } from "./rules";
import { HORIZON } from "./rules/horizon";
import { noticeIsKept } from "./rules/notice";
import { ORDER } from "./rules/order";
import { SHIFT } from "./rules/shift";
import { violation } from "./rules/violation";
import type { Plan, ScheduleProblem, UnplacedVisit } from "./types";

/** No place is skipped here. */
const noBlink = new Blink(new Random("explain"), 0);

/** Crew-days looked at for all unplaced visits together, and for one at least. */
const PROBES = 200_000;
const LEAST_PROBES = 60;

/**
 * Every unplaced visit with the rule that stops it. For the first `deep` of them single rules are relaxed in turn and
 * the cheapest that would place the visit is named; the others get the rule that fails on most crew-days.
 */
export function explainUnplaced(edit: PlanEdit, deep: number): UnplacedVisit[] {
  const { model: m, state: s } = edit;
  const out = Array.from({ length: m.visitCount }, (_, v) => v).filter((v) => s.crewOf[v]! < 0);
  const probes = Math.max(LEAST_PROBES, Math.floor(PROBES / Math.max(1, out.length)));
  let left = deep;
  return out.map((v) => {
    const waits = waiting(m, edit, v);
    return { visit: v, ...(waits ?? stopped(edit, v, left-- > 0, probes)) };
  });
}

/** A deep look costs about twelve searches over all crew-days: fewer visits get one the larger the plan is. */
export const usualDepth = (m: Model) =>
  Math.max(2, Math.min(40, Math.floor(30_000 / (m.crewCount * m.dayCount))));

/** Every unplaced visit of a plan explained in depth, at the caller's leisure. */
export function explain(
  problem: ScheduleProblem,
  plan: Pick<Plan, "placed">,
): Result<UnplacedVisit[], Problem> {
  const built = buildModel(problem);
  if (!built.ok) return built;
  const edit = new PlanEdit(built.value, new PlanState(built.value));
  edit.start();
  warmStart(edit, plan.placed);
  const placed = new Set(plan.placed.map((x) => x.visit));
  return ok(explainUnplaced(edit, Number.POSITIVE_INFINITY).filter((x) => !placed.has(x.visit)));
}

/** What keeps a visit, or the other end of joint work, off every crew and day. */
export function blockOf(m: Model, v: number): { rule: string; detail: string } | undefined {
  const { visits } = m.problem;
  const { blockedBy, blockedRule = "gate" } = visits[v]!;
  if (blockedBy !== undefined) return { rule: blockedRule, detail: blockedBy };
  const other = visits[m.partner[v]!];
  if (other?.blockedBy === undefined) return undefined;
  return { rule: other.blockedRule ?? "gate", detail: `${other.label}: ${other.blockedBy}` };
}

/** Its own stop, or the visit that it waits for. */
function waiting(m: Model, edit: PlanEdit, v: number): { rule: string; detail: string } | undefined {
  const visits = m.problem.visits;
  if (visits[v]!.blockedBy !== undefined) return blockOf(m, v);
  const b = m.partner[v]!;
  for (const end of b >= 0 ? [v, b] : [v]) {
    for (let i = m.predFrom[end]!; i < m.predFrom[end + 1]!; i++) {
      const u = m.preds[i]!;
      if (edit.state.crewOf[u]! >= 0) continue;
      return {
        rule: ORDER.waitsFor(visits[u]!.label),
        detail: `${visits[u]!.label} has no place in the plan`,
      };
    }
  }
  return blockOf(m, v);
}

function stopped(edit: PlanEdit, v: number, deep: boolean, probes: number): { rule: string; detail: string } {
  const m = edit.model;
  const counts = countRules(edit, v, probes);
  const enough = deep ? cheapestRelaxation(edit, v) : undefined;
  if (counts.looked === 0) {
    const from = dateOf(m, m.earliestDay[v]!);
    return {
      rule: enough?.rule ?? HORIZON.name,
      detail: withRemedy(`no crew works from ${from} to the plan's end`, enough),
    };
  }
  const most = counts.of.indexOf(Math.max(...counts.of));
  const sample = counts.sample[most]!;
  const isFull = most === BREAKS.shift && edit.state.used[sample.day * m.crewCount + sample.crew] === 1;
  const why = isFull ? SHIFT.full() : violation(m, v, most, sample.crew, sample.day);
  const share = `${why} (${counts.of[most]} of ${counted(counts.looked, "crew-day")})`;
  return { rule: enough?.rule ?? RULES[most]!.name, detail: withRemedy(share, enough) };
}

const withRemedy = (why: string, enough: Enough | undefined) => (enough ? `${why}; ${enough.text}` : why);

interface RuleCounts {
  /** Crew-days by the first rule that fails there, by position in RULES. */
  of: number[];
  /** A crew-day for each rule. */
  sample: ({ crew: number; day: number } | undefined)[];
  looked: number;
}

/** On crew-days from its earliest day on, evenly spread over about `probes`: the first rule that keeps the visit away. */
export function countRules(edit: PlanEdit, v: number, probes: number): RuleCounts {
  const m = edit.model;
  const counts: RuleCounts = { of: RULES.map(() => 0), sample: RULES.map(() => undefined), looked: 0 };
  const count = (rule: number, crew: number, day: number) => {
    counts.of[rule]!++;
    // A day with other work on it says more than an empty one: the visit might fit there alone.
    const isUsed = edit.state.used[day * m.crewCount + crew] === 1;
    if (counts.sample[rule] === undefined || isUsed) counts.sample[rule] = { crew, day };
  };
  const stride = Math.max(1, Math.ceil(((m.dayCount - m.earliestDay[v]!) * m.crewCount) / probes));
  for (let day = m.earliestDay[v]!; day < m.dayCount; day += stride)
    for (let c = 0; c < m.crewCount; c++) {
      if (m.works[day * m.crewCount + c] === 0) continue;
      counts.looked++;
      const broken = firstBroken(edit, v, c, day);
      // A crew-day that would hold it: of joint work only this end, of other work it was not seen (time ran out).
      count(broken !== OK ? broken : m.partner[v]! >= 0 ? BREAKS.together : BREAKS.shift, c, day);
    }
  return counts;
}

/** How many crew-days a rule keeps a visit from, and one of them in words. */
export interface StoppedBy {
  rule: string;
  crewDays: number;
  /** The fewest people, the closed weekday ...: what the rule says of `crew` on `day`. */
  example: { crew: number; day: number; text: string };
}

/** Crew-days that hold no place for a visit, gathered by the rule that fails there first. */
export class Stops {
  readonly #edit: PlanEdit;
  readonly #visit: number;
  readonly #of = new Map<number, { crewDays: number; crew: number; day: number }>();

  constructor(edit: PlanEdit, visit: number) {
    this.#edit = edit;
    this.#visit = visit;
  }

  add(crew: number, day: number): void {
    const rule = stopOn(this.#edit, this.#visit, crew, day);
    const known = this.#of.get(rule);
    if (known) known.crewDays++;
    else this.#of.set(rule, { crewDays: 1, crew, day });
  }

  /** The rule that stops most first. */
  ranked(): StoppedBy[] {
    return [...this.#of]
      .sort(([a, x], [b, y]) => y.crewDays - x.crewDays || a - b)
      .map(([rule, { crewDays, crew, day }]) => ({
        rule: RULES[rule]!.name,
        crewDays,
        example: { crew, day, text: this.#words(rule, crew, day) },
      }));
  }

  #words(rule: number, crew: number, day: number): string {
    const { model: m, state: s } = this.#edit;
    const next = rule === BREAKS.order ? follower(m, s, this.#visit, day) : undefined;
    return next === undefined
      ? violation(m, this.#visit, rule, crew, day)
      : ORDER.tooLate(m.problem.visits[next]!.label);
  }
}

/** The first visit that waits for `v`, where nothing that `v` itself waits for ends later than `day`. */
function follower(m: Model, s: PlanState, v: number, day: number): number | undefined {
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++)
    if (s.endDay[m.preds[i]!]! >= day) return undefined;
  const after = Array.from(m.succs.subarray(m.succFrom[v]!, m.succFrom[v + 1]!));
  return after.filter((u) => s.crewOf[u]! >= 0).sort((a, b) => s.startAt(a) - s.startAt(b) || a - b)[0];
}

/** The first rule that keeps a visit, taken out of the plan, from starting on a crew's day. */
function stopOn(edit: PlanEdit, v: number, c: number, day: number): number {
  const { model: m, state: s } = edit;
  const visit = m.problem.visits[v]!;
  if (day < visit.releaseDay) return BREAKS.gate;
  if (day < visit.kitReadyDay) return BREAKS.kit;
  if (day < m.earliestDay[v]!) return BREAKS.kept;
  const broken = firstBroken(edit, v, c, day);
  if (broken !== OK) return broken;
  for (let i = m.succFrom[v]!; i < m.succFrom[v + 1]!; i++) {
    const u = m.succs[i]!;
    if (s.crewOf[u]! >= 0 && s.startDay[u]! < day) return BREAKS.order;
  }
  return m.partner[v]! >= 0 ? BREAKS.together : BREAKS.shift;
}

function firstBroken(edit: PlanEdit, v: number, c: number, day: number): number {
  const { model: m, state: s } = edit;
  const at = day * m.crewCount + c;
  if (m.hasPeople[m.needKind[v]! * m.crewCount * m.dayCount + at] === 0) return BREAKS.people;
  if (m.accessTo[v * 7 + m.weekday[day]!] === 0) return BREAKS.access;
  if (!noticeIsKept(m, v, day)) return BREAKS.notice;
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++)
    if (s.endDay[m.preds[i]!]! > day) return BREAKS.order;
  if (m.partner[v]! >= 0) return OK;
  let broken = OK;
  edit.aim(v);
  for (let after = -1; ; ) {
    edit.trial(v, c, day, after, -1, -1);
    broken = edit.brokenRule;
    const follower = after < 0 ? s.head[at]! : s.next[after]!;
    if (broken === OK || follower < 0) return broken;
    after = follower;
  }
}

interface Enough {
  rule: string;
  text: string;
}

/** The single rule whose relaxing would place the visit at the lowest cost, with crew and day. */
export function cheapestRelaxation(edit: PlanEdit, v: number): Enough | undefined {
  const m = edit.model;
  const lead = leadOf(m, v);
  let best: Enough | undefined;
  let bestCost = Number.POSITIVE_INFINITY;
  for (const relaxation of relaxations(m, v)) {
    const eased = new PlanEdit(relaxation.model, edit.state);
    const spot = new Spot();
    if (dayRange(relaxation.model, edit.state, lead) !== OK) continue;
    if (m.partner[lead]! >= 0) findJointSpot(eased, lead, noBlink, spot, anywhere(m));
    else findSpot(eased, lead, noBlink, spot, anywhere(m));
    const cost = spot.cost + relaxation.price;
    if (spot.crew < 0 || cost >= bestCost) continue;
    bestCost = cost;
    const crew = m.problem.crews[spot.crew]!;
    const where = `on ${dateOf(m, spot.day)} with ${crew.code}`;
    best = { rule: relaxation.rule, text: `${relaxation.says(spot)} ${where} would place it` };
  }
  return (
    best ?? (fitsAlone(m, v) ? { rule: SHIFT.name, text: "one more crew day would place it" } : undefined)
  );
}

/** Would some crew-day hold it if nothing else were planned? */
function fitsAlone(m: Model, v: number): boolean {
  const none = new Int32Array(m.visitCount + 1);
  const alone: Model = {
    ...m,
    predFrom: none,
    succFrom: none,
    kept: new Array(m.visitCount).fill(undefined),
  };
  const spot = new Spot();
  const edit = new PlanEdit(alone, new PlanState(alone));
  const lead = leadOf(m, v);
  if (m.partner[lead]! >= 0) findJointSpot(edit, lead, noBlink, spot, anywhere(m));
  else findSpot(edit, lead, noBlink, spot, anywhere(m));
  return spot.crew >= 0;
}

const dateOf = (m: Model, day: number) => addDays(m.problem.firstDay, Math.min(day, m.dayCount - 1));
