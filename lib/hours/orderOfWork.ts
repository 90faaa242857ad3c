import type { StaffedSchedule } from "./endProject";
import type { EndTask } from "./types";

/**
 * What each task waits for when everyone keeps the planned order: its own precedences, the task that each of its
 * people did before, and the drop zone where foot and overhead work follow each other.
 */
export function orderOfWork(
  tasks: readonly EndTask[],
  plan: Pick<StaffedSchedule, "startsMin" | "durationsMin" | "people">,
): number[][] {
  const index = new Map(tasks.map((t, i) => [t.id, i]));
  const after = tasks.map((t) => new Set(t.after.map((id) => index.get(id)!)));
  const endMin = (i: number): number => plan.startsMin[i]! + plan.durationsMin[i]!;
  const order = tasks
    .map((_, i) => i)
    .sort((a, b) => plan.startsMin[a]! - plan.startsMin[b]! || endMin(a) - endMin(b) || a - b);
  const lastOf = new Map<number, number>();
  for (const i of order) {
    for (const p of plan.people[i]!) {
      const before = lastOf.get(p);
      if (before !== undefined) after[i]!.add(before);
      lastOf.set(p, i);
    }
  }
  for (const [foot, t] of tasks.entries()) {
    if (!t.atFoot) continue;
    for (const [over, u] of tasks.entries()) {
      if (!u.usesDropZone || over === foot) continue;
      if (endMin(foot) <= plan.startsMin[over]!) after[over]!.add(foot);
      else after[foot]!.add(over);
    }
  }
  return after.map((set) => [...set]);
}
