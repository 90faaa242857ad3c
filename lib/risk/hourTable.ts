/** An hour mask as days of a plan or of the past, with what closes them. */
import { type CalendarDate, dayNumber, offsetMinutes } from "@/lib/time";
import { clockOfDays, dayMasks, type HourMask, type WallClock, WORK_CLASSES } from "@/lib/weather";
import { DAYLIGHT } from "./causes";
import type { HourTable } from "./types";

const CLASSES = WORK_CLASSES.length;

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
    const counts = new Uint8Array(16);
    for (let day = 0; day < dayCount; day++) {
      for (let c = 0; c < CLASSES; c++) {
        counts.fill(0);
        let most = 0;
        for (let hour = 0; hour < 24; hour++) {
          const h = hourOf[day * 24 + hour]!;
          const factor = h < 0 ? 0 : mask.factor[h * CLASSES + c]!;
          if (factor === DAYLIGHT) dark[day]! |= 1 << hour;
          else if (factor > 0 && ++counts[factor]! > counts[most]!) most = factor;
        }
        cause[c * dayCount + day] = most;
      }
    }
    return { dayCount, masks, dark, cause };
  }

  #hoursOf(mask: HourMask): Int32Array {
    const key = `${mask.startsAtMillis} ${mask.hours}`;
    let hours = this.#hours.get(key);
    if (!hours) {
      hours = new Int32Array(this.dayCount * 24).fill(-1);
      const first = dayNumber(this.firstDay) * 1440;
      for (let h = 0; h < mask.hours; h++) {
        const startsAt = mask.startsAtMillis + h * 3_600_000;
        const at = Math.floor((startsAt / 60_000 + offsetMinutes(startsAt, this.zone) - first) / 60);
        if (at >= 0 && at < hours.length && hours[at] === -1) hours[at] = h;
      }
      this.#hours.set(key, hours);
    }
    return hours;
  }
}
