/**
 * What a plan costs, reckoned from its dates alone: no running sums, nothing remembered. The engine keeps its own
 * sums as it edits (edit.ts); a property test holds the two to the same figures for every plan.
 */
import { ok, type Problem, type Result } from "@/lib/result";
import { buildModel, type Model } from "./model";
import { paceOf } from "./pace";
import { outsetMin } from "./rules/shift";
import type { PlacedVisit, Plan, PlanCost } from "./types";
import { weightedTotal } from "./weights";
import { newWork, workDay } from "./work";

type PlanDates = Pick<Plan, "placed" | "nights">;

/** The cost of a plan, legal or not, term by term; problems when the scheduling problem itself cannot be read. */
export function evaluate(problem: Model["problem"], plan: PlanDates): Result<PlanCost, Problem> {
  const built = buildModel(problem);
  return built.ok ? ok(evaluateModel(built.value, plan)) : built;
}

/**
 * The one price of a plan that pages show. Pins and frozen days hold a search, they are no part of what a plan costs:
 * read as stated minutes instead of as work they would give one plan another price beside every other plan.
 */
export function price(problem: Model["problem"], plan: PlanDates): Result<PlanCost, Problem> {
  return evaluate(unheld(problem), plan);
}

export const unheld = (problem: Model["problem"]): Model["problem"] => ({
  ...problem,
  pinned: [],
  underWay: [],
  frozenUntilDay: 0,
});

export function evaluateModel(m: Model, plan: PlanDates): PlanCost {
  const terms = { ...hopTerms(m, plan), ...crewTerms(m, plan), ...movedTerms(m, plan) };
  const cost = { ...terms, unplacedVisits: m.visitCount - plan.placed.length };
  return { total: weightedTotal(cost, m.problem.weights), ...cost };
}

/**
 * Weather risk of the kept visits. The search leaves it out of its sums, since nothing it does changes it; what a plan
 * is said to cost has it, or a visit would lose its risk by being pinned.
 */
export function keptRiskMin(m: Model, nights: Plan["nights"]): number {
  const placed = m.kept.filter((x) => x !== undefined);
  return placed.length === 0 ? 0 : crewTerms(m, { placed, nights }).riskMin;
}

function hopTerms(m: Model, plan: PlanDates) {
  const at = new Map(plan.placed.map((x) => [x.visit, x]));
  const sum = { lateHopDays: 0, unfinishedHops: 0, openEndDays: 0, finishDays: 0 };
  for (let h = 0; h < m.hopCount; h++) {
    const visits = [...m.hopVisits.subarray(m.hopFrom[h]!, m.hopFrom[h + 1]!)];
    if (visits.length === 0) continue;
    const placed = visits.flatMap((v) => at.get(v) ?? []);
    const isFinished = placed.length === visits.length;
    const finish = isFinished ? Math.max(...placed.map((x) => x.endDay)) : m.dayCount;
    const kind = (x: PlacedVisit) => m.problem.visits[x.visit]!.kind;
    const installEnds = placed.filter((x) => kind(x) === "install").map((x) => x.endDay);
    const aligned = placed.filter((x) => kind(x) === "alignment").map((x) => x.startDay);
    if (!isFinished) sum.unfinishedHops++;
    sum.finishDays += finish;
    sum.lateHopDays += Math.max(0, finish - m.promiseDay[h]!) * m.hopWeight[h]!;
    const meet = Math.max(...(aligned.length > 0 ? aligned : installEnds));
    sum.openEndDays += Math.max(
      0,
      installEnds.reduce((days, end) => days + meet - end, 0),
    );
  }
  return sum;
}

function movedTerms(m: Model, plan: PlanDates) {
  const at = new Map(plan.placed.map((x) => [x.visit, x]));
  let movedVisits = 0;
  let movedDays = 0;
  for (let v = 0; v < m.visitCount; v++) {
    if (m.wasCrew[v]! < 0) continue;
    const now = at.get(v);
    if (now?.crew !== m.wasCrew[v] || now?.startDay !== m.wasDay[v]) movedVisits++;
    if (now) movedDays += Math.abs(now.startDay - m.wasDay[v]!);
  }
  return { movedVisits, movedDays };
}

