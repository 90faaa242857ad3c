/** Take-off and hours of hops, each distinct kind of work solved once for the reference crew. */
import type { Remedy } from "@/lib/acceptance";
import { calibratedEstimate, type HourCalibration, NO_CALIBRATION, type WorkKind } from "@/lib/calibration";
import {
  ACCEPTANCE_PARTS,
  type CrewComposition,
  type EndEstimate,
  type EndWork,
  estimateAlignment,
  estimateHours,
  type HopWork,
  type HourNorms,
  REMEDY_PARTS,
  workKey,
} from "@/lib/hours";
import type { EndSide, Hop, Site } from "@/lib/site";
import { type HopTakeoff, type TakeoffContext, takeOff } from "@/lib/takeoff";
import type { CalendarDate } from "@/lib/time";
import { fullComposition } from "./crewDays";
import type { Crew } from "./types";
import type { HopEstimates } from "./visits";
import { endWork, hopWork, realignWork } from "./work";
import { YARDSTICK } from "./yardstick";

/** Four people as a usual crew has them (common practice): what estimates are made for when no crew is known. */
const USUAL_CREW: CrewComposition = {
  people: [
    ["climber", "rescue", "rigger", "technician"],
    ["climber", "rescue", "ground"],
    ["climber", "ground"],
    ["ground", "technician"],
  ],
};

/** The crew that estimates are made for: the largest first crew by code, or the usual four. */
export function referenceCrew(crews: readonly Crew[], on: CalendarDate): CrewComposition {
  const largest = [...crews].sort(
    (a, b) => b.members.length - a.members.length || (a.code < b.code ? -1 : 1),
  )[0];
  return largest && largest.members.length > 0 ? fullComposition(largest, on) : USUAL_CREW;
}

export interface WorkedHop {
  takeoff: HopTakeoff;
  estimates: HopEstimates;
}

/** Works hops one by one; equal works share one estimate. Keep one for a whole programme. */
export class HopWorker {
  readonly #known = new Map<string, EndEstimate>();
  readonly #crewKey: string;

  constructor(
    readonly context: TakeoffContext,
    readonly norms: HourNorms,
    readonly crew: CrewComposition,
    readonly calibration: HourCalibration = NO_CALIBRATION,
  ) {
    this.#crewKey = JSON.stringify(crew.people);
  }

  /** @throws RangeError when an end's site is not among the context's sites: the database does not let that be */
  work(hop: Hop): WorkedHop {
    const takeoff = takeOff(hop, this.context);
    const ofBoth = (work: (hop: Hop, side: EndSide, takeoff: HopTakeoff) => EndEstimate) => ({
      near: work.call(this, hop, "near", takeoff),
      far: work.call(this, hop, "far", takeoff),
    });
    const estimates: HopEstimates = { ...ofBoth(this.install), alignment: ofBoth(this.alignment) };
    if (hop.acceptance === "own visit") estimates.acceptance = ofBoth(this.acceptance);
    return { takeoff, estimates };
  }

  install(hop: Hop, side: EndSide, takeoff: HopTakeoff): EndEstimate {
    return this.#end(this.#endWork(hop, side, takeoff));
  }

  alignment(hop: Hop, side: EndSide, takeoff: HopTakeoff): EndEstimate {
    return this.#align(hopWork(hop, side, this.context.sites, takeoff));
  }

  /** The readings on a visit of their own. */
  acceptance(hop: Hop, side: EndSide, takeoff: HopTakeoff): EndEstimate {
    return this.#end({ ...this.#endWork(hop, side, takeoff), onlyParts: ACCEPTANCE_PARTS });
  }

  revisit(hop: Hop, side: EndSide, takeoff: HopTakeoff, remedy: Remedy): EndEstimate {
    return remedy === "align again"
      ? this.#align(realignWork(hopWork(hop, side, this.context.sites, takeoff)))
      : this.#end({ ...this.#endWork(hop, side, takeoff), onlyParts: REMEDY_PARTS[remedy] });
  }

  #endWork(hop: Hop, side: EndSide, takeoff: HopTakeoff): EndWork {
    return endWork(hop, hop[side], siteOf(this.context.sites, hop[side].siteId), takeoff[side]);
  }

  #end(work: EndWork): EndEstimate {
    const estimate = this.#once(`${this.#crewKey} ${workKey(work)}`, () =>
      this.#calibrated(estimateHours(work, this.norms, this.crew), "install"),
    );
    return { ...estimate, endId: work.endId };
  }

  #align(work: HopWork): EndEstimate {
    const { hopId, ...key } = work;
    const estimate = this.#once(`${this.#crewKey} alignment ${JSON.stringify(key)}`, () =>
      this.#calibrated(estimateAlignment(work, this.norms, this.crew), "alignment"),
    );
    return { ...estimate, endId: hopId };
  }

  #calibrated(estimate: EndEstimate, kind: WorkKind): EndEstimate {
    return calibratedEstimate(estimate, kind, this.calibration, this.norms);
  }

  #once(key: string, solve: () => EndEstimate): EndEstimate {
    let estimate = this.#known.get(key);
    if (!estimate) {
      estimate = solve();
      this.#known.set(key, estimate);
    }
    return estimate;
  }
}

function siteOf(sites: ReadonlyMap<string, Site>, id: string): Site {
  const site = sites.get(id);
  if (!site) throw new RangeError(`no site ${id} in the take-off's context`);
  return site;
}

/** Minutes of the yardstick's ends by a crew's people: kept from plan to plan under `paceBasis`. */
export interface KeptPaces {
  get: (people: string) => readonly number[] | undefined;
  set: (people: string, minutes: readonly number[]) => void;
}

/** Raised when the same people and norms give other minutes than before. */
const PACE_METHOD = 1;

/** What kept minutes rest on besides their key. When it differs, they are worked out anew. */
export const paceBasis = (norms: HourNorms, calibration: HourCalibration = NO_CALIBRATION): string =>
  JSON.stringify([
    PACE_METHOD,
    YARDSTICK,
    // Practice and rest are not in an estimate: they stretch a crew's own work, and a day's.
    { ...norms, version: undefined, learning: undefined, derating: undefined },
    calibration.work.install?.factor ?? 1,
  ]);

/**
 * Factor on the reference crew's durations for each crew: the mean ratio over the yardstick's ends, by its own people.
 * It hangs on crews, norms and accepted factors alone: another hop in the programme changes nobody's hours. A crew that
 * lacks a skill is estimated with it borrowed; the scheduler's needs keep it away from such work.
 *
 * @param kept minutes known under the same `paceBasis`; those that are missing are added
 */
export function crewPaces(
  crews: readonly Crew[],
  on: CalendarDate,
  norms: HourNorms,
  reference: CrewComposition,
  calibration: HourCalibration = NO_CALIBRATION,
  kept: KeptPaces = new Map(),
): Map<string, number> {
  const minutesOf = (crew: CrewComposition) =>
    YARDSTICK.map(
      (work) =>
        calibratedEstimate(estimateHours(work, norms, crew), "install", calibration, norms).durationMin,
    );
  const once = (crew: CrewComposition): readonly number[] => {
    const key = JSON.stringify(crew.people);
    const known = kept.get(key);
    if (known) return known;
    const minutes = minutesOf(crew);
    kept.set(key, minutes);
    return minutes;
  };
  const measure = once(reference);
  return new Map(
    crews.map((crew) => {
      const ratios = once(fullComposition(crew, on)).map((min, i) => min / measure[i]!);
      return [crew.code, ratios.reduce((a, b) => a + b, 0) / ratios.length];
    }),
  );
}
