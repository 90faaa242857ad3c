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
  const isCount = (x: number) => Number.isInteger(x) && x >= 1;
  if (!isCount(c.depots) || c.depots > n) say("depots", c.depots, "There must be a depot.");
  if (c.fleet.length === 0) say("fleet", 0, "There must be a vehicle.");
  c.fleet.forEach((kind, i) => {
    if (!isCount(kind.count)) say(`fleet[${i}].count`, kind.count, "There must be a vehicle.");
    if (!(Number.isInteger(kind.depot) && kind.depot >= 0 && kind.depot < c.depots))
      say(`fleet[${i}].depot`, kind.depot, `Must be one of the ${c.depots} depots, counted from 0.`);
    for (const limit of ["capacity", "longest"] as const)
      if (!(kind[limit] >= 0)) say(`fleet[${i}].${limit}`, kind[limit], "Must be 0 or more.");
    const strange = kind.serves?.find((v) => !(Number.isInteger(v) && v >= c.depots && v < n));
    if (strange !== undefined) say(`fleet[${i}].serves`, strange, "Must name customers of the case.");
  });
  return problems;
}
