import type { Scheme } from "@/lib/site";
import { ascendTasks, type Way } from "./ascents";
import { ascentMin, descentMin } from "./climb";
import { addThreePoints } from "./pert";
import { ACCEPTANCE_PART } from "./returnVisits";
import type { AlignmentModel, EndTask, HopWork, HourNorms, TaskTemplate, ThreePoint } from "./types";

/**
 * The task list of a hop's alignment visit: two crews, one at each end, in the same hours; or one end by itself.
 *
 * One list stands for both ends, with the people at each of them. Minutes to align follow the larger antenna of the
 * two; both ends climb the way of the end that takes longer, since each waits for the other.
 */
export function composeAlignment(work: HopWork, norms: HourNorms): readonly EndTask[] {
  const tasks = templatesOf(work, norms).map((t) => taskOf(t, work, norms));
  return ascendTasks(tasks, longerWay(work, norms), norms);
}

/** Without the acceptance where it has a visit of its own; what came after it comes after what was before it. */
function templatesOf(work: HopWork, norms: HourNorms): readonly TaskTemplate[] {
  if (!work.isAcceptedLater) return norms.alignmentTemplates;
  const acceptance = norms.alignmentTemplates.find((t) => t.part === ACCEPTANCE_PART);
  return norms.alignmentTemplates
    .filter((t) => t !== acceptance)
    .map((t) => ({
      ...t,
      after: t.after.flatMap((before) => (before === ACCEPTANCE_PART ? acceptance!.after : [before])),
    }));
}

/** The end with the longer way up and down. */
export function longerWay(work: HopWork, norms: HourNorms): Way {
  const ways = [work.near, work.far].map((end) => ({
    heightM: end.maxMountHeightM,
    structure: end.structure,
  }));
  const wayMin = (w: Way): number =>
    ascentMin(w.heightM, w.structure, norms.climb) + descentMin(w.heightM, w.structure, norms.climb);
  return wayMin(ways[0]!) >= wayMin(ways[1]!) ? ways[0]! : ways[1]!;
}

/**
 * Minutes to align, range: the small figure up to the small diameter, the large one from the large diameter, straight
 * between; times the factor where two paths are aligned (space diversity).
 */
export function alignRange(diameterM: number, scheme: Scheme, model: AlignmentModel): ThreePoint {
  if (!(diameterM >= 0)) throw new RangeError(`diameterM must be >= 0, got ${diameterM} m`);
  const span = model.largeDiameterM - model.smallDiameterM;
  const share = Math.min(1, Math.max(0, (diameterM - model.smallDiameterM) / span));
  const factor = scheme === "1+1 space diversity" ? model.diversityFactor : 1;
  const between = (small: number, large: number): number => factor * (small + share * (large - small));
  return {
    aMin: between(model.small.aMin, model.large.aMin),
    mMin: between(model.small.mMin, model.large.mMin),
    bMin: between(model.small.bMin, model.large.bMin),
  };
}

const whereAtOneEnd = (t: TaskTemplate): EndTask["where"] =>
  t.people.climber ? "aloft" : t.workClass === "ground" ? "ground" : "indoor";

function taskOf(template: TaskTemplate, work: HopWork, norms: HourNorms): EndTask {
  const diameterM = Math.max(work.near.largestDiameterM, work.far.largestDiameterM);
  const isAlign = template.part === "align";
  const align = isAlign ? alignRange(diameterM, work.scheme, norms.alignment) : undefined;
  return {
    id: template.part,
    name: template.name,
    where: work.isOneEnd ? whereAtOneEnd(template) : template.where,
    workClass: template.workClass,
    people: template.people,
    duration: align ? addThreePoints(template.fixed, align) : template.fixed,
    after: template.after,
    splittable: template.splittable,
    usesDropZone: template.usesDropZone,
    everybody: template.everybody,
    wholeParty: template.wholeParty,
    isSetup: template.isSetup,
    source: isAlign ? norms.alignment.source : template.source,
  };
}
