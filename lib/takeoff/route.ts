/** A run's route measured: lengths outdoors and indoors, where it bends, and its height at any distance. */
import type { RouteSegment } from "@/lib/site";

export interface RouteMeasure {
  routeM: number;
  /** Vertical, bridge and tray segments: all that weather reaches. */
  outdoorM: number;
  indoorM: number;
  verticalM: number;
  bridgeM: number;
  /** Longest unbroken vertical stretch: what hangs from one grip, m. */
  longestVerticalM: number;
  /** Distances from the ODU of every bend, m, in order. */
  bendsAtM: readonly number[];
  /** Where the run leaves the structure for the bridge: the foot. undefined = no bridge after a vertical. */
  footAtM?: number;
}

/** Measures a route given from the ODU down to the IDU. */
export function measureRoute(route: readonly RouteSegment[]): RouteMeasure {
  let at = 0;
  let outdoorM = 0;
  let indoorM = 0;
  let verticalM = 0;
  let bridgeM = 0;
  let hangingM = 0;
  let longestVerticalM = 0;
  let footAtM: number | undefined;
  const bendsAtM: number[] = [];
  for (const segment of route) {
    if (segment.kind === "bridge" && verticalM > 0) footAtM ??= at;
    hangingM = segment.kind === "vertical" ? hangingM + segment.lengthM : 0;
    longestVerticalM = Math.max(longestVerticalM, hangingM);
    if (segment.kind === "vertical") verticalM += segment.lengthM;
    if (segment.kind === "bridge") bridgeM += segment.lengthM;
    if (segment.kind === "indoor") indoorM += segment.lengthM;
    else outdoorM += segment.lengthM;
    at += segment.lengthM;
    if (segment.bendAtEnd) bendsAtM.push(at);
  }
  return { routeM: at, outdoorM, indoorM, verticalM, bridgeM, longestVerticalM, bendsAtM, footAtM };
}

/**
 * Height of the run above the base of the structure, m: verticals go down, everything else stays level.
 *
 * @param distanceM distance from the ODU along the run, m; beyond the end gives the end's height
 */
export function heightAt(route: readonly RouteSegment[], mountHeightM: number, distanceM: number): number {
  let heightM = mountHeightM;
  let leftM = distanceM;
  for (const segment of route) {
    const partM = Math.min(leftM, segment.lengthM);
    if (segment.kind === "vertical") heightM -= partM;
    leftM -= partM;
    if (leftM <= 0) break;
  }
  return heightM;
}
