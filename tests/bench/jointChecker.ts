/** Are joint visits legal, and what do they cost? Takes the starts as given; shares nothing with the engine but the case. */
import type { JointCase, JointStop } from "@/lib/schedule";

export function checkJointVisits(
  c: JointCase,
  routes: readonly (readonly JointStop[])[],
): { faults: string[]; travel: number; tardiness: number; largestTardiness: number; cost: number } {
  const faults: string[] = [];
  const starts = c.visits.map(() => new Map<number, { start: number; crew: number }>());
  let [travel, tardiness, largestTardiness] = [0, 0, 0];
  if (routes.length > c.crews) faults.push(`${routes.length} routes, ${c.crews} crews`);
  routes.forEach((stops, crew) => {
    let at = 0;
    let free = 0;
    for (const { visit: i, part: p, start } of stops) {
      const visit = c.visits[i]!;
      const part = visit.parts[p];
      if (part === undefined || starts[i]!.has(p)) {
        faults.push(`visit ${i} has no part ${p} or has it twice`);
        continue;
      }
      starts[i]!.set(p, { start, crew });
      if (!part.crews.includes(crew)) faults.push(`crew ${crew} has not the skill for visit ${i}, part ${p}`);
      const way = c.distance[at * c.places + visit.place]!;
      if (start < free + way - 1e-6)
        faults.push(`crew ${crew} is at visit ${i} at ${free + way}, starts at ${start}`);
      if (start < visit.ready - 1e-6) faults.push(`visit ${i} starts at ${start}, ready ${visit.ready}`);
      const late = Math.max(0, start - visit.due);
      travel += way;
      tardiness += late;
      largestTardiness = Math.max(largestTardiness, late);
      free = start + part.duration;
      at = visit.place;
    }
    travel += c.distance[at * c.places]!;
  });
  c.visits.forEach((visit, i) => {
    const [one, two] = [starts[i]!.get(0), starts[i]!.get(1)];
    if (starts[i]!.size !== visit.parts.length) faults.push(`visit ${i} has ${starts[i]!.size} parts done`);
    if (one === undefined || two === undefined) return;
    if (one.crew === two.crew) faults.push(`visit ${i}: both parts by crew ${one.crew}`);
    const gap = two.start - one.start;
    if (gap < visit.gap.least - 1e-6 || gap > visit.gap.most + 1e-6)
      faults.push(`visit ${i}: parts ${gap} apart, asked ${visit.gap.least} to ${visit.gap.most}`);
  });
  return { faults, travel, tardiness, largestTardiness, cost: (travel + tardiness + largestTardiness) / 3 };
}
