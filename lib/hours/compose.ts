import type { Scheme } from "@/lib/site";
import { ascendTasks } from "./ascents";
import { addThreePoints, checkThreePoint } from "./pert";
import { acceptanceAtEnd } from "./returnVisits";
import type { EndTask, EndWork, HourDriver, HourNorms, TaskTemplate, ThreePoint } from "./types";

/** A template that applies, and how many tasks it gives. */
interface Part {
  template: TaskTemplate;
  repeats: number;
}

/**
 * The task list of one end's install visit, from the gate to the line test, composed from the templates that apply.
 *
 * @param roomShare share of the longest spell aloft to plan an ascent with, see ascendTasks
 * @returns tasks in working order; every `after` names a task of the list
 * @throws RangeError on a negative driver or a template whose figures are out of order
 */
export function composeTasks(work: EndWork, norms: HourNorms, roomShare = 1): readonly EndTask[] {
  return climbTo(composeParts(work, norms), work, norms, roomShare);
}

/** The end's tasks before anyone has climbed: no ascents yet. */
export function composeParts(work: EndWork, norms: HourNorms): readonly EndTask[] {
  const templates = templatesOf(work, norms);
  const parts = templates
    .filter((t) => (work.onlyParts?.includes(t.part) ?? true) && applies(t, work, norms))
    .map((template) => ({ template, repeats: repeatsOf(template, work) }));
  const present = new Map(parts.map((p) => [p.template.part, p]));
  const byPart = new Map(templates.map((t) => [t.part, t]));
  return inWorkingOrder(parts).map(([part, index]) => taskOf(part, index, work, present, byPart));
}

/** The rows to choose from. A return visit takes the readings, too, before it cleans up. */
function templatesOf(work: EndWork, norms: HourNorms): readonly TaskTemplate[] {
  if (!work.onlyParts) return [...norms.templates, ...extraTemplates(work, norms)];
  const readings = acceptanceAtEnd(norms);
  if (!readings) return norms.templates;
  return norms.templates.flatMap((t) =>
    t.part === "clean-up" ? [readings, { ...t, after: [...t.after, readings.part] }] : [t],
  );
}

/** The tasks with the ascents that the end's mount asks for. */
export function climbTo(
  parts: readonly EndTask[],
  work: EndWork,
  norms: HourNorms,
  roomShare: number,
): readonly EndTask[] {
  const way = { heightM: work.drivers.maxMountHeightM, structure: work.structure };
  return ascendTasks(parts, way, norms, roomShare);
}

/** Repeated parts one after the other, but the parts of one spell unit by unit: connect 1, weatherproof 1, connect 2. */
function inWorkingOrder(parts: readonly Part[]): [Part, number][] {
  const order: [Part, number][] = [];
  for (let i = 0; i < parts.length; ) {
    const { template, repeats } = parts[i]!;
    let end = i + 1;
    while (template.spell && parts[end]?.template.spell === template.spell) end++;
    for (let r = 0; r < repeats; r++) for (const part of parts.slice(i, end)) order.push([part, r]);
    i = end;
  }
  return order;
}

function taskOf(
  part: Part,
  index: number,
  work: EndWork,
  present: ReadonlyMap<string, Part>,
  byPart: ReadonlyMap<string, TaskTemplate>,
): EndTask {
  const { template, repeats } = part;
  const after = resolveAfter(template.after, present, byPart);
  const label = repeats > 1 ? unitLabel(template.repeat!, index, work.scheme) : undefined;
  return {
    id: taskId(part, index),
    name: label ? `${template.name} (${label})` : template.name,
    where: template.where,
    workClass: template.workClass,
    people: template.people,
    duration: durationOf(template, repeats, work),
    after: after.flatMap((p) => predecessorIds(p, part, index)),
    splittable: template.splittable,
    spell: template.spell && `${template.spell}-${index + 1}`,
    usesDropZone: template.usesDropZone,
    atFoot: template.atFoot,
    everybody: template.everybody,
    wholeParty: template.wholeParty,
    isSetup: template.isSetup,
    source: template.source,
  };
}

