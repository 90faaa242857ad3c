/** Reads vehicle routing cases in Solomon's text format. Unit: a tenth of the case's own, so that all is whole. */
import type { RoutingCase } from "@/lib/schedule";

/** Units of the case read here in a unit of the file. */
export const SCALE = 10;

/**
 * Distances as the 12th DIMACS challenge has them: Euclidean, truncated to one decimal; travel time = distance.
 * With `exact` they stay as they are (the convention of vehicles first, then distance).
 */
export function parseSolomon(text: string, exact = false): RoutingCase {
  const lines = text.split(/\r?\n/).map((line) => line.trim());
  const numbers = (line: string) => line.split(/\s+/).map(Number);
  const vehicleLine = lines.findIndex((line) => line.startsWith("NUMBER"));
  const [vehicles, capacity] = numbers(lines[vehicleLine + 1]!) as [number, number];
  const customerLine = lines.findIndex((line) => line.startsWith("CUST"));
  const rows = lines
    .slice(customerLine + 1)
    .filter((line) => /^\d/.test(line))
    .map(numbers);
  const n = rows.length;
  const distance = new Float64Array(n * n);
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++) {
      const d = Math.hypot(rows[a]![1]! - rows[b]![1]!, rows[a]![2]! - rows[b]![2]!);
      distance[a * n + b] = exact ? SCALE * d : Math.floor(SCALE * d + 1e-9);
    }
  const column = (i: number, by = SCALE) => rows.map((row) => row[i]! * by);
  return {
    name: lines[0]!,
    depots: 1,
    fleet: [{ count: vehicles, depot: 0, capacity, longest: Number.POSITIVE_INFINITY }],
    demand: column(3, 1),
    ready: column(4),
    due: column(5),
    service: column(6),
    distance,
  };
}
