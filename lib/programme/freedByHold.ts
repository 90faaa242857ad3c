/** Which visits of the plan in force the frozen days do not keep: a hold says that they cannot be done as they stand. */
import type { PlacedVisit, PlanVisit } from "@/lib/schedule";

/**
 * The visits on hold that begin before `frozenUntilDay`, their other ends, and those of their hops there that wait for
 * them: kept, these would leave the visits on hold no place. What a person pinned stays.
 * @param onHold ids of visits that were reported on hold since the plan in force was made
 */
export function freedByHold(
  visits: readonly Pick<PlanVisit, "id" | "after" | "togetherWith">[],
  inForce: readonly PlacedVisit[],
  pinned: readonly PlacedVisit[],
  frozenUntilDay: number,
  onHold: ReadonlySet<string>,
): ReadonlySet<number> {
  const stays = new Set(pinned.map((x) => x.visit));
  const frozen = new Set(
    inForce.filter((x) => x.startDay < frozenUntilDay && !stays.has(x.visit)).map((x) => x.visit),
  );
  const freed = new Set<number>();
  const waiting = [...frozen].filter((v) => onHold.has(visits[v]!.id));
  for (let v = waiting.pop(); v !== undefined; v = waiting.pop()) {
    if (freed.has(v)) continue;
    freed.add(v);
    const { togetherWith } = visits[v]!;
    if (togetherWith !== undefined && frozen.has(togetherWith)) waiting.push(togetherWith);
    for (const u of frozen) if (visits[u]!.after.includes(v)) waiting.push(u);
  }
  return freed;
}
