/** "Site lock": one crew at a time on a site, from the start of set-up to the end of work. */
import type { Model } from "../model";
import type { PlanState } from "../plan";

export const SITE_LOCK = {
  name: "site lock",
  text: () => "another crew is on the site",
};

/**
 * End of the latest visit of another crew that is on the site of `v` between the minutes `from` and `to` (counted
 * from the plan's first midnight); -1 when there is none. A visit over several days holds the site throughout.
 */
export function siteTakenUntil(
  m: Model,
  s: PlanState,
  v: number,
  crew: number,
  from: number,
  to: number,
): number {
  const place = m.place[v]!;
  let until = -1;
  for (let i = m.atPlaceFrom[place]!; i < m.atPlaceFrom[place + 1]!; i++) {
    const u = m.atPlace[i]!;
    const other = s.crewOf[u]!;
    if (other < 0 || other === crew || u === v || u === m.partner[v]) continue;
    if (m.siteLock[v] === 0 && m.siteLock[u] === 0) continue;
    const end = s.endAt(u);
    if (end > from && s.startAt(u) - s.setupPaid[u]! < to && end > until) until = end;
  }
  return until;
}
