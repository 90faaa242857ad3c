/** The first stage of the made-up programme: hops of a few standard designs, all finished weeks ago. */
import { distanceKm } from "@/lib/geo";
import type { EndSide, Hop, LinkEnd, Site } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";

/**
 * Copies of the given designs between other sites where they fit. Equal designs on like structures are equal work, so
 * the demonstration does not load noticeably longer for them.
 */
export function makeEarlierHops(
  designs: readonly Hop[],
  others: readonly Hop[],
  sites: readonly Site[],
  today: CalendarDate,
  count: number,
): Hop[] {
  const siteByCode = new Map(sites.map((s) => [s.code, s]));
  const taken = new Set([...designs, ...others].map((h) => pairKey(h.near.siteId, h.far.siteId)));
  return Array.from({ length: count }, (_, i): Hop => {
    const design = designs[i % designs.length]!;
    const [near, far] = bestPair(design, siteByCode, taken);
    taken.add(pairKey(near.code, far.code));
    const code = `VE${String(11 + i).padStart(3, "0")}`;
    return {
      ...design,
      id: code,
      code,
      promisedOn: addDays(today, -24 - (count - i) * 4),
      near: movedEnd(design.near, code, "near", near),
      far: movedEnd(design.far, code, "far", far),
      gates: design.gates.map((g) => ({ ...g, hopId: code })),
    };
  });
}

const pairKey = (a: string, b: string) => [a, b].sort().join(" ");

/** Sites of the same kind and height enough whose distance is nearest to the design's. */
function bestPair(
  design: Hop,
  siteByCode: ReadonlyMap<string, Site>,
  taken: ReadonlySet<string>,
): [Site, Site] {
  const was = [design.near, design.far].map((e) => siteByCode.get(e.siteId)!);
  const wantedKm = distanceKm(was[0]!.position!, was[1]!.position!);
  const fitting = (end: LinkEnd, like: Site) =>
    [...siteByCode.values()].filter(
      (s) =>
        s.position !== undefined &&
        s.structure === like.structure &&
        s.hasEarthingBar === like.hasEarthingBar &&
        s.structureHeightM >= Math.max(...end.antennas.map((a) => a.mountHeightM)) + 1,
    );
  let best: { pair: [Site, Site]; offKm: number } | undefined;
  for (const a of fitting(design.near, was[0]!)) {
    for (const b of fitting(design.far, was[1]!)) {
      if (a === b || taken.has(pairKey(a.code, b.code))) continue;
      const offKm = Math.abs(distanceKm(a.position!, b.position!) - wantedKm);
      if (!best || offKm < best.offKm) best = { pair: [a, b], offKm };
    }
  }
  return best?.pair ?? [was[0]!, was[1]!];
}

const movedEnd = (end: LinkEnd, code: string, side: EndSide, site: Site): LinkEnd => ({
  ...end,
  id: `${code}/${side}`,
  hopId: code,
  siteId: site.code,
});
