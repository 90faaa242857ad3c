/**
 * An independent judge of an end's schedule: slow and obvious, minute by minute, shares nothing with the engine but
 * the words. Returns the rules that are broken.
 */
import type { CrewComposition, EndTask, ScheduledTask } from "@/lib/hours";

export function brokenRules(
  tasks: readonly EndTask[],
  sequence: readonly ScheduledTask[],
  crew: CrewComposition,
): string[] {
  const broken: string[] = [];
  const slotOf = new Map(sequence.map((s) => [s.taskId, s]));
  const endMin = Math.max(0, ...sequence.map((s) => s.endMin));
  for (const task of tasks) {
    const slot = slotOf.get(task.id);
    if (!slot) {
      broken.push(`${task.id} is not scheduled`);
      continue;
    }
    for (const before of task.after) {
      if (slotOf.get(before)!.endMin > slot.startMin) broken.push(`${task.id} starts before ${before} ends`);
    }
    if (new Set(slot.people).size < slot.people.length) broken.push(`${task.id} counts a person twice`);
    if (!hasSkills(task, slot.people, crew)) broken.push(`${task.id} lacks skills`);
    if (task.everybody && slot.people.length < crew.people.length) broken.push(`${task.id} lacks people`);
    if (task.workClass === "hoist" && slot.people.length < 3)
      broken.push(`${task.id} hoists with fewer than 3`);
  }
  const party = new Set(
    tasks.filter((t) => t.moves === "climb").flatMap((t) => [...slotOf.get(t.id)!.people]),
  );
  if (tasks.some((t) => t.moves) && party.size < 2) broken.push("fewer than two go up");
  for (let minute = 0; minute < endMin; minute++) {
    const active = tasks.filter((t) => {
      const slot = slotOf.get(t.id)!;
      return slot.startMin <= minute && minute < slot.endMin;
    });
    const busy = active.flatMap((t) => [...slotOf.get(t.id)!.people]);
    if (new Set(busy).size < busy.length) broken.push(`minute ${minute}: somebody does two things`);
    if (active.some((t) => t.usesDropZone) && active.some((t) => t.atFoot)) {
      broken.push(`minute ${minute}: somebody at the foot below overhead work`);
    }
    const isUp = isAnyoneAloft(tasks, slotOf, minute);
    for (const task of active) {
      const people = slotOf.get(task.id)!.people;
      if (task.where === "aloft" && !isUp) broken.push(`minute ${minute}: ${task.id} with nobody aloft`);
      if (task.where !== "aloft" && isUp && people.some((p) => party.has(p))) {
        broken.push(`minute ${minute}: ${task.id} by somebody who is aloft`);
      }
    }
  }
  return broken;
}

function isAnyoneAloft(
  tasks: readonly EndTask[],
  slotOf: ReadonlyMap<string, ScheduledTask>,
  minute: number,
): boolean {
  return tasks.some((climb) => {
    if (climb.moves !== "climb") return false;
    const descent = tasks.find((t) => t.moves === "descent" && t.ascent === climb.ascent)!;
    return slotOf.get(climb.id)!.startMin <= minute && minute < slotOf.get(descent.id)!.endMin;
  });
}

/** Can each wanted skill be met by a person of its own? Tries all ways. */
function hasSkills(task: EndTask, people: readonly number[], crew: CrewComposition): boolean {
  const wants = Object.entries(task.people).flatMap(([skill, n]) => new Array<string>(n).fill(skill));
  const meet = (k: number, free: readonly number[]): boolean =>
    k === wants.length ||
    free.some(
      (p) =>
        (crew.people[p] as readonly string[]).includes(wants[k]!) &&
        meet(
          k + 1,
          free.filter((q) => q !== p),
        ),
    );
  return meet(0, people);
}
