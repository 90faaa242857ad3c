import type { EndTask } from "./types";

/** Does the task take its climbers up the structure? At both ends too. */
export function worksAloft(t: EndTask): boolean {
  return t.where === "aloft" || (t.where === "both ends" && (t.people.climber ?? 0) > 0);
}

/** Index of each task by id. */
export function indexById(tasks: readonly EndTask[]): ReadonlyMap<string, number> {
  return new Map(tasks.map((t, i) => [t.id, i]));
}

/**
 * Tasks on the ground that must be done while people are aloft: they wait for work aloft, and work aloft of the same
 * ascent or a later one waits for them.
 */
export function betweenAloft(tasks: readonly EndTask[]): ReadonlySet<string> {
  const index = indexById(tasks);
  const followsAloft = tasks.map(() => false);
  const precedesAloft = tasks.map(() => false);
  // Tasks stand in precedence order (compose.ts), so one pass each way is enough.
  for (const [i, t] of tasks.entries()) {
    followsAloft[i] = t.after.some((id) => {
      const h = index.get(id)!;
      return worksAloft(tasks[h]!) || followsAloft[h];
    });
  }
  for (let i = tasks.length - 1; i >= 0; i--) {
    if (!precedesAloft[i] && !worksAloft(tasks[i]!)) continue;
    for (const id of tasks[i]!.after) precedesAloft[index.get(id)!] = true;
  }
  return new Set(
    tasks.flatMap((t, i) => (!worksAloft(t) && followsAloft[i] && precedesAloft[i] ? [t.id] : [])),
  );
}
