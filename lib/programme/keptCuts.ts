/** Which cuts of the list in force a new one leaves where they are: people have printed them and stand at the drum. */
import { type DaysOver, type DrumOnHand, type FixedCut, promisedCuts, type RunWanted } from "@/lib/drums";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import type { ProgrammeInput } from "./types";

/** The last day whose cuts stay: tomorrow, or on a Friday and at a weekend Monday. */
export function cutsStayUntil(today: CalendarDate): CalendarDate {
  let day = addDays(today, 1);
  while (weekdayOf(day) > 5) day = addDays(day, 1);
  return day;
}

/** Cuts of the list in force that stay while they fit on their drum. */
interface KeptCuts {
  /** Those due by `cutsStayUntil`, and those of kits that somebody has begun to pick. */
  firm: FixedCut[];
  /** With the later ones. */
  all: FixedCut[];
}

/** Which listed cuts still fit; a list laid out anew keeps the firm ones in any case (`steadierCuts`). */
export function keptCuts(
  runs: readonly RunWanted[],
  drums: readonly DrumOnHand[],
  {
    today,
    cutPolicy,
    listedCuts = [],
    begunRuns,
  }: Pick<ProgrammeInput, "today" | "cutPolicy" | "listedCuts" | "begunRuns">,
  daysOver: DaysOver,
): KeptCuts {
  const until = cutsStayUntil(today);
  const kept = (isKept: (run: RunWanted, cutOn: CalendarDate) => boolean) =>
    promisedCuts(listedCuts, runs, drums, cutPolicy, { today, daysOver }, isKept);
  return {
    firm: kept((run, cutOn) => cutOn <= until || (begunRuns?.has(run.id) ?? false)),
    all: kept(() => true),
  };
}
