/** Checks that only show over many hops: mixed halves at one site, and things entered twice. */
import type { Hop, Site } from "@/lib/site";
import type { ProgrammeCheck } from "./types";
import { fail, warn } from "./verdict";

type HopToCheck = Pick<Hop, "id" | "code" | "scheme" | "near" | "far">;

/** All checks over a set of hops. Sites and hops may come in any order. */
export function checkSites(hops: readonly HopToCheck[], sites: readonly Site[]): ProgrammeCheck[] {
  return [...mixedHalves(hops, sites), ...duplicateHops(hops), ...duplicateSites(sites)];
}

/** One site that transmits in both halves of one band: usually a mistake, and its radios disturb each other. */
function mixedHalves(hops: readonly HopToCheck[], sites: readonly Site[]): ProgrammeCheck[] {
  const codeOf = new Map(sites.map((s) => [s.id, s.code]));
  const seen = new Map<string, { siteId: string; bandGhz: number; high: Set<string>; low: Set<string> }>();
  for (const hop of hops) {
    for (const end of [hop.near, hop.far]) {
      for (const odu of end.odus) {
        const key = `${end.siteId}|${odu.bandGhz}`;
        const entry = seen.get(key) ?? {
          siteId: end.siteId,
          bandGhz: odu.bandGhz,
          high: new Set<string>(),
          low: new Set<string>(),
        };
        entry[odu.half].add(hop.code);
        seen.set(key, entry);
      }
    }
  }
  const idOf = new Map(hops.map((h) => [h.code, h.id]));
  return [...seen.values()]
    .filter((entry) => entry.high.size > 0 && entry.low.size > 0)
    .map((entry) => ({
      ...warn("mixed-halves", codeOf.get(entry.siteId) ?? entry.siteId, {
        message: `${codeOf.get(entry.siteId) ?? entry.siteId} transmits in both halves of ${entry.bandGhz} GHz: high on ${[...entry.high].sort().join(", ")}, low on ${[...entry.low].sort().join(", ")}.`,
        remedy: "Check the frequency plan; where it is meant so, plan for the interference.",
      }),
      siteId: entry.siteId,
      hopIds: [...new Set([...entry.high, ...entry.low])].sort().map((code) => idOf.get(code)!),
    }));
}

function duplicateHops(hops: readonly HopToCheck[]): ProgrammeCheck[] {
  const checks: ProgrammeCheck[] = [];
  for (const same of grouped(hops, (h) => h.code)) {
    const schemes = [...new Set(same.map((h) => h.scheme))].sort();
    const message =
      schemes.length > 1
        ? `Hop ${same[0]!.code} is entered ${same.length} times with different schemes: ${schemes.join(", ")}.`
        : `Hop ${same[0]!.code} is entered ${same.length} times; each is counted.`;
    checks.push({
      ...fail(schemes.length > 1 ? "two-schemes" : "duplicate-hop", same[0]!.code, {
        message,
        remedy: "Keep one and remove the others.",
      }),
      hopIds: same.map((h) => h.id),
    });
  }
  for (const same of grouped(
    hops.flatMap((h) => [h.near, h.far]),
    (e) => e.id,
  )) {
    checks.push({
      ...fail("duplicate-end", same[0]!.id, {
        message: `Link end ${same[0]!.id} is entered ${same.length} times; its runs would be cut twice.`,
        remedy: "Give every end its own id.",
      }),
      hopIds: [...new Set(same.map((e) => e.hopId))],
    });
  }
  return checks;
}

function duplicateSites(sites: readonly Site[]): ProgrammeCheck[] {
  return grouped(sites, (s) => s.code).map((same) => ({
    ...fail("duplicate-site", same[0]!.code, {
      message: `Site code ${same[0]!.code} is entered ${same.length} times.`,
      remedy: "Keep one and move the hops of the others to it.",
    }),
    siteId: same[0]!.id,
    hopIds: [],
  }));
}

/** Groups of two or more that share a key, in the keys' order. */
function grouped<T>(list: readonly T[], key: (entry: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const entry of list) {
    const group = groups.get(key(entry));
    if (group) group.push(entry);
    else groups.set(key(entry), [entry]);
  }
  return [...groups.entries()]
    .filter(([, group]) => group.length > 1)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, group]) => group);
}