/** Parts that apply; one that does not hands on what came before it. */
function resolveAfter(
  names: readonly string[],
  present: ReadonlyMap<string, Part>,
  byPart: ReadonlyMap<string, TaskTemplate>,
): Part[] {
  const found = new Map<string, Part>();
  const asked = new Set<string>();
  const ask = (name: string): void => {
    if (asked.has(name)) return;
    asked.add(name);
    const part = present.get(name);
    if (part) found.set(name, part);
    else for (const before of byPart.get(name)?.after ?? []) ask(before);
  };
  for (const name of names) ask(name);
  return [...found.values()];
}

/** Unit by unit where both are counted alike (ODU 2 and its run 2), else all of them. */
function predecessorIds(before: Part, part: Part, index: number): string[] {
  if (before.repeats === part.repeats) return [taskId(before, index)];
  return Array.from({ length: before.repeats }, (_, i) => taskId(before, i));
}

const taskId = (part: Part, index: number): string =>
  part.repeats > 1 ? `${part.template.part}-${index + 1}` : part.template.part;

/** Drivers that belong to every repeat in full: each antenna goes up the whole height. */
const NOT_SHARED: ReadonlySet<HourDriver> = new Set<HourDriver>([
  "maxMountHeightM",
  "largestDiameterM",
  "heaviestLiftKg",
]);

function durationOf(template: TaskTemplate, repeats: number, work: EndWork): ThreePoint {
  let duration = template.fixed;
  for (const part of template.per) {
    const units = driverValue(part.driver, work);
    duration = addThreePoints(duration, part, NOT_SHARED.has(part.driver) ? units : units / repeats);
  }
  checkThreePoint(duration, template.part);
  return duration;
}

/** @throws RangeError on a negative count */
export function driverValue(driver: HourDriver, work: EndWork): number {
  const d = work.drivers;
  const value =
    driver === "connectorWraps"
      ? Math.min(d.wrapCount, d.runCount)
      : driver === "otherWraps"
        ? Math.max(0, d.wrapCount - d.runCount)
        : driver === "largestDiameterM"
          ? work.largestDiameterM
          : driver === "heaviestLiftKg"
            ? work.heaviestLiftKg
            : d[driver];
  if (!(value >= 0)) throw new RangeError(`${driver} must be >= 0, got ${value}`);
  return value;
}

/** Are antenna and ODU assembled on the ground and hoisted as one? */
export function isGroundAssembled(work: EndWork, norms: HourNorms): boolean {
  return work.mounting === "direct" && work.largestDiameterM <= norms.groundAssemblyMaxM;
}

export function liftOf(work: EndWork, norms: HourNorms): "hand" | "winch" {
  return work.heaviestLiftKg >= norms.winchFromKg ? "winch" : "hand";
}

function applies(template: TaskTemplate, work: EndWork, norms: HourNorms): boolean {
  const { when } = template;
  return (
    (!when.schemes || when.schemes.includes(work.scheme)) &&
    (!when.structures || when.structures.includes(work.structure)) &&
    (!when.mountings || when.mountings.includes(work.mounting)) &&
    (when.groundAssembly === undefined || when.groundAssembly === isGroundAssembled(work, norms)) &&
    (!when.lift || when.lift === liftOf(work, norms)) &&
    (!when.above || driverValue(when.above, work) > 0) &&
    (!when.none || driverValue(when.none, work) === 0) &&
    repeatsOf(template, work) > 0
  );
}

function repeatsOf(template: TaskTemplate, work: EndWork): number {
  const { antennaCount, oduCount, runCount } = work.drivers;
  if (!template.repeat) return 1;
  return { antenna: antennaCount, ODU: oduCount, run: runCount }[template.repeat];
}

/** The design's extra tasks that no row of the norms covers by its name. */
function extraTemplates(work: EndWork, norms: HourNorms): TaskTemplate[] {
  const known = new Set(norms.templates.map((t) => t.name.toLowerCase()));
  const extras = work.extraTasks.filter((name) => !known.has(name.toLowerCase()));
  return extras.map((name, i) => ({ ...norms.extraTask, part: `${norms.extraTask.part}-${i + 1}`, name }));
}

function unitLabel(repeat: "antenna" | "ODU" | "run", index: number, scheme: Scheme): string {
  if (repeat === "antenna") return `antenna ${index + 1}`;
  const labels = scheme.startsWith("1+1") ? ["main", "standby"] : ["channel 1", "channel 2"];
  return labels[index] ?? `${index + 1}`;
}
