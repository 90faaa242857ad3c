import type { EndSide } from "@/lib/site";
import type { JudgedReading, Remedy } from "./types";

/** A visit that a failed reading asks for. */
export interface RemedyWanted {
  remedy: Remedy;
  /** Where; both sides of a joint alignment are one revisit. */
  sides: readonly EndSide[];
  /** What it is for, in words. */
  cause: string;
}

const BOTH: readonly EndSide[] = ["near", "far"];

/**
 * The revisits that failed readings ask for, each remedy once for a side. Common practice: a level or discrimination
 * that is off is aligned again; errors are looked for in the connections of either end.
 *
 * @param isJoint are both ends of the hop aligned at once?
 */
export function remediesFor(readings: readonly JudgedReading[], isJoint: boolean): RemedyWanted[] {
  const wanted = readings
    .filter((r) => r.state === "failed")
    .flatMap((r): RemedyWanted[] => {
      const cause = `${readingName(r.asked)}: ${r.words}`;
      const here: readonly EndSide[] = r.asked.side ? [r.asked.side] : BOTH;
      switch (r.asked.kind) {
        case "receive level":
        case "cross-polar":
          return isJoint
            ? [{ remedy: "align again", sides: BOTH, cause }]
            : here.map((side) => ({ remedy: "align again", sides: [side], cause }));
        case "earth resistance":
          return here.map((side) => ({ remedy: "earthing", sides: [side], cause }));
        case "switch-over":
          return here.map((side) => ({ remedy: "indoor unit", sides: [side], cause }));
        case "error run":
          return here.map((side) => ({ remedy: "connections", sides: [side], cause }));
        default:
          return []; // missing photos are open, never failed
      }
    });
  const known = new Map<string, RemedyWanted>();
  for (const w of wanted) {
    const key = `${w.remedy} ${w.sides.join()}`;
    const before = known.get(key);
    known.set(key, before ? { ...before, cause: `${before.cause}; ${w.cause}` } : w);
  }
  return [...known.values()];
}

/** Is there still a failed reading that asks for this revisit? */
export const isStillWanted = (
  { remedy, side, isJoint }: { remedy: Remedy; side: EndSide; isJoint: boolean },
  readings: readonly JudgedReading[],
): boolean => remediesFor(readings, isJoint).some((w) => w.remedy === remedy && w.sides.includes(side));

/**
 * Failed readings for which no revisit is open: the ones that they opened are done or withdrawn, and no later plan
 * places any by itself.
 */
export function withoutRevisit(
  readings: readonly JudgedReading[],
  open: readonly { remedy: Remedy; side: EndSide }[],
  isJoint: boolean,
): JudgedReading[] {
  return readings.filter((r) => {
    const wanted = remediesFor([r], isJoint);
    return wanted.some((w) => !open.some((o) => o.remedy === w.remedy && w.sides.includes(o.side)));
  });
}

/** "near end, receive level R1". */
export function readingName({ side, kind, oduLabel }: JudgedReading["asked"]): string {
  return `${side ? `${side} end, ` : ""}${kind}${oduLabel ? ` ${oduLabel}` : ""}`;
}
