/**
 * Rest that heat and cold ask for, as a table of steps: so many minutes of every hour outdoors. A planning figure, never
 * a word on whether the work may be done: that is for the limits, the site's rules and the crew.
 */

export interface HeatStep {
  /** From this heat index on. */
  fromC: number;
  restMinPerH: number;
}

export interface ColdStep {
  /** Below this wind chill at the mount. */
  belowC: number;
  restMinPerH: number;
}

export interface DeratingPolicy {
  heat: readonly HeatStep[];
  cold: readonly ColdStep[];
  source: string;
}

/** Steps in the manner of public work and rest tables; the figures are from memory and ours: calibrate. */
export const DEFAULT_DERATING: DeratingPolicy = {
  heat: [
    { fromC: 27, restMinPerH: 5 },
    { fromC: 32, restMinPerH: 15 },
    { fromC: 37, restMinPerH: 30 },
  ],
  cold: [
    { belowC: -10, restMinPerH: 5 },
    { belowC: -15, restMinPerH: 10 },
  ],
  source: "from memory, in the manner of NIOSH work and rest tables and ACGIH warm-up breaks; our own steps",
};

export interface Rest {
  restMinPerH: number;
  /** What asks for it; undefined = no rest. */
  cause?: "heat" | "cold";
}

/** The longest rest that any step asks for. */
export function restFor(heatIndexC: number, windChillC: number, policy: DeratingPolicy): Rest {
  const longest = (steps: readonly { restMinPerH: number }[]) =>
    steps.reduce((most, s) => Math.max(most, s.restMinPerH), 0);
  const heat = longest(policy.heat.filter((s) => heatIndexC >= s.fromC));
  const cold = longest(policy.cold.filter((s) => windChillC < s.belowC));
  if (heat === 0 && cold === 0) return { restMinPerH: 0 };
  return heat >= cold ? { restMinPerH: heat, cause: "heat" } : { restMinPerH: cold, cause: "cold" };
}

/** Factor on the time of work that rests so many minutes of every hour. */
export function restFactor(restMinPerH: number): number {
  if (!(restMinPerH >= 0 && restMinPerH < 60))
    throw new RangeError(`restMinPerH must be in [0, 60), got ${restMinPerH} min`);
  return 60 / (60 - restMinPerH);
}
