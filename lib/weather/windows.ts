/** When each kind of work may be done at a site: the headline of this folder. */
import { type PreparedSeries, prepareSeries } from "./behind";
import { factorAt, hourMask } from "./masks";
import type { HourMask, LimitingFactor, SiteProfile, WeatherPolicy, WeatherSeries, WorkClass } from "./types";
import { WORK_CLASSES } from "./types";

const HOUR = 3_600_000;

/** A stretch of hours in a row that suit a class. Instants are epoch milliseconds. */
export interface WorkWindow {
  workClass: WorkClass;
  startsAtMillis: number;
  endsAtMillis: number;
  hours: number;
  /** What closes the hour after it; "none" when the series ends there. */
  endedBy: LimitingFactor;
}

export interface WorkWindows {
  mask: HourMask;
  byClass: Record<WorkClass, readonly WorkWindow[]>;
}

/**
 * Work windows of every class at a site.
 * @param minHours shorter stretches are left out
 */
export function findWindows(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  minHours = 1,
  prepared: PreparedSeries = prepareSeries(series),
): WorkWindows {
  const mask = hourMask(series, site, policy, prepared);
  return { mask, byClass: windowsOf(mask, minHours) };
}

/** Windows of a mask, e.g. of a joint mask of both ends of a hop. */
export function windowsOf(mask: HourMask, minHours = 1): Record<WorkClass, readonly WorkWindow[]> {
  const byClass = {} as Record<WorkClass, readonly WorkWindow[]>;
  for (const [c, workClass] of WORK_CLASSES.entries()) byClass[workClass] = stretches(mask, c, minHours);
  return byClass;
}

function stretches(mask: HourMask, classIndex: number, minHours: number): WorkWindow[] {
  const windows: WorkWindow[] = [];
  let from = -1;
  for (let h = 0; h <= mask.hours; h++) {
    const isOpen = h < mask.hours && ((mask.workable[h]! >> classIndex) & 1) === 1;
    if (isOpen && from < 0) from = h;
    if (isOpen || from < 0) continue;
    if (h - from >= minHours) {
      windows.push({
        workClass: WORK_CLASSES[classIndex]!,
        startsAtMillis: mask.startsAtMillis + from * HOUR,
        endsAtMillis: mask.startsAtMillis + h * HOUR,
        hours: h - from,
        endedBy: h < mask.hours ? factorAt(mask, classIndex, h) : "none",
      });
    }
    from = -1;
  }
  return windows;
}
