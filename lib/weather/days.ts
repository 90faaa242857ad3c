/** The hour mask as wall-clock days, the form in which crew scheduling reads it. */
import type { CalendarDate } from "@/lib/time";
import type { HourMask } from "./types";
import { WORK_CLASSES } from "./types";
import { dayOfDate, epochMinOf, type WallClock, wallClock } from "./wall-clock";

/**
 * Per class and local day a 24-bit mask: bit h is set when every moment that the site's clock calls hour h may
 * be worked. The hour that a clock change skips is never set; one that it repeats needs both passes. Hours
 * outside the mask are not workable.
 *
 * @returns `masks[classIndex * dayCount + day]`, classIndex by WORK_CLASSES
 */
export function dayMasks(
  mask: HourMask,
  zone: string,
  firstDay: CalendarDate,
  dayCount: number,
  clock: WallClock = clockOfDays(zone, firstDay, dayCount),
): Uint32Array {
  const days = new Uint32Array(WORK_CLASSES.length * dayCount);
  const first = dayOfDate(firstDay);
  const originMin = mask.startsAtMillis / 60_000;
  const edges = new Float64Array(25);
  for (let d = 0; d < dayCount; d++) {
    hourEdges(clock, first + d, edges);
    for (let h = 0; h < 24; h++) {
      const bits = workableThrough(mask, edges[h]! - originMin, edges[h + 1]! - originMin);
      for (let c = 0; c < WORK_CLASSES.length; c++) {
        if (bits & (1 << c)) days[c * dayCount + d]! |= 1 << h;
      }
    }
  }
  return days;
}

/** A clock for `dayMasks`, to share between the sites of one zone. */
export function clockOfDays(zone: string, firstDay: CalendarDate, dayCount: number): WallClock {
  const from = dayOfDate(firstDay) * 86_400_000;
  return wallClock(zone, from, from + dayCount * 86_400_000);
}

function hourEdges(clock: WallClock, day: number, edges: Float64Array): void {
  const midnight = epochMinOf(clock, day, 0);
  const isPlain = epochMinOf(clock, day + 1, 0) - midnight === 1440;
  for (let h = 0; h <= 24; h++) edges[h] = isPlain ? midnight + h * 60 : epochMinOf(clock, day, h * 60);
}

/** Classes workable in every hour of the mask that [fromMin, toMin) touches; none when it is empty. */
function workableThrough(mask: HourMask, fromMin: number, toMin: number): number {
  if (toMin <= fromMin) return 0;
  const first = Math.floor(fromMin / 60);
  const end = Math.ceil(toMin / 60);
  if (first < 0 || end > mask.hours) return 0;
  let bits = 0xff;
  for (let i = first; i < end; i++) bits &= mask.workable[i]!;
  return bits;
}
