/** Cuts that a list in force has named for the coming days: they stay on their drum while they fit. */
import type { CalendarDate } from "@/lib/time";
import { cutBy, daysToKit, thereOn } from "./places";
import type { CutPolicy, DaysOver, DrumOnHand, FixedCut, RunWanted } from "./types";

/** A cut as a list names it. */
export interface ListedCut {
  runId: string;
  drumId: string;
  fromMarkCm: number;
  lengthCm: number;
}

export interface MarkNow {
  runId: string;
  wasCm: number;
  /** Undefined = it does not fit on the drum any more. */
  isCm: number | undefined;
}

/** Where listed cuts of one drum begin when its cable now begins at `fromCm`: in the order of their marks, as they fit. */
export function marksNow(
  cuts: readonly Omit<ListedCut, "drumId">[],
  drum: { fromCm: number; receivedCm: number },
  sawAllowanceCm: number,
): MarkNow[] {
  let mark = drum.fromCm;
  return [...cuts]
    .sort((a, b) => a.fromMarkCm - b.fromMarkCm || (a.runId < b.runId ? -1 : 1))
    .map(({ runId, fromMarkCm, lengthCm }) => {
      const end = mark + lengthCm + sawAllowanceCm;
      if (end > drum.receivedCm) return { runId, wasCm: fromMarkCm, isCm: undefined };
      const isCm = mark;
      mark = end;
      return { runId, wasCm: fromMarkCm, isCm };
    });
}

/**
 * Fixed cuts for the runs that a list in force has put on drums, for those that `isKept` names by run and day of its cut.
 * A run goes free when its drum is gone or too short, or when it is late on it and another drum would serve it in time.
 */
export function promisedCuts(
  listed: readonly ListedCut[],
  runs: readonly RunWanted[],
  drums: readonly DrumOnHand[],
  policy: CutPolicy,
  options: { today: CalendarDate; daysOver?: DaysOver },
  isKept: (run: RunWanted, cutOn: CalendarDate) => boolean,
): FixedCut[] {
  const { today, daysOver } = options;
  const runById = new Map(runs.map((run) => [run.id, run]));
  const isInTime = (run: RunWanted, drum: DrumOnHand): boolean => {
    const from = drum.availableOn > today ? drum.availableOn : today;
    const needed = run.neededOn > today ? run.neededOn : today;
    const on = thereOn(drum, run, from, daysOver);
    return on !== undefined && on <= needed;
  };
  const isLong = (run: RunWanted, drum: DrumOnHand) =>
    drum.cableCode === run.cableCode && drum.remainingCm >= run.lengthCm + policy.sawAllowanceCm;

  return drums.flatMap((drum): FixedCut[] => {
    const own = listed.flatMap((cut) => {
      const run = cut.drumId === drum.id ? runById.get(cut.runId) : undefined;
      if (run?.cableCode !== drum.cableCode || !isKept(run, cutBy(drum, run, daysOver))) return [];
      const mayBeSooner = drums.some((other) => isLong(run, other) && isInTime(run, other));
      return isInTime(run, drum) || !mayBeSooner ? [{ ...cut, lengthCm: run.lengthCm }] : [];
    });
    const fromCm = drum.receivedCm - drum.remainingCm;
    return marksNow(own, { fromCm, receivedCm: drum.receivedCm }, policy.sawAllowanceCm).flatMap(
      ({ runId, wasCm, isCm }): FixedCut[] => {
        const run = runById.get(runId)!;
        if (isCm === undefined || !Number.isFinite(daysToKit(drum, run, daysOver))) return [];
        return [
          {
            drumId: drum.id,
            runId,
            lengthCm: run.lengthCm,
            cutOn: cutBy(drum, run, daysOver),
            isMade: false,
            fromMarkCm: wasCm,
          },
        ];
      },
    );
  });
}
