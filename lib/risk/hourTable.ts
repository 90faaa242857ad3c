/** An hour mask as days of a plan or of the past, with what closes them. */
import { type CalendarDate, dayNumber } from "@/lib/time";
import {
  clockOfDays,
  dayMasks,
  type HourMask,
  LIMITING_FACTORS,
  type WallClock,
  WORK_CLASSES,
  wallOf,
} from "@/lib/weather";
import { DAYLIGHT } from "./causes";
import type { HourTable } from "./types";

const CLASSES = WORK_CLASSES.length;
const ALL_CLASSES = (1 << CLASSES) - 1;
const HOUR_MILLIS = 3_600_000;

/** Reads the hours of masks of one zone and one row of days; what many masks share is worked out once. */
export class HourTables {
  readonly #clock: WallClock;
  /** By begin and length of the mask: index of the mask's hour by day * 24 + hour, -1 = outside. */
  readonly #hours = new Map<string, Int32Array>();

  constructor(
    readonly zone: string,
    readonly firstDay: CalendarDate,
    readonly dayCount: number,
  ) {
    this.#clock = clockOfDays(zone, firstDay, dayCount);
  }

  /** Hours outside the mask are closed for want of data. */
  of(mask: HourMask): HourTable {
    const { zone, firstDay, dayCount } = this;
    const masks = dayMasks(mask, zone, firstDay, dayCount, this.#clock);
    const hourOf = this.#hoursOf(mask);
    const dark = new Uint32Array(dayCount);
    const cause = new Uint8Array(CLASSES * dayCount);
    const counts = new Uint8Array(CLASSES * LIMITING_FACTORS.length);
    for (let day = 0; day < dayCount; day++) {
      counts.fill(0);
      for (let hour = 0; hour < 24; hour++) {
        const h = hourOf[day * 24 + hour]!;
        if (h < 0) continue;
        for (let closed = ALL_CLASSES & ~mask.workable[h]!; closed !== 0; closed &= closed - 1) {
          const c = 31 - Math.clz32(closed & -closed);
          const factor = mask.factor[h * CLASSES + c]!;
          if (factor === DAYLIGHT) dark[day]! |= 1 << hour;
          else counts[c * LIMITING_FACTORS.length + factor]!++;
        }
      }
      for (let c = 0; c < CLASSES; c++) cause[c * dayCount + day] = mostOf(counts, c);
    }
    return { dayCount, masks, dark, cause };
  }

  #hoursOf(mask: HourMask): Int32Array {
    const key = `${mask.startsAtMillis} ${mask.hours}`;
    let hours = this.#hours.get(key);
    if (!hours) {
      hours = new Int32Array(this.dayCount * 24).fill(-1);
      const first = dayNumber(this.firstDay);
      const from = Math.max(0, Math.floor((first - 1) * 24 - mask.startsAtMillis / HOUR_MILLIS));
      const to = Math.min(mask.hours, from + (this.dayCount + 3) * 24);
      for (let h = from; h < to; h++) {
        const { day, minuteOfDay } = wallOf(this.#clock, mask.startsAtMillis / 60_000 + h * 60);
        const at = (day - first) * 24 + Math.floor(minuteOfDay / 60);
        if (at >= 0 && at < hours.length && hours[at] === -1) hours[at] = h;
      }
      this.#hours.set(key, hours);
    }
    return hours;
  }
}

/** The factor counted most often for class `c`, 0 ("none") when nothing was; the first of equals. */
function mostOf(counts: Uint8Array, c: number): number {
  const from = c * LIMITING_FACTORS.length;
  let most = 0;
  for (let factor = 1; factor < LIMITING_FACTORS.length; factor++)
    if (counts[from + factor]! > counts[from + most]!) most = factor;
  return most;
}
