/** What a hop's data lack before a plan can place its visits: said where a hop was just entered or changed by hand. */
import type { EndSide, Gate, LinkEnd, Site } from "@/lib/site";
import { SIDES } from "./visits";

export type Missing =
  | { kind: "site"; side: EndSide }
  | { kind: "coordinate"; siteCode: string }
  /** Nothing is taken off for an end without them, so that its kit and hours are too small. */
  | { kind: "antenna" | "radio"; side: EndSide }
  | { kind: "gate"; gate: Gate };

export interface HopSoFar {
  near?: LinkEnd;
  far?: LinkEnd;
  gates: readonly Gate[];
}

/** In the order in which a person would look for them: end by end, then the gates that have no date. */
export function missingForPlan(
  hop: HopSoFar,
  positionOf: (siteId: string) => Site["position"] | undefined,
): Missing[] {
  const ofEnds = SIDES.flatMap((side): Missing[] => {
    const end = hop[side];
    if (!end) return [{ kind: "site", side }];
    return [
      ...(positionOf(end.siteId) ? [] : [{ kind: "coordinate" as const, siteCode: end.siteId }]),
      ...(end.antennas.length > 0 ? [] : [{ kind: "antenna" as const, side }]),
      ...(end.odus.length > 0 ? [] : [{ kind: "radio" as const, side }]),
    ];
  });
  const open = hop.gates.filter((g) => g.state === "open");
  return [...ofEnds, ...open.map((gate) => ({ kind: "gate" as const, gate }))];
}

/** One of the sentences of lib/schedule/reasons.ts. */
export const noCoordinateWords = (siteCode: string): string =>
  `site ${siteCode} has no coordinate: add latitude and longitude`;
