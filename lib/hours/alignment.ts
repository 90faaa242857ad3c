import { Random } from "@/lib/random";
import { ascendTasks } from "./ascents";
import { pauseMin } from "./climb";
import { tasksOf } from "./compose";
import { type EstimateOptions, estimateTasks } from "./hours";
import type {
  AlignmentEnd,
  AlignmentModel,
  CrewComposition,
  EndEstimate,
  EndTask,
  EndWork,
  HopWork,
  HourNorms,
  ThreePoint,
} from "./types";

/**
 * Tasks of the joint alignment and acceptance visit, as each of the two crews does them at its end. The end that takes
 * longer to climb sets the pace of both.
 */
export function composeAlignment(hop: HopWork, norms: HourNorms): readonly EndTask[] {
  const work = jointWork(hop, norms);
  const tasks = tasksOf(norms.alignmentTemplates, work, norms).map((t) =>
    t.id === "align" ? { ...t, duration: alignDuration(hop, norms.alignment) } : t,
  );
  return ascendTasks(tasks, work, norms);
}

/** Hours of the alignment visit; `endId` is the hop's id. Minutes, no weather, no travel. */
export function estimateAlignment(
  hop: HopWork,
  norms: HourNorms,
  crew: CrewComposition,
  random: Random = new Random(`${hop.scheme} ${JSON.stringify([hop.near, hop.far])}`),
  options: EstimateOptions = {},
): EndEstimate {
  const higher = higherEnd(hop, norms);
  const pauseCost = pauseMin(higher.maxMountHeightM, higher.structure, norms.climb);
  return {
    endId: hop.hopId,
    ...estimateTasks(composeAlignment(hop, norms), norms, crew, pauseCost, random, options),
  };
}

/** Time to align: by the larger antenna of the two ends, a straight line between the two sizes of the norms. */
export function alignDuration(hop: HopWork, model: AlignmentModel): ThreePoint {
  const diameterM = Math.max(hop.near.largestDiameterM, hop.far.largestDiameterM);
  const span = model.largeDiameterM - model.smallDiameterM;
  const share = Math.min(1, Math.max(0, (diameterM - model.smallDiameterM) / span));
  const factor = hop.scheme === "1+1 space diversity" ? model.diversityFactor : 1;
  const at = (small: number, large: number) => factor * (small + share * (large - small));
  return {
    aMin: at(model.small.aMin, model.large.aMin),
    mMin: at(model.small.mMin, model.large.mMin),
    bMin: at(model.small.bMin, model.large.bMin),
  };
}

/** The end whose climb takes longer. */
function higherEnd(hop: HopWork, norms: HourNorms): AlignmentEnd {
  const climb = (e: AlignmentEnd) => e.maxMountHeightM / norms.climb.ascentMPerMin[e.structure];
  return climb(hop.far) > climb(hop.near) ? hop.far : hop.near;
}

/** The alignment as an end's work: a climb to the antenna and nothing to install. */
function jointWork(hop: HopWork, norms: HourNorms): EndWork {
  const end = higherEnd(hop, norms);
  return {
    endId: hop.hopId,
    scheme: hop.scheme,
    structure: end.structure,
    mounting: "direct",
    extraTasks: [],
    largestDiameterM: end.largestDiameterM,
    heaviestLiftKg: 0,
    drivers: {
      maxMountHeightM: end.maxMountHeightM,
      antennaCount: hop.scheme === "1+1 space diversity" ? 2 : 1,
      largestDiameterM: end.largestDiameterM,
      antennaAreaM2: 0,
      antennaMassKg: 0,
      heaviestLiftKg: 0,
      oduCount: hop.scheme === "1+0" ? 1 : 2,
      couplerCount: 0,
      orthomodeCount: 0,
      polarisationChanges: 0,
      runCount: 0,
      cableM: 0,
      outdoorM: 0,
      indoorM: 0,
      connectorCount: 0,
      earthingPointCount: 0,
      oduLeadCount: 0,
      wrapCount: 0,
      tieCount: 0,
      entryCount: 0,
      bridgeM: 0,
    },
  };
}
