/**
 * A cost that no plan can go under, cheap to reckon: with it a gap can be shown. Every part is a relaxation.
 *
 * Dates: each visit alone, on the crew that could end it first, no set-up, no way back, the shortest way in; a visit
 * waits for the earliest end of what it waits for, joint work for both ends.
 *
 * Days and ways: let a crew-day hold the visits S, and let p be the one farthest out, R(p) the minutes and T(p) the
 * cost of the way there and back. The work of S fits beside that way, so the shares work(v) / (day - R(v)) add up to
 * at most 1, and the day costs at least crewDay + T(p), hence at least the sum of share(v) x (crewDay + T(v)); the way
 * is reckoned from the nearest depot, whoever goes. A crew that may sleep out pays for each day of a trip at least crewDay and the cheaper of T(v) and a night. This is the
 * radial bound of capacitated routing (M. Haimovich, A. H. G. Rinnooy Kan, "Bounds and Heuristics for Capacitated
 * Routing Problems", Mathematics of Operations Research 10, 1985; from memory) with minutes as the load.
 */
import type { Model } from "./model";
import { paceOf } from "./pace";
import { newWork, workDay } from "./work";

/** A day after every plan: "not at all". */
const NEVER = 1_000_000;

/** @param shouldStop asked now and then: when it says so the answer is 0, which is a bound too */
export function lowerBound(m: Model, shouldStop: () => boolean = () => false): number {
  const w = m.problem.weights;
  const end = earliestEnds(m, shortestWayIn(m));
  const canPlace = (v: number) => m.kept[v] !== undefined || (m.blocked[v] === 0 && end[v]! < NEVER);
  let bound = 0;

  for (let h = 0; h < m.hopCount; h++) {
    if (m.hopFrom[h] === m.hopFrom[h + 1]) continue;
    let finish = 0;
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
      const v = m.hopVisits[i]!;
      finish = Math.max(finish, canPlace(v) ? end[v]! : m.dayCount);
      if (!canPlace(v)) bound += w.unplacedVisit;
    }
    if (finish >= m.dayCount) bound += w.unfinishedHop;
    finish = Math.min(finish, m.dayCount);
    bound +=
      w.lateHopDay * m.hopWeight[h]! * Math.max(0, finish - m.promiseDay[h]!) + (w.finishDay ?? 0) * finish;
  }

  // What placing costs at least; a visit could be left out instead, so it never counts for more than that.
  if (shouldStop()) return 0;
  const minute = minutePrices(m);
  for (let p = 0; p < m.placeCount; p++) {
    let setup = Number.POSITIVE_INFINITY;
    for (let i = m.atPlaceFrom[p]!; i < m.atPlaceFrom[p + 1]!; i++) {
      const v = m.atPlace[i]!;
      if (!canPlace(v) || m.kept[v]) continue;
      const { stretch, risk } = mildest(m, v);
      let price = Number.POSITIVE_INFINITY;
      let unpaced = Number.POSITIVE_INFINITY;
      for (let c = 0; c < m.crewCount; c++) {
        const perMin = m.nightsMax[c]! > 0 ? minute.sleepingOut[p]! : minute.homeEachDay[p]!;
        unpaced = Math.min(unpaced, perMin);
        price = Math.min(price, paceOf(m, c, v) * (perMin + (w.riskMin * risk) / 60));
      }
      bound += Math.min(w.unplacedVisit, m.workMin[v]! * stretch * price);
      setup = Math.min(setup, w.unplacedVisit, m.setupMin[v]! * unpaced);
    }
    if (setup < Number.POSITIVE_INFINITY) bound += setup;
  }
  return bound;
}

interface MinutePrices {
  homeEachDay: Float64Array;
  sleepingOut: Float64Array;
}

/**
 * What a minute of work costs at least at each place, on the most generous crew-day of the plan and from the depot that
 * is nearest: one search from all depots at once, for there are as many depots as regions and millions of ways.
 */
function minutePrices(m: Model): MinutePrices {
  const w = m.problem.weights;
  let shift = 0;
  let withOvertime = 0;
  for (let at = 0; at < m.works.length; at++) {
    if (m.works[at] === 0) continue;
    shift = Math.max(shift, m.toMin[at]! - m.fromMin[at]!);
    withOvertime = Math.max(withOvertime, m.homeByMin[at]! - m.fromMin[at]!);
  }
  const over = Math.max(0, withOvertime - shift);
  // The cost of a day over its minutes changes evenly with overtime: its least is at none or at all of it.
  const price = (dayCost: number, awayMin: number) =>
    Math.min(
      shift > awayMin ? dayCost / (shift - awayMin) : Number.POSITIVE_INFINITY,
      shift + over > awayMin
        ? (dayCost + w.overtimeMin * over) / (shift + over - awayMin)
        : Number.POSITIVE_INFINITY,
    );
  const isSameBack = isSymmetric(m.placeCount, m.travelMin) && isSymmetric(m.placeCount, m.travelKm);
  const awayMin = thereAndBack(m, 0, 1, isSameBack);
  const wayCost = thereAndBack(m, w.travelKm, w.travelMin, isSameBack);
  return {
    homeEachDay: awayMin.map((min, p) => price(w.crewDay + wayCost[p]!, min)),
    sleepingOut: wayCost.map((way) => price(w.crewDay + Math.min(way, w.nightAway), 0)),
  };
}

function isSymmetric(n: number, way: Float32Array | Uint16Array): boolean {
  for (let a = 0; a < n; a++) for (let b = 0; b < a; b++) if (way[a * n + b] !== way[b * n + a]) return false;
  return true;
}

