import type { DrumPlan } from "@/lib/drums";

/** A stretch of a drum in the order in which it comes off. */
export interface DrumStretch {
  kind: "gone" | "cut" | "allowance" | "remnant" | "scrap" | "untouched";
  fromCm: number;
  toCm: number;
  /** Cuts only: index into `DrumPlan.cuts`. */
  cut?: number;
}

/**
 * Splits a drum into stretches from its outer end: what is gone already, each cut with the saw allowance
 * behind it, and what is left. Lengths add up to the length as received.
 */
export function stretchesOf(plan: DrumPlan): readonly DrumStretch[] {
  const { drum, cuts } = plan;
  const out: DrumStretch[] = [];
  let at = drum.receivedCm - drum.remainingCm;
  if (at > 0) out.push({ kind: "gone", fromCm: 0, toCm: at });
  cuts.forEach((cut, index) => {
    if (cut.fromMarkCm > at) out.push({ kind: "allowance", fromCm: at, toCm: cut.fromMarkCm });
    out.push({ kind: "cut", fromCm: cut.fromMarkCm, toCm: cut.toMarkCm, cut: index });
    at = cut.toMarkCm;
  });
  const leftFrom = drum.receivedCm - plan.leftCm;
  if (leftFrom > at) out.push({ kind: "allowance", fromCm: at, toCm: leftFrom });
  if (plan.leftCm > 0) {
    const kind = plan.leftIs === "scrap" ? "scrap" : plan.leftIs === "untouched" ? "untouched" : "remnant";
    out.push({ kind, fromCm: Math.max(at, leftFrom), toCm: drum.receivedCm });
  }
  return out;
}

/** Round step for marks along a length so that there are at most `most`: 1, 2, 5, 10, 20, 50 ... m, in cm. */
export function markStepCm(lengthCm: number, most: number): number {
  for (let decade = 100; ; decade *= 10) {
    for (const factor of [1, 2, 5]) {
      if (lengthCm / (decade * factor) <= most) return decade * factor;
    }
  }
}
