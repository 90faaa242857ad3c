/**
 * Reads vehicle routing cases in VRPLIB's text format, in the dialect of the published site-dependent and multi-depot
 * sets: several depots, a depot, a load and a list of customers for each vehicle, a longest duty. Unit: a thousandth
 * of the case's own; each arc is rounded to it, as the published costs are.
 */
import type { RoutingCase, VehicleKind } from "@/lib/schedule";

const SCALE = 1000;

export function parseVrplib(text: string): RoutingCase {
  const fields = new Map<string, string>();
  const sections = new Map<string, number[][]>();
  let section: number[][] | undefined;
  for (const line of text.split(/\r?\n/).map((l) => l.trim())) {
    if (line === "" || line === "EOF") continue;
    const field = /^([A-Z_]+)\s*:\s*(.*)$/.exec(line);
    if (field) fields.set(field[1]!, field[2]!);
    else if (/^[A-Z_]+$/.test(line)) {
      section = [];
      sections.set(line.replace(/_SECTION$/, ""), section);
    } else section?.push(line.split(/\s+/).map(Number));
  }
  const must = (name: string) => {
    const rows = sections.get(name);
    if (rows === undefined) throw new RangeError(`no ${name}_SECTION`);
    return rows;
  };
  const places = must("NODE_COORD");
  const depotNumbers = sections.get("DEPOT")?.map((row) => row[0]!) ?? [1];
  if (depotNumbers.some((d, i) => d !== i + 1))
    throw new RangeError(`depots ${depotNumbers} are not the first places`);
  const vehicles = Number(fields.get("VEHICLES"));
  const longest = fields.get("VEHICLES_MAX_DURATION");
  /** One figure a vehicle, from its section. */
  const each = (name: string) => sections.get(name)?.map((row) => row.slice(1));
  const loads = each("CAPACITY");
  const depots = each("VEHICLES_DEPOT");
  const allowed = each("VEHICLES_ALLOWED_CLIENTS");
  const fleet = new Map<string, VehicleKind>();
  for (let i = 0; i < vehicles; i++) {
    const kind: VehicleKind = {
      count: 1,
      depot: (depots?.[i]?.[0] ?? 1) - 1,
      capacity: loads?.[i]?.[0] ?? Number(fields.get("CAPACITY") ?? Number.POSITIVE_INFINITY),
      longest: longest === undefined ? Number.POSITIVE_INFINITY : SCALE * Number(longest),
      serves: allowed?.[i]?.map((v) => v - 1),
    };
    const key = JSON.stringify(kind);
    const alike = fleet.get(key);
    if (alike) alike.count++;
    else fleet.set(key, kind);
  }
  const distance = new Float64Array(places.length ** 2);
  places.forEach(([, x, y], a) => {
    places.forEach(([, u, v], b) => {
      distance[a * places.length + b] = Math.round(SCALE * Math.hypot(x! - u!, y! - v!));
    });
  });
  const column = (name: string, i: number, by: number) => must(name).map((row) => row[i]! * by);
  return {
    name: fields.get("NAME") ?? "",
    depots: depotNumbers.length,
    fleet: [...fleet.values()],
    demand: column("DEMAND", 1, 1),
    ready: column("TIME_WINDOW", 1, SCALE),
    due: column("TIME_WINDOW", 2, SCALE),
    service: column("SERVICE_TIME", 1, SCALE),
    distance,
  };
}
