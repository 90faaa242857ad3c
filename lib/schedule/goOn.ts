/** Work under way when a plan begins: what of it is left, and when it ends (docs/methods/schedule.md, "Kept work"). */
import type { WorkSegment } from "@/lib/hours";
import { allOf, minuteOf, walk } from "./keptWork";
import { buildModel, type Model } from "./model";
import type { PlacedVisit, ScheduleProblem } from "./types";

/** A visit that began before the first day and goes on, as the plan had it. */
export interface Begun {
  visit: number;
  crew: number;
  endDay: number;
  endMin: number;
  /** The crew slept at its site: what the plan had for the first day needs no way there. */
  sleptThere: boolean;
  /** Is the visit's work what its crew says is left? Else it is the whole, and what reaches until the end is left. */
  isRest: boolean;
}

export interface GoesOn {
  placed: PlacedVisit;
  /** Work left, norm minutes. */
  segments: readonly WorkSegment[];
}

/**
 * Where work under way stands from the first day on; undefined for a visit that its crew cannot go on with. A problem
 * that cannot be read is refused by whoever solves it.
 */
export function goOn(problem: ScheduleProblem, begun: readonly Begun[]): (GoesOn | undefined)[] {
  const built = begun.length > 0 ? buildModel(problem) : undefined;
  if (!built?.ok) return begun.map(() => undefined);
  const m = built.value;
  return begun.map((b) => {
    // Joint work never goes over night.
    if (m.partner[b.visit]! >= 0) return undefined;
    const [seg, rem] = b.isRest ? allOf(m, b.visit) : restUntil(m, b);
    const at = goesOnAt(m, { ...b, sleptThere: false }, seg, rem);
    if (!at) return undefined;
    const segments = problem.visits[b.visit]!.segments.slice(seg - m.segFrom[b.visit]!);
    return {
      placed: { visit: b.visit, crew: b.crew, ...at },
      segments: segments.map((s, i) => (i === 0 ? { ...s, durationMin: rem } : s)),
    };
  });
}

const goesOnAt = (m: Model, b: Begun, seg: number, rem: number) =>
  walk(m, b.visit, { ...b, day: 0, seg, rem, mayStayAway: true });

/** The longest end of the work, whole norm minutes, that is done by the end as planned; a minute at least. */
function restUntil(m: Model, b: Begun): [number, number] {
  let [fits, tooLong] = [1, Math.floor(m.workMin[b.visit]!) + 1];
  while (tooLong - fits > 1) {
    const leftMin = (fits + tooLong) >> 1;
    const at = goesOnAt(m, b, ...lastMinutes(m, b.visit, leftMin));
    if (at && minuteOf(at) <= minuteOf(b)) fits = leftMin;
    else tooLong = leftMin;
  }
  return lastMinutes(m, b.visit, fits);
}

/** Step and minutes of it with which the last `leftMin` of the work begin. */
function lastMinutes(m: Model, v: number, leftMin: number): [number, number] {
  let left = leftMin;
  for (let seg = m.segFrom[v + 1]! - 1; seg > m.segFrom[v]!; seg--) {
    if (left <= m.segMin[seg]!) return [seg, left];
    left -= m.segMin[seg]!;
  }
  return [m.segFrom[v]!, Math.min(left, m.segMin[m.segFrom[v]!]!)];
}
