/** The first plan: hop by hop in the order of their promises, each visit at the cheapest place still free. */
import type { PlanEdit } from "./edit";
import type { Blink } from "./insert/blink";
import { insertCheapest, leadOf } from "./insert/insert";
import { anywhere } from "./insert/range";
import type { Model } from "./model";

/** `watch` hears of every hop; when `shouldStop` says so the rest stays unplaced. */
export function construct(
  edit: PlanEdit,
  blink: Blink,
  shouldStop: () => boolean,
  watch: (hopsDone: number) => void = () => {},
): void {
  const { model: m, state: s } = edit;
  const within = anywhere(m);
  let hopsDone = 0;
  for (const h of hopsByPromise(m)) {
    if (shouldStop()) return;
    for (const v of visitsInOrder(m, h)) {
      if (s.isPlaced(v) || m.blocked[v]) continue;
      insertCheapest(edit, v, blink, within);
      s.forget();
    }
    watch(++hopsDone);
  }
}

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
