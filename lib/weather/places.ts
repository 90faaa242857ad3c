/** Whose weather a site reads: the nearest place in reach, a blend of several, or none. */
import { distanceKm, type LatLon } from "@/lib/geo";
import { emptySeries } from "./series";
import type { WeatherSeries } from "./types";

const HOUR = 3_600_000;

/** The nearest place within `radiusKm`, ties by list order; undefined = the site has no weather. */
export function nearestPlace<P extends LatLon>(
  site: LatLon,
  places: readonly P[],
  radiusKm: number,
): { place: P; distanceKm: number } | undefined {
  let best: { place: P; distanceKm: number } | undefined;
  for (const place of places) {
    const km = distanceKm(site, place);
    if (km <= radiusKm && (best === undefined || km < best.distanceKm)) best = { place, distanceKm: km };
  }
  return best;
}

/**
 * The place whose weather a site reads: the nearest within `radiusKm` that has hours. One without any is named only
 * where no other is in reach, so that a place takes over no site before its hours come.
 */
export function servingPlace<P extends LatLon>(
  site: LatLon,
  places: readonly P[],
  radiusKm: number,
  hasHours: (place: P) => boolean,
): { place: P; distanceKm: number } | undefined {
  return nearestPlace(site, places.filter(hasHours), radiusKm) ?? nearestPlace(site, places, radiusKm);
}

/** Share of each place in a blend: inverse square of the distance, within the radius, the three nearest. */
export function blendShares<P extends LatLon>(
  site: LatLon,
  places: readonly P[],
  radiusKm: number,
): { place: P; share: number }[] {
  const near = places
    .map((place, order) => ({ place, order, km: distanceKm(site, place) }))
    .filter((p) => p.km <= radiusKm)
    .sort((a, b) => a.km - b.km || a.order - b.order)
    .slice(0, 3);
  const weight = (km: number) => 1 / Math.max(km, 0.5) ** 2; // half a kilometre is "at the place"
  const total = near.reduce((sum, p) => sum + weight(p.km), 0);
  return near.map((p) => ({ place: p.place, share: weight(p.km) / total }));
}

export interface BlendPart {
  series: WeatherSeries;
  share: number;
  /** Elevation of the series' place, m. */
  elevationM: number;
}

/**
 * One series from several, weighted by share. Temperatures are first brought to `elevationM`. Thunder at any of
 * them counts. A value missing at one is carried by the others; missing at all, it stays missing. Averaging
 * smooths peaks: where single gusts decide, take the nearest place instead.
 *
 * @throws RangeError when there is no part or the parts differ in kind
 */
export function blendSeries(
  parts: readonly BlendPart[],
  placeId: string,
  elevationM: number,
  lapseRateKPerKm: number,
): WeatherSeries {
  const first = parts[0]?.series;
  if (!first || parts.some((p) => p.series.kind !== first.kind)) {
    throw new RangeError("a blend needs parts of one kind");
  }
  const startsAt = Math.min(...parts.map((p) => p.series.startsAtMillis));
  const endsAt = Math.max(...parts.map((p) => p.series.startsAtMillis + p.series.hours * HOUR));
  const blend = emptySeries(
    {
      placeId,
      kind: first.kind,
      source: `blend of ${parts.map((p) => `${p.series.placeId} ${Math.round(p.share * 100)} %`).join(", ")}`,
      isMadeUp: parts.some((p) => p.series.isMadeUp),
      issuedAtMillis: Math.min(...parts.map((p) => p.series.issuedAtMillis)),
    },
    startsAt,
    Math.round((endsAt - startsAt) / HOUR),
  );
  const columns = ["windMs", "gustMs", "rainMmH", "tempC", "humidityPct"] as const;
  for (const column of columns) {
    const weights = new Float64Array(blend.hours);
    const sums = new Float64Array(blend.hours);
    for (const part of parts) {
      const shift = column === "tempC" ? (lapseRateKPerKm * (elevationM - part.elevationM)) / 1000 : 0;
      eachHour(part.series, blend, (from, to) => {
        const v = part.series[column][from]!;
        if (Number.isNaN(v)) return;
        sums[to]! += part.share * (v + shift);
        weights[to]! += part.share;
      });
    }
    for (let h = 0; h < blend.hours; h++) if (weights[h]! > 0) blend[column][h] = sums[h]! / weights[h]!;
  }
  for (const part of parts) {
    eachHour(part.series, blend, (from, to) => {
      const v = part.series.thunder[from]!;
      if (!Number.isNaN(v)) blend.thunder[to] = Math.max(v, blend.thunder[to] || 0);
    });
  }
  return blend;
}

function eachHour(
  part: WeatherSeries,
  blend: WeatherSeries,
  visit: (from: number, to: number) => void,
): void {
  const shift = Math.round((part.startsAtMillis - blend.startsAtMillis) / HOUR);
  for (let h = 0; h < part.hours; h++) visit(h, h + shift);
}

/**
 * One series from blocks of the same place. Where blocks overlap, the one issued later wins hour by hour, and
 * an older one fills what it lacks. Hours that no block covers are missing.
 */
export function joinSeries(blocks: readonly WeatherSeries[]): WeatherSeries {
  const first = blocks[0];
  if (!first) throw new RangeError("no blocks to join");
  if (blocks.some((b) => b.placeId !== first.placeId)) throw new RangeError("blocks of different places");
  const byIssue = [...blocks].sort((a, b) => a.issuedAtMillis - b.issuedAtMillis);
  const latest = byIssue.at(-1)!;
  const startsAt = Math.min(...blocks.map((b) => b.startsAtMillis));
  const endsAt = Math.max(...blocks.map((b) => b.startsAtMillis + b.hours * HOUR));
  const joined = emptySeries(
    { ...latest, isMadeUp: blocks.some((b) => b.isMadeUp) },
    startsAt,
    Math.round((endsAt - startsAt) / HOUR),
  );
  const columns = ["windMs", "gustMs", "rainMmH", "tempC", "humidityPct", "thunder"] as const;
  const written = new Uint8Array(joined.hours);
  for (const block of byIssue) {
    const shift = Math.round((block.startsAtMillis - startsAt) / HOUR);
    const nextWritten = written.indexOf(1, shift);
    written.fill(1, shift, shift + block.hours);
    if (nextWritten === -1 || nextWritten >= shift + block.hours) {
      for (const column of columns) joined[column].set(block[column], shift);
      continue;
    }
    eachHour(block, joined, (from, to) => {
      for (const column of columns) {
        const v = block[column][from]!;
        if (!Number.isNaN(v)) joined[column][to] = v;
      }
    });
  }
  return joined;
}