/** Cheapest way from any depot to every place and back to any, over other places, at prices for a km and a minute. */
function thereAndBack(m: Model, perKm: number, perMin: number, isSameBack: boolean): Float64Array {
  const there = cheapest(m, perKm, perMin, m.placeCount, 1);
  const back = isSameBack ? there : cheapest(m, perKm, perMin, 1, m.placeCount);
  return there.map((far, p) => far + back[p]!);
}

/** Cheapest ways from the depots (E. W. Dijkstra's method, 1959); that from u to p stands at `u * row + p * column`. */
function cheapest(
  { placeCount: n, travelKm, travelMin, depot }: Model,
  perKm: number,
  perMin: number,
  row: number,
  column: number,
): Float64Array {
  const far = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  const open = Int32Array.from({ length: n }, (_, p) => p);
  for (const place of depot) far[place] = 0;
  for (let left = n; left > 0; ) {
    let nearest = 0;
    for (let i = 1; i < left; i++) if (far[open[i]!]! < far[open[nearest]!]!) nearest = i;
    const u = open[nearest]!;
    open[nearest] = open[--left]!;
    const reached = far[u]!;
    for (let i = 0; i < left; i++) {
      const p = open[i]!;
      const at = u * row + p * column;
      const over = reached + perKm * travelKm[at]! + perMin * travelMin[at]!;
      if (over < far[p]!) far[p] = over;
    }
  }
  return far;
}

/** Smallest stretch and risk on any day from the visit's earliest on. */
function mildest(m: Model, v: number): { stretch: number; risk: number } {
  let stretch = Number.POSITIVE_INFINITY;
  let risk = Number.POSITIVE_INFINITY;
  for (let d = m.earliestDay[v]!; d < m.dayCount; d++) {
    stretch = Math.min(stretch, m.stretch[v]![d]!);
    risk = Math.min(risk, m.riskMinPerH[v]![d]!);
  }
  return { stretch, risk };
}

/** Fewest minutes from any other place to each; a depot's own place needs none. */
function shortestWayIn(m: Model): Float64Array {
  const n = m.placeCount;
  const min = new Float64Array(n).fill(n === 1 ? 0 : Number.POSITIVE_INFINITY);
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++)
      if (a !== b && m.travelMin[a * n + b]! < min[b]!) min[b] = m.travelMin[a * n + b]!;
  for (const p of m.depot) min[p] = 0;
  return min;
}

/** Earliest day on which each visit could end; NEVER when no crew could do it within the plan. */
function earliestEnds(m: Model, wayInMin: Float64Array): Int32Array {
  const end = new Int32Array(m.visitCount).fill(NEVER);
  const order = Array.from({ length: m.visitCount }, (_, v) => v).sort(
    (a, b) => m.rank[a]! - m.rank[b]! || a - b,
  );
  const starts = (v: number) => {
    let day = m.earliestDay[v]!;
    for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) day = Math.max(day, end[m.preds[i]!]!);
    return day;
  };
  for (const v of order) {
    const kept = m.kept[v];
    const b = m.partner[v]!;
    if (kept) end[v] = kept.endDay;
    else if (b < 0) end[v] = earliestEnd(m, v, starts(v), wayInMin);
    else if (!m.kept[b]) {
      // Joint work: the first day that is not too early for either end alone.
      const from = Math.max(starts(v), starts(b));
      end[v] = Math.max(earliestEnd(m, v, from, wayInMin), earliestEnd(m, b, from, wayInMin));
    }
  }
  return end;
}

const work = newWork();

function earliestEnd(m: Model, v: number, from: number, wayInMin: Float64Array): number {
  if (from >= m.dayCount) return NEVER;
  let best = NEVER;
  for (let c = 0; c < m.crewCount; c++)
    for (let day = from; day < Math.min(best, m.dayCount); day++) {
      const end = endIfBegun(m, v, c, day, best, wayInMin);
      if (end < best) best = end;
      if (end === day) break;
    }
  return best;
}

/** Last day of the visit when crew `c` begins it on `day`; NEVER when it cannot, or not before day `under`. */
function endIfBegun(
  m: Model,
  v: number,
  c: number,
  day: number,
  under: number,
  wayInMin: Float64Array,
): number {
  const people = m.needKind[v]! * m.crewCount * m.dayCount;
  let seg = m.segFrom[v]!;
  let rem = m.segMin[seg]!;
  for (let d = day; d >= 0 && d < under; d = m.nextWork[d * m.crewCount + c]!) {
    const at = d * m.crewCount + c;
    const isFirst = d === day;
    if (m.works[at] === 0 || m.hasPeople[people + at] === 0) return NEVER;
    const opens = m.accessFrom[v * 7 + m.weekday[d]!]!;
    const closes = m.accessTo[v * 7 + m.weekday[d]!]!;
    if (isFirst && (closes === 0 || (d < m.noticeDay[v]! && d !== m.wasDay[v]))) return NEVER;
    const wayIn = m.nightsMax[c]! > 0 ? 0 : wayInMin[m.place[v]!]!;
    const begins = Math.max(opens, m.fromMin[at]! + wayIn);
    const limit = Math.min(closes, m.homeByMin[at]!);
    workDay(
      work,
      m,
      v,
      d,
      begins,
      limit,
      paceOf(m, c, v) * m.stretch[v]![d]!,
      seg,
      rem,
      m.masks[v]!,
      m.masks[v]!,
    );
    if (work.done) return d;
    if (m.canPause[v] === 0 || (isFirst && work.first < 0)) return NEVER;
    seg = work.seg;
    rem = work.rem;
  }
  return NEVER;
}
