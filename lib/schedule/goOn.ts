/** Work under way when a plan begins: what of it is left, and when it ends (docs/methods/schedule.md, "Kept work"). */
import type { WorkSegment } from "@/lib/hours";
import { allOf, minuteOf, type Walk, walk } from "./keptWork";
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

/** Where work under way stands from the first day on; undefined for a visit that its crew cannot go on with. */
export function goOn(problem: ScheduleProblem, begun: readonly Begun[]): (GoesOn | undefined)[] {
  const built = begun.length > 0 ? buildModel(problem) : undefined;
  if (!built?.ok) return begun.map(() => undefined);
  const m = built.value;
  return begun.map((b) => {
    // Joint work never goes over night.
    if (m.partner[b.visit]! >= 0) return undefined;
    const goesOn = walkOf(m, b);
    const [seg, rem] = b.isRest ? allOf(m, b.visit) : restUntil(m, b, walkOf(m, b, b.sleptThere));
    const at = walk(m, b.visit, { ...goesOn, seg, rem });
    if (!at) return undefined;
    const segments = problem.visits[b.visit]!.segments.slice(seg - m.segFrom[b.visit]!);
    return {
      placed: { visit: b.visit, crew: b.crew, ...at },
      segments: segments.map((s, i) => (i === 0 ? { ...s, durationMin: rem } : s)),
    };
  });
}

const walkOf = (m: Model, b: Begun, sleptThere = false): Walk => ({
  ...b,
  day: 0,
  seg: m.segFrom[b.visit]!,
  rem: m.segMin[m.segFrom[b.visit]!]!,
  sleptThere,
  mayStayAway: true,
});

/** The longest end of the work, whole norm minutes, that is done by the end as planned; a minute at least. */
function restUntil(m: Model, b: Begun, planned: Walk): [number, number] {
  let [fits, tooLong] = [1, Math.floor(m.workMin[b.visit]!) + 1];
  while (tooLong - fits > 1) {
    const leftMin = (fits + tooLong) >> 1;
    const [seg, rem] = lastMinutes(m, b.visit, leftMin);
    const at = walk(m, b.visit, { ...planned, seg, rem });
    if (at && minuteOf(at) <= minuteOf(b)) fits = leftMin;
    else tooLong = leftMin;
  }
  return lastMinutes(m, b.visit, fits);
}

function lastMinutes(m: Model, v: number, leftMin: number): [number, number] {
  let left = leftMin;
  for (let seg = m.segFrom[v + 1]! - 1; seg > m.segFrom[v]!; seg--) {
    if (left <= m.segMin[seg]!) return [seg, left];
    left -= m.segMin[seg]!;
  }
  return [m.segFrom[v]!, Math.min(left, m.segMin[m.segFrom[v]!]!)];
}
