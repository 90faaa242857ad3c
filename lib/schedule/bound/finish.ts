/**
 * How much later than alone hops must finish because they share the crews.
 *
 * A hop pays for every day at whose end it is not finished: the price of a later finish, and from its promise on that of
 * being late. By the end of a day d the crews have put no more crew-days into hops than, for every earlier day t, all
 * that could begin by t and every crew-day after it. So the hops finished by then take together no more than that, and
 * what the others pay is at least what is left when crew-days go to those that pay most for each (a knapsack whose last
 * hop may be cut). Work is reckoned at the mildest weather up to d. Each day is looked at by itself, with the best choice
 * for that day: no plan can do better on all of them.
 */
import type { Model } from "../model";

/** Work, or a set-up, that a hop needs. */
export interface Load {
  hop: number;
  /** Before it nothing of it can be done. */
  firstDay: number;
  /** Share of a crew-day that it takes at least, without the weather. */
  crewDays: number;
  /** Factor of the weather by day; undefined = none. */
  stretch?: Float32Array;
}

/**
 * Price of late, later and unfinished hops, at least.
 * @param finishDay per hop: the first day at whose end it could be finished alone; from `dayCount` on = never
 */
export function finishBound(m: Model, finishDay: Int32Array, loads: readonly Load[]): number {
  const w = m.problem.weights;
  const lateDay = (h: number) => w.lateHopDay * m.hopWeight[h]!;
  const hops = Array.from({ length: m.hopCount }, (_, h) => h).filter(
    (h) => m.hopFrom[h]! < m.hopFrom[h + 1]!,
  );
  const needed = loads.filter((x) => finishDay[x.hop]! < m.dayCount);
  const mildest = new Float64Array(needed.length).fill(Number.POSITIVE_INFINITY);
  const takes = new Float64Array(m.hopCount);
  const begun = new Float64Array(m.dayCount);
  const price = new Float64Array(m.hopCount);
  let bound = 0;
  for (const h of hops) bound += lateDay(h) * Math.max(0, -m.promiseDay[h]!);

  for (let day = 0; day < m.dayCount; day++) {
    takes.fill(0);
    begun.fill(0);
    needed.forEach((x, i) => {
      if (x.firstDay > day) return;
      mildest[i] = Math.min(mildest[i]!, x.stretch?.[day] ?? 1);
      takes[x.hop]! += x.crewDays * mildest[i]!;
      begun[x.firstDay]! += x.crewDays * mildest[i]!;
    });
    // At the end of the last day an unfinished hop stays so.
    const stays = day === m.dayCount - 1 ? w.unfinishedHop : 0;
    for (const h of hops) price[h] = (w.finishDay ?? 0) + (day >= m.promiseDay[h]! ? lateDay(h) : 0) + stays;
    hops.sort((a, b) => price[b]! * takes[a]! - price[a]! * takes[b]! || a - b);
    let left = workableBy(m, begun, day);
    for (const h of hops) {
      let share = 0;
      if (finishDay[h]! <= day && left >= 0) {
        share = takes[h]! <= left ? 1 : left / takes[h]!;
        left -= takes[h]!;
      }
      bound += (1 - share) * price[h]!;
    }
  }
  return bound;
}

/** Crew-days that can have been worked by the end of a day, on work that could begin by then. */
function workableBy(m: Model, begun: Float64Array, day: number): number {
  let worked = 0;
  let all = 0;
  for (let d = 0; d <= day; d++) {
    for (let c = 0; c < m.crewCount; c++) worked += m.works[d * m.crewCount + c]!;
    all += begun[d]!;
    worked = Math.min(worked, all);
  }
  return worked;
}
