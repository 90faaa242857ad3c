/** Are routes legal, and how long are they? Shares nothing with the engine but the case. */
import type { Route, RoutingCase } from "@/lib/schedule";

export function checkRoutes(
  c: RoutingCase,
  routes: readonly Route[],
): { faults: string[]; distance: number } {
  const faults: string[] = [];
  const places = c.demand.length;
  const way = (a: number, b: number) => c.distance[a * places + b]!;
  const visited = new Array<number>(places).fill(0);
  let distance = 0;
  c.fleet.forEach((kind, i) => {
    const used = routes.filter((route) => route.kind === i).length;
    if (used > kind.count) faults.push(`${used} routes of kind ${i}, ${kind.count} vehicles`);
  });
  routes.forEach((route, k) => {
    const kind = c.fleet[route.kind]!;
    let load = 0;
    let time = c.ready[kind.depot]!;
    let at = kind.depot;
    /** Latest departure that delays nobody behind his window, and the wait that is left even then. */
    let latestStart = c.due[kind.depot]!;
    let duty = 0;
    const go = (v: number) => {
      distance += way(at, v);
      time = Math.max(time + way(at, v), c.ready[v]!);
      if (time > c.due[v]! + 1e-6) faults.push(`route ${k}: place ${v} at ${time}, due ${c.due[v]}`);
      duty = Math.max(duty + way(at, v), c.ready[v]! - latestStart);
      latestStart = Math.min(latestStart, c.due[v]! - duty);
      at = v;
    };
    for (const v of route.stops) {
      visited[v]!++;
      load += c.demand[v]!;
      if (kind.serves !== undefined && !kind.serves.includes(v)) faults.push(`route ${k} may not serve ${v}`);
      go(v);
      time += c.service[v]!;
      duty += c.service[v]!;
    }
    go(kind.depot);
    if (load > kind.capacity) faults.push(`route ${k} carries ${load}, capacity ${kind.capacity}`);
    if (duty > kind.longest + 1e-6) faults.push(`route ${k} takes ${duty}, longest ${kind.longest}`);
  });
  for (let v = c.depots; v < places; v++)
    if (visited[v] !== 1) faults.push(`customer ${v} is served ${visited[v]} times`);
  return { faults, distance };
}
