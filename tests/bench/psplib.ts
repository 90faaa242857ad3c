/** Reader of the PSPLIB single-mode format (.sm): Kolisch and Sprecher 1996. */
import type { Project } from "@/lib/hours";

/** @throws Error when a section is missing: a benchmark file is whole or it is not one */
export function parsePsplib(text: string): Project {
  const lines = text.split(/\r?\n/);
  const section = (title: string): string[][] => {
    const from = lines.findIndex((l) => l.startsWith(title));
    if (from < 0) throw new Error(`no section ${title}`);
    const rows: string[][] = [];
    for (const line of lines.slice(from + 1)) {
      if (line.startsWith("***")) break;
      if (/^\s*\d/.test(line)) rows.push(line.trim().split(/\s+/));
    }
    return rows;
  };
  const successors = section("PRECEDENCE RELATIONS").map((r) => r.slice(3).map((j) => Number(j) - 1));
  const requests = section("REQUESTS/DURATIONS").map((r) => r.map(Number));
  const capacities = section("RESOURCEAVAILABILITIES")[0]!.map(Number);
  return {
    durations: requests.map((r) => r[2]!),
    successors,
    demands: requests.map((r) => r.slice(3)),
    capacities,
  };
}
