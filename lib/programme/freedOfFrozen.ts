/** Which visits of the plan in force the frozen days do not keep: they cannot be done as they stand. */
import type { PlacedVisit, PlanVisit } from "@/lib/schedule";

/**
 * Of the visits that begin before `frozenUntilDay`: those on hold, those that wait for a visit which is still to do and
 * stands nowhere before them (it should have ended, and nobody reported it), their other ends, and what waits for any of
 * these there: kept, it would leave what it waits for no place.
 * @param stays  what a person pinned and what is under way
 * @param onHold ids of visits that were reported on hold since the plan in force was made
 */
export function freedOfFrozen(
  visits: readonly Pick<PlanVisit, "id" | "after" | "togetherWith">[],
  inForce: readonly PlacedVisit[],
  stays: readonly PlacedVisit[],
  frozenUntilDay: number,
  onHold: ReadonlySet<string>,
): ReadonlySet<number> {
  const stated = new Set(stays.map((x) => x.visit));
  const frozen = new Set(
    inForce.filter((x) => x.startDay < frozenUntilDay && !stated.has(x.visit)).map((x) => x.visit),
  );
  const freed = new Set<number>();
  const stands = (v: number) => stated.has(v) || frozen.has(v);
  const waiting = [...frozen].filter((v) => onHold.has(visits[v]!.id) || !visits[v]!.after.every(stands));
  for (let v = waiting.pop(); v !== undefined; v = waiting.pop()) {
    if (freed.has(v)) continue;
    freed.add(v);
    const { togetherWith } = visits[v]!;
    if (togetherWith !== undefined && frozen.has(togetherWith)) waiting.push(togetherWith);
    for (const u of frozen) if (visits[u]!.after.includes(v)) waiting.push(u);
  }
  return freed;
}
