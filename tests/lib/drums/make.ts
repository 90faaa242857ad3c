import type { CutPolicy, DrumKind, DrumOnHand, RunWanted } from "@/lib/drums";
import { addDays, type CalendarDate, calendarDate } from "@/lib/time";

export const TODAY = calendarDate("2026-03-02");

export const onDay = (day: number): CalendarDate => addDays(TODAY, day);

/** No saw allowance and everything useful: the plain cutting stock problem. */
export const PLAIN: CutPolicy = { sawAllowanceCm: 0, minUsefulCm: 0 };

export function run(id: string, lengthCm: number, more: Partial<RunWanted> = {}): RunWanted {
  return {
    id,
    cableCode: "C10",
    lengthCm,
    neededOn: onDay(60),
    hopId: `hop ${id}`,
    endId: `end ${id}`,
    siteId: `site ${id}`,
    label: `run ${id}`,
    ...more,
  };
}

export function drum(id: string, remainingCm: number, more: Partial<DrumOnHand> = {}): DrumOnHand {
  return {
    id,
    serial: `D-${id}`,
    cableCode: "C10",
    placeId: "depot",
    receivedCm: 50_000,
    remainingCm,
    availableOn: TODAY,
    isNew: false,
    ...more,
  };
}

export function kind(lengthCm: number, more: Partial<DrumKind> = {}): DrumKind {
  return { cableCode: "C10", lengthCm, priceMinor: lengthCm * 2, leadTimeDays: 14, ...more };
}
