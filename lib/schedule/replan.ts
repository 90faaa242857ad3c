/** Planning on from a plan that stands: reading it in as the start of a new one. */
import type { PlanEdit } from "./edit";
import { mayStart, waitsFor } from "./insert/range";
import { jointTimes, times } from "./synchronise";
import type { PlacedVisit } from "./types";

/**
 * Puts visits where a given plan has them: same crew, same day, same order in the day. Times follow anew, so a visit
 * may move within its day. All are put in before any day is walked, since a night away holds only with both of its
 * days; then what no longer fits (weather, kit, people) is taken out and tried once more on its own crew and day.
 * @returns how many of them stand
 */
export function warmStart(edit: PlanEdit, placed: readonly PlacedVisit[]): number {
  const { model: m, state: s } = edit;
  const at = new Map(placed.map((x) => [x.visit, x]));
  const inOrder = placed
    .filter((x) => x.startDay >= 0 && x.endDay < m.dayCount)
    .sort((a, b) => a.startDay - b.startDay || a.startMin - b.startMin || a.visit - b.visit);
  const stands = new Set(inOrder.filter((x) => couldStand(edit, x, at)).map((x) => x.visit));
  for (const x of inOrder)
    if (stands.has(x.visit) && hasItsOthers(edit, x.visit, stands)) edit.adopt(x.visit, x);
  const out: number[] = [];
  const takeOut = (v: number) => {
    if (s.crewOf[v]! < 0 || m.kept[v]) return;
    edit.drop(v);
    out.push(v);
    if (m.partner[v]! >= 0) takeOut(m.partner[v]!);
    for (let i = m.succFrom[v]!; i < m.succFrom[v + 1]!; i++) takeOut(m.succs[i]!);
  };
  for (const x of inOrder) if (m.partner[x.visit]! > x.visit && !resetPair(edit, x.visit)) takeOut(x.visit);
  const crews = new Set(inOrder.map((x) => x.crew));
  // Taking a visit out of one crew can take its followers out of another, so all are walked again until none falls.
  for (let falls = true; falls; ) {
    falls = false;
    for (const c of crews) {
      for (let u = edit.walkAll(c); u >= 0; u = edit.walkAll(c)) {
        takeOut(u);
        falls = true;
      }
    }
  }
  for (const v of out.sort((a, b) => m.rank[a]! - m.rank[b]! || a - b)) putBack(edit, v, at.get(v)!);
  s.forget();
  return inOrder.filter((x) => s.crewOf[x.visit]! >= 0).length;
}

/** By what does not depend on the rest of the plan. */
function couldStand(edit: PlanEdit, x: PlacedVisit, at: Map<number, PlacedVisit>): boolean {
  const { model: m, state: s } = edit;
  const v = x.visit;
  if (s.crewOf[v]! >= 0 || m.blocked[v] === 1 || x.startDay < m.earliestDay[v]!) return false;
  const y = m.partner[v]! >= 0 ? at.get(m.partner[v]!) : undefined;
  if (
    m.partner[v]! >= 0 &&
    (y === undefined || y.crew === x.crew || y.startDay !== x.startDay || y.startMin !== x.startMin)
  )
    return false;
  return mayStart(m, v, x.startDay * m.crewCount + x.crew, x.startDay, m.crewCount * m.dayCount);
}

/** Its other end and all it waits for stand too, or are already in the plan. */
function hasItsOthers(edit: PlanEdit, v: number, stands: ReadonlySet<number>): boolean {
  const { model: m, state: s } = edit;
  const isThere = (u: number) => s.crewOf[u]! >= 0 || stands.has(u);
  const b = m.partner[v]!;
  if (b >= 0 && (!stands.has(b) || s.crewOf[v]! >= 0)) return false;
  for (const end of b >= 0 ? [v, b] : [v])
    for (let i = m.predFrom[end]!; i < m.predFrom[end + 1]!; i++) {
      const u = m.preds[i]!;
      if (!isThere(u) || (s.crewOf[u]! < 0 && !hasItsOthers(edit, u, stands))) return false;
    }
  return true;
}

/** The joint hours may have changed: the end follows anew, and the start where the stated minute is closed. */
function resetPair(edit: PlanEdit, a: number): boolean {
  const { model: m, state: s } = edit;
  const b = m.partner[a]!;
  if (s.crewOf[a]! < 0 || m.kept[a] || m.kept[b]) return true;
  if (!jointTimes(m, s, a, s.crewOf[a]!, s.crewOf[b]!, s.startDay[a]!, s.startMin[a]!)) return false;
  for (const v of [a, b]) {
    s.put(s.startMin, v, times.atMin);
    s.put(s.endMin, v, times.untilMin);
  }
  return true;
}

/** A single visit at the cheapest place of its own crew and day. */
function putBack(edit: PlanEdit, v: number, x: PlacedVisit): void {
  const { model: m, state: s } = edit;
  if (m.partner[v]! >= 0) return;
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) {
    const u = m.preds[i]!;
    if (s.crewOf[u]! < 0 || s.endDay[u]! > x.startDay) return;
  }
  edit.aim(v);
  let best = Number.POSITIVE_INFINITY;
  let bestAfter = -2;
  for (let after = -1; ; ) {
    const follower = after < 0 ? s.head[x.startDay * m.crewCount + x.crew]! : s.next[after]!;
    const cost = edit.trial(v, x.crew, x.startDay, after, -1, -1);
    if (cost < best) {
      best = cost;
      bestAfter = after;
    }
    if (follower < 0 || waitsFor(m, follower, v)) break;
    after = follower;
  }
  if (bestAfter === -2) return;
  edit.trial(v, x.crew, x.startDay, bestAfter, -1, -1);
  edit.place();
}
