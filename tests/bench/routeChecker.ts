/** Are routes legal, and how long are they? Shares nothing with the engine but the case. */
import type { RoutingCase } from "@/lib/schedule";

export function checkRoutes(
  c: RoutingCase,
  routes: readonly (readonly number[])[],
): { faults: string[]; distance: number } {
  const faults: string[] = [];
  const places = c.demand.length;
  const way = (a: number, b: number) => c.distance[a * places + b]!;
  const visited = new Array<number>(places).fill(0);
  let distance = 0;
  if (routes.length > c.vehicles) faults.push(`${routes.length} routes, ${c.vehicles} vehicles`);
  routes.forEach((route, k) => {
    let load = 0;
    let time = c.ready[0]!;
    let at = 0;
    for (const v of route) {
      visited[v]!++;
      load += c.demand[v]!;
      distance += way(at, v);
      time = Math.max(time + way(at, v), c.ready[v]!);
      if (time > c.due[v]! + 1e-9) faults.push(`route ${k}: customer ${v} at ${time}, due ${c.due[v]}`);
      time += c.service[v]!;
      at = v;
    }
    distance += way(at, 0);
    time += way(at, 0);
    if (time > c.due[0]! + 1e-9) faults.push(`route ${k} is back at ${time}, due ${c.due[0]}`);
    if (load > c.capacity) faults.push(`route ${k} carries ${load}, capacity ${c.capacity}`);
  });
  for (let v = 1; v < places; v++)
    if (visited[v] !== 1) faults.push(`customer ${v} is served ${visited[v]} times`);
  return { faults, distance };
}
