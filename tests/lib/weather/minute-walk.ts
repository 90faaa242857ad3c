/** Slow and obvious reading of masks and shifts, minute by minute, to check the tables against. */
import { localOf, weekdayOf } from "@/lib/time";
import type { HourMask, ShiftWeek, SpellSegment, WorkClass } from "@/lib/weather";
import { WORK_CLASSES } from "@/lib/weather";

/** 1 for every minute of the mask in which the crew works. The clock is read each quarter of an hour. */
export function minutesInShift(mask: HourMask, shift: ShiftWeek, zone: string): Uint8Array {
  const minutes = mask.hours * 60;
  const inShift = new Uint8Array(minutes);
  for (let m = 0; m < minutes; m += 15) {
    const local = localOf(mask.startsAtMillis + m * 60_000, zone);
    const today = shift[weekdayOf(local.date) - 1];
    const yesterday = shift[(weekdayOf(local.date) + 5) % 7];
    for (let k = m; k < Math.min(minutes, m + 15); k++) {
      const at = local.minuteOfDay + (k - m);
      const isToday = today && at >= today.fromMin && at < today.toMin;
      const isNight = yesterday && at + 1440 >= yesterday.fromMin && at + 1440 < yesterday.toMin;
      inShift[k] = isToday || isNight ? 1 : 0;
    }
  }
  return inShift;
}

/** Earliest finish by trying every minute, or null when the mask ends first. Whole minutes only. */
export function walk(
  mask: HourMask,
  inShift: Uint8Array,
  segments: readonly SpellSegment[],
  startMin: number,
): number | null {
  const minutes = mask.hours * 60;
  const suits = (m: number, c: WorkClass) =>
    m < minutes &&
    inShift[m] === 1 &&
    (mask.workable[Math.floor(m / 60)]! & (1 << WORK_CLASSES.indexOf(c))) !== 0;
  let t = startMin;
  for (let s = 0; s < segments.length; ) {
    const first = segments[s]!;
    let end = s + 1;
    while (first.spell !== undefined && segments[end]?.spell === first.spell) end++;
    if (end === s + 1 && first.splittable) {
      let left = first.durationMin;
      while (left > 0) {
        if (t >= minutes) return null;
        if (suits(t, first.workClass)) left--;
        t++;
      }
    } else {
      const wanted = segments
        .slice(s, end)
        .flatMap((g) => Array.from({ length: g.durationMin }, () => g.workClass));
      for (;;) {
        if (t > minutes) return null;
        let k = 0;
        while (k < wanted.length && suits(t + k, wanted[k]!)) k++;
        if (k === wanted.length) break;
        t++;
      }
      t += wanted.length;
    }
    s = end;
  }
  return t;
}
