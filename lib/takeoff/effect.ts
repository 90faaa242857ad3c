/** What a change of rules does to the whole programme, shown before it is saved. */
import { rollUp } from "./rollUp";
import { tidy } from "./rounding";
import { takeOff } from "./takeoff";
import type {
  DesignCheck,
  HopTakeoff,
  ProgrammeLine,
  RuleEffect,
  RuleEffectLine,
  TakeoffContext,
  TakeoffInput,
  TakeoffPolicy,
  TakeoffRule,
} from "./types";

/** The rules with the changed ones put in place of those with the same id, and new ones at the end. */
export function withRules(
  rules: readonly TakeoffRule[],
  changed: readonly TakeoffRule[],
): readonly TakeoffRule[] {
  const byId = new Map(changed.map((r) => [r.id, r]));
  const known = new Set(rules.map((r) => r.id));
  return [...rules.map((r) => byId.get(r.id) ?? r), ...changed.filter((r) => !known.has(r.id))];
}

export interface EffectOptions {
  /** The policy as it would be; the context's when left out. */
  policy?: TakeoffPolicy;
  /** Called before each hop with how many are done. What it throws ends the comparison: half of one means nothing. */
  onHop?: (done: number) => void;
}

/**
 * Takes off every hop with the rules as they are and as they would be, and compares the programme's need.
 * A rule is taken out by a change with `enabled: false`.
 */
export function effectOfRules(
  hops: readonly TakeoffInput[],
  context: TakeoffContext,
  changedRules: readonly TakeoffRule[],
  options: EffectOptions = {},
): RuleEffect {
  const rules = withRules(context.rules, changedRules);
  const changed = { ...context, rules, policy: options.policy ?? context.policy };
  const before: HopTakeoff[] = [];
  const after: HopTakeoff[] = [];
  for (const hop of hops) {
    options.onHop?.(before.length);
    before.push(takeOff(hop, context));
    after.push(takeOff(hop, changed));
  }
  const failsBefore = failsOf(before);
  const failsAfter = failsOf(after);
  return {
    lines: differences(rollUp(before, context.rules).lines, rollUp(after, rules).lines, context),
    newFails: [...failsAfter].filter(([key]) => !failsBefore.has(key)).map(([, check]) => check),
    solvedFails: [...failsBefore].filter(([key]) => !failsAfter.has(key)).map(([, check]) => check),
  };
}

function differences(
  before: readonly ProgrammeLine[],
  after: readonly ProgrammeLine[],
  context: TakeoffContext,
): RuleEffectLine[] {
  const key = (line: ProgrammeLine) => `${line.itemCode}|${line.owner}`;
  const was = new Map(before.map((line) => [key(line), line]));
  const is = new Map(after.map((line) => [key(line), line]));
  const items = new Map(context.catalogue.map((i) => [i.code, i]));
  const lines: RuleEffectLine[] = [];
  for (const k of new Set([...was.keys(), ...is.keys()])) {
    const { itemCode, name, unit, owner } = (is.get(k) ?? was.get(k))!;
    const quantities = { before: was.get(k)?.quantity ?? 0, after: is.get(k)?.quantity ?? 0 };
    const difference = tidy(quantities.after - quantities.before);
    if (difference === 0) continue;
    const item = items.get(itemCode);
    const money = item
      ? { differenceMinor: Math.round(difference * item.priceMinor), currency: item.currency }
      : {};
    lines.push({ itemCode, name, unit, owner, ...quantities, difference, ...money });
  }
  return lines.sort(
    (a, b) =>
      Math.abs(b.differenceMinor ?? 0) - Math.abs(a.differenceMinor ?? 0) ||
      (a.itemCode < b.itemCode ? -1 : a.itemCode > b.itemCode ? 1 : a.owner < b.owner ? -1 : 1),
  );
}

function failsOf(takeoffs: readonly HopTakeoff[]): Map<string, DesignCheck & { endId: string }> {
  const fails = new Map<string, DesignCheck & { endId: string }>();
  for (const { near, far } of takeoffs) {
    for (const end of [near, far]) {
      for (const check of end.checks) {
        if (check.state !== "fail") continue;
        fails.set(`${end.endId}|${check.rule}|${check.where}|${check.message}`, {
          ...check,
          endId: end.endId,
        });
      }
    }
  }
  return fails;
}
