/**
 * A cost that no plan can go under, cheap to reckon: with it a gap can be shown. Every part is a relaxation.
 *
 * Dates (bound/earliest.ts, bound/finish.ts): each visit alone, on the crew that could end it first; then all hops
 * together, which share the crew-days that there are.
 *
 * Days and ways (bound/prices.ts): let a crew-day hold the visits S, and let p be the one farthest out, R(p) the minutes
 * and T(p) the cost of the way there and back. The work of S fits beside that way, so the shares work(v) / (day - R(v))
 * add up to at most 1, and the day costs at least crewDay + T(p), hence at least the sum of share(v) x (crewDay + T(v));
 * the way is reckoned from the nearest depot, whoever goes. A crew that may sleep out shares a way among the days of a
 * trip. This is the radial bound of capacitated routing (M. Haimovich, A. H. G. Rinnooy Kan, "Bounds and Heuristics for
 * Capacitated Routing Problems", Mathematics of Operations Research 10, 1985; from memory) with minutes as the load.
 */
import { earliestEnds, earliestStart, NEVER } from "./bound/earliest";
import { finishBound, type Load } from "./bound/finish";
import { type PlacePrices, placePrices } from "./bound/prices";
import { depotWays, type Ways } from "./bound/ways";
import type { Model } from "./model";
import { paceOf } from "./pace";

/** @param shouldStop asked now and then: when it says so the answer is 0, which is a bound too */
export function lowerBound(m: Model, shouldStop: () => boolean = () => false): number {
  const w = m.problem.weights;
  const end = earliestEnds(m);
  const canPlace = (v: number) => m.kept[v] !== undefined || (m.blocked[v] === 0 && end[v]! < NEVER);
  if (shouldStop()) return 0;
  const priceOf = visitPrices(m, depotWays(m));
  const finishDay = finishDays(m, end, canPlace);
  const loads: Load[] = [];

  // What placing costs at least; a visit could be left out instead, so it never counts for more than that.
  let bound = 0;
  for (let p = 0; p < m.placeCount; p++) {
    const visits = m.atPlace.subarray(m.atPlaceFrom[p]!, m.atPlaceFrom[p + 1]!);
    let longest = -1;
    let begins = NEVER;
    for (const v of visits) {
      if (!canPlace(v)) bound += w.unplacedVisit;
      if (!canPlace(v) || m.kept[v]) continue;
      begins = Math.min(begins, earliestStart(m, end, v));
      if (longest < 0 || m.setupMin[v]! > m.setupMin[longest]!) longest = v;
    }
    const isOfOneHop = visits.every((u) => m.hop[u] === m.hop[visits[0]!] && m.kept[u] === undefined);
    for (const v of visits) {
      if (!canPlace(v) || m.kept[v]) continue;
      const hop = m.hop[v]!;
      const least = priceOf(v);
      // Whatever the crews and days, the longest set-up of a site is paid at least once.
      bound += Math.min(w.unplacedVisit, least.workPrice + (v === longest ? least.setupPrice : 0));
      if (least.workDays === Number.POSITIVE_INFINITY) {
        finishDay[hop] = m.dayCount;
        continue;
      }
      const firstDay = earliestStart(m, end, v);
      loads.push({ hop, firstDay, crewDays: least.workDays, stretch: m.stretch[v]! });
      if (v === longest && isOfOneHop) loads.push({ hop, firstDay: begins, crewDays: least.setupDays });
    }
  }
  return bound + finishBound(m, finishDay, loads);
}

/** Per hop the day on which its last visit could end, each alone; `dayCount` when one cannot be placed. */
function finishDays(m: Model, end: Int32Array, canPlace: (v: number) => boolean): Int32Array {
  return Int32Array.from({ length: m.hopCount }, (_, h) => {
    let finish = 0;
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
      const v = m.hopVisits[i]!;
      finish = Math.max(finish, canPlace(v) ? end[v]! : m.dayCount);
    }
    return Math.min(finish, m.dayCount);
  });
}

interface LeastOfVisit {
  /** In the weather that is mildest. */
  workPrice: number;
  setupPrice: number;
  /** In crew-days, without the weather. */
  workDays: number;
  setupDays: number;
}

/** For a visit: what its work and its set-up cost, and take of a crew-day, with the crew for which that is least. */
function visitPrices(m: Model, ways: Ways): (v: number) => LeastOfVisit {
  const w = m.problem.weights;
  const byNights = new Map<number, PlacePrices>();
  for (const nights of m.nightsMax)
    if (!byNights.has(nights)) byNights.set(nights, placePrices(m, ways, nights));
  const crewPrices = Array.from(m.nightsMax, (nights) => byNights.get(nights)!);
  const crewDays = m.crewCount * m.dayCount;
  const ableOf = new Map<number, number[]>();
  const able = (kind: number) => {
    const known = ableOf.get(kind);
    if (known) return known;
    const crews: number[] = [];
    for (let c = 0; c < m.crewCount; c++)
      for (let at = c; at < crewDays; at += m.crewCount)
        if (m.hasPeople[kind * crewDays + at] === 1) {
          crews.push(c);
          break;
        }
    ableOf.set(kind, crews);
    return crews;
  };
  return (v) => {
    const p = m.place[v]!;
    const { stretch, risk } = mildest(m, v);
    const least = {
      workPrice: Number.POSITIVE_INFINITY,
      setupPrice: Number.POSITIVE_INFINITY,
      workDays: Number.POSITIVE_INFINITY,
      setupDays: Number.POSITIVE_INFINITY,
    };
    for (const c of able(m.needKind[v]!)) {
      const { price, shareOfDay } = crewPrices[c]!;
      const min = m.workMin[v]! * paceOf(m, c, v);
      least.workPrice = Math.min(least.workPrice, min * stretch * (price[p]! + (w.riskMin * risk) / 60));
      least.setupPrice = Math.min(least.setupPrice, m.setupMin[v]! * price[p]!);
      least.workDays = Math.min(least.workDays, min * shareOfDay[p]!);
      least.setupDays = Math.min(least.setupDays, m.setupMin[v]! * shareOfDay[p]!);
    }
    return least;
  };
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
