/** Which of the rules that a plan breaks are the doing of a change to it, and which it broke before. */
import type { BrokenRule } from "./types";

export interface BrokenSince {
  /** What the change breaks, or breaks further. */
  broken: readonly BrokenRule[];
  /** What was broken before it and still is. */
  brokenBefore: readonly BrokenRule[];
}

/**
 * A rule counts as broken before when the same rule was broken for the same visit, crew and day, or for the same
 * others that share a limit by as much. Figures in its sentence may differ: data that changed since the plan was made
 * give a visit other minutes. Of a visit that is itself moved only the very same sentence counts as old.
 */
export function brokenSince(
  before: readonly BrokenRule[],
  after: readonly BrokenRule[],
  moved: ReadonlySet<number>,
): BrokenSince {
  const said = new Set(before.map((b) => b.message));
  const overBy = new Map<string, number>();
  for (const b of before) overBy.set(keyOf(b), Math.max(overBy.get(keyOf(b)) ?? 0, b.over ?? 0));
  const isOld = (b: BrokenRule): boolean => {
    if (said.has(b.message)) return true;
    if (b.visit !== undefined && moved.has(b.visit)) return false;
    const over = overBy.get(keyOf(b));
    return over !== undefined && (b.over ?? 0) <= over + 1e-6;
  };
  return { broken: after.filter((b) => !isOld(b)), brokenBefore: after.filter(isOld) };
}

/** A scarce item is short from some day on: on which day's start that shows depends on what else starts then. */
const keyOf = (b: BrokenRule): string =>
  [b.rule, b.visit, b.crew, b.rule === "kit" && b.visit === undefined ? undefined : b.day, b.other].join("/");
