/**
 * The first plan: hop by hop in the order of their promises, each visit at the cheapest place still free. Hops of which
 * two crews can do several a day bring their neighbours of about the same promise with them.
 */
import type { PlanEdit } from "./edit";
import type { Blink } from "./insert/blink";
import { Company } from "./insert/company";
import { insertCheapest, leadOf } from "./insert/insert";
import { anywhere } from "./insert/range";
import type { Model } from "./model";
import { nearestHops } from "./neighbours";

/** Hops in whose company a hop is looked for, and how far their promises may lie apart. */
const NEAR_HOPS = 12;
const SAME_PROMISE_DAYS = 7;

/** `watch` hears of every hop; when `shouldStop` says so the rest stays unplaced. */
export function construct(
  edit: PlanEdit,
  blink: Blink,
  shouldStop: () => boolean,
  watch: (hopsDone: number) => void = () => {},
): void {
  const { model: m, state: s } = edit;
  const within = anywhere(m);
  const company = new Company(edit);
  const nearHops = nearestHops(m, NEAR_HOPS);
  const isDone = new Uint8Array(m.hopCount);
  let hopsDone = 0;
  const place = (h: number) => {
    if (isDone[h] === 1) return;
    isDone[h] = 1;
    if (company.fits[h] === 1) company.insert(h, blink, within, nearHops(h));
    for (const v of visitsInOrder(m, h)) {
      if (s.isPlaced(v) || m.blocked[v]) continue;
      insertCheapest(edit, v, blink, within);
    }
    s.forget();
    watch(++hopsDone);
  };
  for (const h of hopsByPromise(m)) {
    if (shouldStop()) return;
    place(h);
    if (company.fits[h] === 0) continue;
    // Its neighbours of about the same promise while there is room beside it.
    for (const g of nearHops(h)) if (Math.abs(due(m, g) - due(m, h)) <= SAME_PROMISE_DAYS) place(g);
  }
}

const due = (m: Model, h: number) => Math.min(m.promiseDay[h]!, 1e9);

export function hopsByPromise(m: Model): number[] {
  const earliest = (h: number) => {
    let day = 0;
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++)
      day = Math.max(day, m.earliestDay[m.hopVisits[i]!]!);
    return day;
  };
  const release = Array.from({ length: m.hopCount }, (_, h) => earliest(h));
  const promise = (h: number) => Math.min(m.promiseDay[h]!, 1e9);
  return Array.from({ length: m.hopCount }, (_, h) => h).sort(
    (a, b) =>
      promise(a) - promise(b) || m.hopWeight[b]! - m.hopWeight[a]! || release[a]! - release[b]! || a - b,
  );
}

/** The visits of a hop, one for each pair, so that none stands before what it waits for. */
export function visitsInOrder(m: Model, h: number): number[] {
  const visits = [...m.hopVisits.subarray(m.hopFrom[h]!, m.hopFrom[h + 1]!)];
  return visits.filter((v) => leadOf(m, v) === v).sort((a, b) => m.rank[a]! - m.rank[b]! || a - b);
}
