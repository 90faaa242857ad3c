/** Sites near one place that may share a hindcast: profiles rounded to the careful side, and the key to keep them by. */
import type { ShiftWeek, SiteProfile, SpellSegment, WeatherPolicy } from "./types";

const HEIGHT_BANDS_M = [5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200];
const DIAMETER_BANDS_M = [0.3, 0.6, 0.9, 1.2, 1.8, 2.4, 3.0, 3.7];
const ELEVATION_STEP_M = 100;

/** Upper edge of the band that holds a value; beyond the last edge the value itself. */
const bandOf = (edges: readonly number[], value: number) => edges.find((edge) => value <= edge) ?? value;

/**
 * A profile that stands for all sites in its band: the work is taken at the band's upper height, the dish at
 * its larger diameter, the sun at the place, the elevation to the nearest 100 m above or under the place.
 */
export function bandedProfile(site: SiteProfile, place: { latDeg: number; lonDeg: number }): SiteProfile {
  const steps = Math.round((site.elevationM - site.placeElevationM) / ELEVATION_STEP_M);
  return {
    ...site,
    heightM: bandOf(HEIGHT_BANDS_M, site.heightM),
    diameterM: site.diameterM === undefined ? undefined : bandOf(DIAMETER_BANDS_M, site.diameterM),
    bandGhz: site.bandGhz,
    latDeg: place.latDeg,
    lonDeg: place.lonDeg,
    elevationM: site.placeElevationM + steps * ELEVATION_STEP_M,
  };
}

/** Key of a prepared history: the same key, the same tables. */
export function historyKey(
  placeId: string,
  profile: SiteProfile,
  policy: WeatherPolicy,
  shift: ShiftWeek,
): string {
  const bandGhz = Object.values(policy.limits).some((l) => l.rainAboveGhz !== undefined)
    ? isAboveAnyLimit(profile.bandGhz, policy)
    : "";
  return JSON.stringify([
    placeId,
    policy.version,
    profile.heightM,
    profile.terrain,
    profile.latDeg,
    profile.lonDeg,
    profile.elevationM - profile.placeElevationM,
    profile.zone,
    profile.diameterM ?? null,
    bandGhz,
    shift.map((d) => (d ? [d.fromMin, d.toMin] : 0)),
  ]);
}

/** Only the side of the frequency limits matters, so that all bands above share their tables. */
function isAboveAnyLimit(bandGhz: number | undefined, policy: WeatherPolicy): string {
  return Object.values(policy.limits)
    .filter((l) => l.rainAboveGhz !== undefined)
    .map((l) => (bandGhz === undefined || bandGhz > l.rainAboveGhz! ? "1" : "0"))
    .join("");
}

/** Key of a sequence within a history. Round durations by `bandedSegments` first, so that keys meet. */
export function segmentsKey(segments: readonly SpellSegment[]): string {
  return segments
    .map((s) => `${s.workClass}:${s.durationMin}:${s.splittable ? 1 : 0}:${s.spell ?? ""}`)
    .join("|");
}

/** The sequence with durations rounded up to a step, so that near-equal sequences share a result. */
export function bandedSegments(segments: readonly SpellSegment[], stepMin = 30): SpellSegment[] {
  return segments.map((s) => ({ ...s, durationMin: Math.ceil(s.durationMin / stepMin) * stepMin }));
}
