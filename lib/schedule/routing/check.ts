/** What can be wrong with a routing case. */
import type { Problem } from "@/lib/result";
import type { RoutingCase } from "../routing";

export function checkRoutingCase(c: RoutingCase): Problem[] {
  const problems: Problem[] = [];
  const n = c.demand.length;
  const say = (path: string, value: unknown, message: string) =>
    problems.push({ path, rule: "routing-case", value, message, remedy: "Correct the case file." });
  for (const key of ["ready", "due", "service"] as const)
    if (c[key].length !== n) say(key, c[key].length, `There must be ${n} figures, one for each place.`);
  if (c.distance.length !== n * n) say("distance", c.distance.length, `There must be ${n * n} distances.`);
  if (!c.distance.every((d) => d >= 0 && d < Number.POSITIVE_INFINITY))
    say("distance", undefined, "Distances must be 0 or more.");
  if (!Number.isInteger(c.vehicles) || c.vehicles < 1)
    say("vehicles", c.vehicles, "There must be a vehicle.");
  return problems;
}
