import { criticalPath } from "./cpm";
import { orderOfWork } from "./orderOfWork";
import type { EndEstimate } from "./types";

/**
 * Make-span of an estimate whose tasks take other minutes while everyone keeps the order of work: no longer than this,
 * since another order may suit the new minutes better.
 *
 * @param factorOf factor on a task's minutes, by its id
 */
export function retimedMin(
  { tasks, sequence }: Pick<EndEstimate, "tasks" | "sequence">,
  factorOf: (taskId: string) => number,
): number {
  const byId = new Map(sequence.map((s) => [s.taskId, s]));
  const placed = tasks.map((t) => byId.get(t.id)!);
  const durationsMin = placed.map((s) => s.endMin - s.startMin);
  const after = orderOfWork(tasks, {
    startsMin: placed.map((s) => s.startMin),
    durationsMin,
    people: placed.map((s) => [...s.people]),
  });
  return criticalPath(
    durationsMin.map((d, i) => d * factorOf(tasks[i]!.id)),
    after,
  ).length;
}
