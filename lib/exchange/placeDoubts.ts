/** Which sites a weather place of an import would serve: said before the yes, since their plans rest on its hours. */
import type { LatLon } from "@/lib/geo";
import { figure, type Phrase, phrase } from "@/lib/phrase";
import { nearestPlace, servingPlace } from "@/lib/weather";
import type { PreviewRow } from "./types";

/** A weather place as it stands before or after the import. */
export interface PlaceStand extends LatLon {
  code: string;
  hasForecast: boolean;
  hasPast: boolean;
}

export interface PlacesOfImport {
  before: readonly PlaceStand[];
  after: readonly PlaceStand[];
  sites: readonly LatLon[];
  radiusKm: number;
}

const hasHours = (p: PlaceStand): boolean => p.hasForecast || p.hasPast;

/** Of new or moved places without hours: the sites near them, which do not read them yet. */
export function placeDoubts(
  rows: readonly PreviewRow<"weather places">[],
  { after, sites, radiusKm }: PlacesOfImport,
): Phrase[] {
  const asked = rows.flatMap(({ value, fate, changes, rowNumber }) => {
    const isMoved = changes.some((c) => c.key === "latDeg" || c.key === "lonDeg");
    const place = value && (fate === "new" || isMoved) ? after.find((p) => p.code === value.code) : undefined;
    return place && !hasHours(place) ? [{ place, rowNumber }] : [];
  });
  if (asked.length === 0) return [];
  const near = countBy(sites.map((s) => nearestPlace(s, after, radiusKm)?.place.code));
  return asked.flatMap(({ place, rowNumber }) => {
    const count = near.get(place.code) ?? 0;
    if (count === 0) return [];
    return [
      phrase(
        "Row {{row}}, {{place}}: sites nearest to it: {{sites}}. It has no hours, so they have no forecast of it: until its hours are brought in they stay with the place that they read now, or without weather.",
        { row: String(rowNumber), place: place.code, sites: figure(count) },
      ),
    ];
  });
}

/** Of places whose first hours a table brings: the sites that read them from then on, and what they then lack. */
export function firstHoursDoubts(
  codes: Iterable<string>,
  { before, after, sites, radiusKm }: PlacesOfImport,
): Phrase[] {
  const old = new Map(before.map((p) => [p.code, p]));
  const first = new Map(
    after
      .filter((p) => hasHours(p) && !hasHours(old.get(p.code) ?? NO_HOURS))
      .map((p) => [p.code, { place: p, count: 0, others: 0 }]),
  );
  const asked = [...new Set(codes)].flatMap((code) => first.get(code) ?? []);
  if (asked.length === 0) return [];
  for (const site of sites) {
    const served = first.get(servingPlace(site, after, radiusKm, hasHours)?.place.code ?? "");
    if (!served) continue;
    served.count++;
    const until = servingPlace(site, before, radiusKm, hasHours)?.place;
    if (until && hasHours(until)) served.others++;
  }
  return asked
    .filter(({ count }) => count > 0)
    .map(({ place, count, others }) => {
      const values = { place: place.code, sites: figure(count), others: figure(others) };
      if (!place.hasForecast)
        return phrase(
          "{{place}}: its first hours. Sites that read it from then on: {{sites}}, of which {{others}} read another place now. It has no forecast: bring it in too.",
          values,
        );
      if (!place.hasPast)
        return phrase(
          "{{place}}: its first hours. Sites that read it from then on: {{sites}}, of which {{others}} read another place now. It has no past years, and its forecast reaches as far as this file: bring in what is missing too.",
          values,
        );
      return phrase(
        "{{place}}: its first hours. Sites that read it from then on: {{sites}}, of which {{others}} read another place now.",
        values,
      );
    });
}

const NO_HOURS = { hasForecast: false, hasPast: false } as PlaceStand;

function countBy(codes: readonly (string | undefined)[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const code of codes) if (code !== undefined) counts.set(code, (counts.get(code) ?? 0) + 1);
  return counts;
}
