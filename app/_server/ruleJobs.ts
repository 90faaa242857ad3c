/** What the worker does for "rule-effect": the whole programme taken off as it is and as it would be. */
import { loadHops } from "@/db/queries/design";
import { loadTakeoffContext, rulesInForce } from "@/db/queries/programme";
import { staleVersion } from "@/db/queries/rules";
import type { HourCalibration } from "@/lib/calibration";
import type { HoursEffect } from "@/lib/programme";
import type { Problem } from "@/lib/result";
import { effectOfRules, type RuleEffect, type TakeoffPolicy, type TakeoffRule } from "@/lib/takeoff";
import { effectOnHours } from "./calibrationEdits";
import type { JobTools } from "./handlers";
import type { JobInput } from "./jobKinds";
import { changedBody } from "./ruleEdits";

export interface ShownEffect extends RuleEffect {
  hopCount: number;
  /** Ends by id: where each stands, for people. */
  ends: Record<string, { hopCode: string; siteId: string }>;
}

export type EffectOutcome =
  | ShownEffect
  | { hours: HoursEffect }
  | { problems: readonly Problem[] }
  | { stopped: true };

/** Ends the comparison from inside; half of one would mislead. */
class Stopped extends Error {}

export function ruleEffectJob(
  { kind, basedOn, change }: JobInput<"rule-effect">,
  { db, report, shouldStop }: JobTools,
): EffectOutcome {
  const stale = staleVersion(db, kind, basedOn);
  if (stale) return { problems: [stale] };
  const body = changedBody(db, kind, change);
  if (!body.ok) return { problems: body.problems };
  if (kind === "hour calibration") return { hours: effectOnHours(db, body.value as HourCalibration) };
  const rules = rulesInForce(db);
  const context = loadTakeoffContext(db, rules);
  const hops = loadHops(db);
  const onHop = (done: number) => {
    if (shouldStop()) throw new Stopped();
    report({ done, of: hops.length });
  };
  try {
    const effect =
      kind === "takeoff policy"
        ? effectOfRules(hops, context, [], {
            policy: { ...(body.value as TakeoffPolicy), version: rules.takeoffPolicy.version + 1 },
            onHop,
          })
        : effectOfRules(hops, context, withRemoved(rules.takeoffRules, body.value as TakeoffRule[]), {
            onHop,
          });
    const failing = new Set([...effect.newFails, ...effect.solvedFails].map((f) => f.endId));
    const ends = hops.flatMap((h) =>
      [h.near, h.far]
        .filter((e) => failing.has(e.id))
        .map((e) => [e.id, { hopCode: h.code, siteId: e.siteId }] as const),
    );
    return { ...effect, hopCount: hops.length, ends: Object.fromEntries(ends) };
  } catch (thrown) {
    if (thrown instanceof Stopped) return { stopped: true };
    throw thrown;
  }
}

/** All rows as they would be; a row that an earlier version does not have counts as switched off. */
function withRemoved(before: readonly TakeoffRule[], after: readonly TakeoffRule[]): TakeoffRule[] {
  const kept = new Set(after.map((r) => r.id));
  return [...after, ...before.filter((r) => !kept.has(r.id)).map((r) => ({ ...r, enabled: false }))];
}
