/** What would end an install earlier: one more climber, beginning at first light, or a night between two days. */
import type { EndEstimate, WorkSegment } from "@/lib/hours";
import { type CalendarDate, instantAt, localOf, weekdayOf } from "@/lib/time";
import { clockOfMask, earliestFinish, finishTables, type HourMask, type ShiftWeek } from "@/lib/weather";

export const HELPS = ["usual", "one more climber", "first light", "one day only"] as const;
export type Help = (typeof HELPS)[number];

export interface HelpRow {
  help: Help;
  /** Time on site, set-up included. */
  onSiteMin: number;
  /** Earliest begin and end within the forecast; undefined = it does not end in it. */
  begins?: LocalMinute;
  ends?: LocalMinute;
}

export interface LocalMinute {
  on: CalendarDate;
  minute: number;
}

export interface HelpInput {
  estimate: Pick<EndEstimate, "segments" | "durationMin" | "setupMin" | "withOneMoreClimberMin">;
  /** Hours of the forecast that suit each class of work. */
  mask: HourMask;
  zone: string;
  /** The crew's shift inside the hours in which the site is open. */
  shift: ShiftWeek;
  /** The same with the shift from first light on. */
  lightShift: ShiftWeek;
  /** Days on which it may begin, in order. */
  days: readonly CalendarDate[];
  nowMillis: number;
}

/**
 * Earliest begin and end of an install under the forecast, with the usual crew and shift and with each help alone. As usual the work may
 * pause over night where its steps allow; "one day only" is the same without: the difference is what splitting buys.
 */
export function whatHelps(input: HelpInput): HelpRow[] {
  const { segments, durationMin, setupMin, withOneMoreClimberMin } = input.estimate;
  const faster = (withOneMoreClimberMin - setupMin) / (durationMin - setupMin);
  const withMore = stretched(segments, setupMin, Math.min(1, faster));
  return [
    row("usual", segments, input.shift, input),
    row("one more climber", withMore, input.shift, input),
    row("first light", segments, input.lightShift, input),
    row("one day only", segments, input.shift, input),
  ];
}

/** The work after the set-up in another time. */
function stretched(segments: readonly WorkSegment[], setupMin: number, factor: number): WorkSegment[] {
  let setupLeft = setupMin;
  return segments.map((s) => {
    const fixed = Math.min(s.durationMin, setupLeft);
    setupLeft -= fixed;
    return { ...s, durationMin: fixed + factor * (s.durationMin - fixed) };
  });
}

function row(
  help: Help,
  segments: readonly WorkSegment[],
  shift: ShiftWeek,
  { mask, zone, days, nowMillis }: HelpInput,
): HelpRow {
  const onSiteMin = segments.reduce((sum, s) => sum + s.durationMin, 0);
  const tables = finishTables(mask, shift, clockOfMask(mask, zone));
  const at = (min: number): LocalMinute => {
    const { date, minuteOfDay } = localOf(mask.startsAtMillis + min * 60_000, zone);
    return { on: date, minute: minuteOfDay };
  };
  let best: { startMin: number; finishMin: number } | undefined;
  for (const on of days) {
    const open = shift[weekdayOf(on) - 1];
    if (!open) continue;
    const fromMillis = Math.max(instantAt(on, open.fromMin, zone), nowMillis);
    const fromMin = (fromMillis - mask.startsAtMillis) / 60_000;
    if (fromMin < 0 || fromMin >= mask.hours * 60) continue;
    const found = earliestFinish(tables, segments, fromMin);
    if (!found) break; // a later begin never ends earlier
    const isOneDay = at(found.startMin).on === at(found.finishMin - 1).on;
    if (help === "one day only" && !isOneDay) continue;
    best = found;
    break;
  }
  return best
    ? { help, onSiteMin, begins: at(best.startMin), ends: at(best.finishMin) }
    : { help, onSiteMin };
}