function crewTerms(m: Model, plan: PlanDates) {
  const sum = {
    crewDays: 0,
    overtimeMin: 0,
    nightsAway: 0,
    travelKm: 0,
    travelMin: 0,
    riskMin: 0,
    imbalanceMin: 0,
  };
  const work = newWork();
  const dutyMin = new Float64Array(m.crewCount);
  for (let c = 0; c < m.crewCount; c++) {
    const mine = plan.placed
      .filter((x) => x.crew === c)
      .sort((a, b) => a.startDay - b.startDay || a.startMin - b.startMin);
    const nights = new Map((plan.nights ?? []).filter((x) => x.crew === c).map((x) => [x.day, x.place]));
    const left = new Map(
      mine.map((x) => [x.visit, { seg: m.segFrom[x.visit]!, rem: m.segMin[m.segFrom[x.visit]!]! }]),
    );
    const home = m.depot[c]!;
    for (let day = 0; day < m.dayCount; day++) {
      const at = day * m.crewCount + c;
      const here = mine.filter((x) => x.startDay <= day && day <= x.endDay);
      if (here.length === 0 || (m.works[at] === 0 && !here.some((x) => x.startDay === day))) continue;
      sum.crewDays++;
      let place = nights.get(day - 1) ?? home;
      const first = here.find((x) => x.startDay === day);
      const isOff = m.works[at] === 0;
      const outMin = isOff && first ? outsetMin(m, first.visit, first.startMin, place) : m.fromMin[at]!;
      const homeMin = isOff ? outMin : m.toMin[at]!;
      let time = outMin;
      let hasMoved = false;
      const travel = (to: number) => {
        sum.travelKm += m.travelKm[place * m.placeCount + to]!;
        sum.travelMin += m.travelMin[place * m.placeCount + to]!;
        time += m.travelMin[place * m.placeCount + to]!;
        place = to;
        hasMoved = true;
      };
      for (const x of here) {
        const v = x.visit;
        const p = m.place[v]!;
        const starts = x.startDay === day;
        const ends = x.endDay === day;
        const back = m.travelMin[p * m.placeCount + home]!;
        if (m.partner[v]! >= 0) {
          travel(p);
          const begin = starts ? x.startMin : time;
          time = ends ? x.endMin : Math.max(begin, homeMin - back);
          sum.riskMin += ((time - begin) / 60) * m.riskMinPerH[v]![day]!;
          continue;
        }
        const opens = m.accessFrom[v * 7 + m.weekday[day]!]!;
        const closes = m.accessTo[v * 7 + m.weekday[day]!]!;
        const arrives = time + m.travelMin[place * m.placeCount + p]!;
        const from = starts ? x.startMin : Math.max(arrives, opens) + m.setupMin[v]!;
        const pause = Math.min(closes, nights.has(day) ? homeMin : homeMin - back);
        const factor = paceOf(m, c, v) * m.stretch[v]![day]!;
        const { seg, rem } = left.get(v)!;
        workDay(work, m, v, day, from, ends ? x.endMin : pause, factor, seg, rem, m.masks[v]!, m.masks[v]!);
        left.set(v, { seg: work.seg, rem: work.rem });
        if (m.kept[v]) {
          // Its minutes are given; its risk is that of the hours worked in them, pinned or not.
          travel(p);
          time = ends ? x.endMin : Math.max(starts ? x.startMin : time, homeMin - back);
          sum.riskMin += (work.workedMin / 60) * m.riskMinPerH[v]![day]!;
          continue;
        }
        if (work.first < 0) continue; // no workable hour: the crew stays where it is
        travel(p);
        time = work.last;
        sum.riskMin += (work.workedMin / 60) * m.riskMinPerH[v]![day]!;
      }
      if (nights.has(day)) sum.nightsAway++;
      else if (place !== home) travel(home);
      sum.overtimeMin += Math.max(0, time - homeMin);
      if (hasMoved) dutyMin[c]! += time - outMin;
    }
  }
  const all = dutyMin.reduce((a, b) => a + b, 0);
  sum.imbalanceMin = dutyMin.reduce((off, x, c) => off + Math.abs(x - all * m.shareOfShifts[c]!), 0) / 2;
  return sum;
}
