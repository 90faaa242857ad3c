/** Where a run is earthed: near the ODU, at the foot, at the entry, and as often between as the spacing asks. */
import type { RouteSegment } from "@/lib/site";
import type { CatalogueIndex } from "./catalogue";
import { figure, tidy } from "./rounding";
import { heightAt, measureRoute } from "./route";
import type { DesignCheck, EarthingPoint, FullPolicy, TakeoffLine } from "./types";
import { fail } from "./verdict";

/** Two points nearer than this are one (m): a bridge of a few centimetres has no foot of its own. */
const SAME_PLACE_M = 0.1;
const SLACK_M = 1e-9;

type EarthingPolicy = Pick<
  FullPolicy,
  "maxEarthingSpacingM" | "shortRunM" | "minEarthingPoints" | "bendClearanceM" | "nearOduM" | "beforeEntryM"
>;

interface Placed {
  kind: EarthingPoint["kind"];
  at: number;
  movedM: number;
}

export interface RunEarthing {
  points: readonly EarthingPoint[];
  /** Largest stretch of the outdoor part without a point, its two ends included, m. */
  largestGapM: number;
  /** Points that stand too near a bend because no clear place was left. */
  nearBend: readonly EarthingPoint[];
}

/**
 * Earthing points of one run, in order from the ODU. A run without an outdoor part has none.
 *
 * A run below `shortRunM` outdoors has two, near the ODU and at the entry; any other at least
 * `minEarthingPoints`, the third in the middle. Points within `bendClearanceM` of a bend are moved along the
 * run to the nearest clear place: the foot only upward, so that it stays before the turn to the bridge.
 */
export function earthRun(
  route: readonly RouteSegment[],
  mountHeightM: number,
  policy: EarthingPolicy,
): RunEarthing {
  const measure = measureRoute(route);
  const endM = measure.outdoorM;
  if (endM <= 0) return { points: [], largestGapM: 0, nearBend: [] };
  const bends = measure.bendsAtM.filter((b) => b <= endM + SLACK_M);
  const isShort = endM < policy.shortRunM;

  const near = Math.min(policy.nearOduM, endM / 3);
  const entry = endM - Math.min(policy.beforeEntryM, endM / 3);
  const place = (kind: Placed["kind"], wantedM: number, upward = false): Placed => {
    const at = clearOfBends(wantedM, bends, policy.bendClearanceM, endM, upward);
    return { kind, at, movedM: at - wantedM };
  };

  const anchors = [place("near ODU", near), place("entry", entry)];
  if (measure.footAtM !== undefined && !isShort) {
    const foot = place("structure foot", measure.footAtM, true);
    if (anchors.every((a) => Math.abs(a.at - foot.at) > SAME_PLACE_M)) anchors.push(foot);
  }
  anchors.sort((a, b) => a.at - b.at);

  const placed = anchors.flatMap((anchor, i) => {
    const next = anchors[i + 1];
    return next ? [anchor, ...fillGap(anchor.at, next.at, bends, policy, endM)] : [anchor];
  });
  while (!isShort && placed.length < policy.minEarthingPoints) placed.push(inLargestGap(placed, place));

  placed.sort((a, b) => a.at - b.at);
  const points = placed.map(({ kind, at, movedM }) => ({
    kind,
    distanceM: tidy(at),
    heightM: tidy(heightAt(route, mountHeightM, at)),
    movedM: tidy(Math.abs(movedM)),
  }));
  return {
    points,
    largestGapM: tidy(largestGap([0, ...placed.map((p) => p.at), endM])),
    nearBend: points.filter((p) =>
      bends.some((b) => Math.abs(b - p.distanceM) < policy.bendClearanceM - 1e-6),
    ),
  };
}

/** The clear place nearest to `wantedM` (the one toward the ODU on a tie); `wantedM` itself when none is clear. */
function clearOfBends(
  wantedM: number,
  bends: readonly number[],
  clearanceM: number,
  endM: number,
  upward: boolean,
): number {
  const isClear = (at: number) => bends.every((b) => Math.abs(b - at) >= clearanceM - SLACK_M);
  if (isClear(wantedM)) return wantedM;
  const places = bends
    .flatMap((b) => [b - clearanceM, b + clearanceM])
    .filter((at) => at > 0 && at <= endM && (!upward || at <= wantedM) && isClear(at))
    .sort((a, b) => Math.abs(a - wantedM) - Math.abs(b - wantedM) || a - b);
  return places[0] ?? wantedM;
}

/** Evenly spread points between two others; one more where moving off a bend would leave too wide a gap. */
function fillGap(
  fromM: number,
  toM: number,
  bends: readonly number[],
  policy: EarthingPolicy,
  endM: number,
): Placed[] {
  const gapM = toM - fromM;
  const fewest = Math.max(0, Math.ceil(gapM / policy.maxEarthingSpacingM - SLACK_M) - 1);
  let spread: Placed[] = [];
  for (let count = fewest; count <= fewest + bends.length + 1; count++) {
    spread = Array.from({ length: count }, (_, i) => {
      const wantedM = fromM + (gapM * (i + 1)) / (count + 1);
      const at = clearOfBends(wantedM, bends, policy.bendClearanceM, endM, false);
      return { kind: "intermediate" as const, at, movedM: at - wantedM };
    });
    const stations = [fromM, ...spread.map((p) => p.at), toM];
    if (largestGap(stations) <= policy.maxEarthingSpacingM + SLACK_M) break;
  }
  return spread;
}

function inLargestGap(placed: readonly Placed[], place: (kind: "middle", at: number) => Placed): Placed {
  const stations = placed.map((p) => p.at).sort((a, b) => a - b);
  let widest = 0;
  for (let i = 1; i + 1 < stations.length; i++) {
    const gap = stations[i + 1]! - stations[i]!;
    if (gap > stations[widest + 1]! - stations[widest]! + SLACK_M) widest = i;
  }
  return place("middle", (stations[widest]! + stations[widest + 1]!) / 2);
}

function largestGap(stations: readonly number[]): number {
  let largest = 0;
  for (let i = 0; i + 1 < stations.length; i++) largest = Math.max(largest, stations[i + 1]! - stations[i]!);
  return largest;
}

/** Fails an earthing lead whose copper is thinner than the policy's least section, or whose section is not known. */
export function checkLeads(
  lines: readonly TakeoffLine[],
  index: CatalogueIndex,
  where: string,
  policy: Pick<FullPolicy, "minEarthingSectionMm2">,
): DesignCheck[] {
  const codes = new Set(lines.map((line) => line.itemCode));
  return [...codes].flatMap((code) => {
    const item = index.byCode.get(code);
    if (item?.category !== "earthing lead") return [];
    const sectionMm2 = item.attributes.crossSectionMm2;
    if (sectionMm2 !== undefined && sectionMm2 >= policy.minEarthingSectionMm2) return [];
    return fail("earthing-section", where, {
      message:
        sectionMm2 === undefined
          ? `The section of earthing lead ${code} is not in the catalogue.`
          : `Earthing lead ${code} has ${figure(sectionMm2)} mm2, the policy asks for ${figure(policy.minEarthingSectionMm2)} mm2.`,
      remedy: "Name a thicker lead in the rule or complete the catalogue; local rules come first.",
      figure: sectionMm2,
      limit: policy.minEarthingSectionMm2,
      unit: "mm2",
    });
  });
}
