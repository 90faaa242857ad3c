/** What holds a run: ties by the metre and at the named places, or cable hangers by their spacing. */
import { metres } from "./rounding";
import type { FullPolicy, RunTies } from "./types";

export interface RunToFix {
  outdoorM: number;
  indoorM: number;
  earthingPoints: number;
  wraps: number;
}

export interface Fixing {
  /** Exact, without loss. */
  tiesOutdoors: number;
  tiesIndoors: number;
  ties: RunTies;
  hangers: number;
  /** "42.0 on 42.0 m + 4 at the drip loop + 6 at earthing points + 8 at wraps". */
  outdoorReason: string;
}

type FixingPolicy = Pick<
  FullPolicy,
  | "tiesOrHangers"
  | "hangerSpacingM"
  | "tiesPerOutdoorM"
  | "tiesPerIndoorM"
  | "tiesPerDripLoop"
  | "tiesPerEarthingPoint"
  | "tiesPerWrap"
>;

/** Ties and hangers of one run. With hangers, ties stay only at drip loop, earthing points and wraps. */
export function fixRun(run: RunToFix, policy: FixingPolicy): Fixing {
  const onRoute = policy.tiesOrHangers === "ties" ? run.outdoorM * policy.tiesPerOutdoorM : 0;
  const atPoints = run.earthingPoints * policy.tiesPerEarthingPoint;
  const atWraps = run.wraps * policy.tiesPerWrap;
  const indoors = run.indoorM * policy.tiesPerIndoorM;
  const hangers =
    policy.tiesOrHangers === "hangers" ? Math.ceil(run.outdoorM / policy.hangerSpacingM - 1e-9) : 0;
  const route = onRoute > 0 ? `${metres(onRoute)} on ${metres(run.outdoorM)} m + ` : "";
  return {
    tiesOutdoors: onRoute + policy.tiesPerDripLoop + atPoints + atWraps,
    tiesIndoors: indoors,
    ties: {
      onRoute,
      atDripLoop: policy.tiesPerDripLoop,
      atEarthingPoints: atPoints,
      atWraps,
      indoors,
    },
    hangers,
    outdoorReason: `${route}${policy.tiesPerDripLoop} at the drip loop + ${atPoints} at earthing points + ${atWraps} at wraps`,
  };
}
