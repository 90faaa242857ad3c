/** The forecast's verdicts for the days of a visit, where a forecast reaches them. */

import { formatQuantity } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { StripRow } from "@/app/_ui/WeatherStrip";
import { hoursFrom, sayRows, stripRows } from "@/app/(work)/weather/endWindows";
import { ForecastReader, placeOf, profileOf } from "@/app/(work)/weather/siteHours";
import type { Db } from "@/db/open";
import { rulesInForce } from "@/db/queries/programme";
import type { VisitDesk } from "@/db/queries/visitDesk";
import { loadPlaceForecasts } from "@/db/queries/weatherViews";
import { addDays, instantAt } from "@/lib/time";

export function hoursOfVisit(
  db: Db,
  { visit, site, hop, takeoff }: VisitDesk,
  words: Words,
): { hours: number[]; rows: StripRow[]; source: string } | undefined {
  const { weatherPolicy } = rulesInForce(db);
  const found = placeOf(site, loadPlaceForecasts(db), weatherPolicy);
  const forecast = found?.place.forecast;
  if (!found || !forecast || !visit.startOn || !visit.endOn) return undefined;
  const from = instantAt(visit.startOn, 0, site.zone);
  const to = instantAt(addDays(visit.endOn, 1), 0, site.zone);
  const hours = hoursFrom(forecast, from, Math.round((to - from) / 3_600_000)).filter((h) => h < to);
  if (hours.length === 0) return undefined;
  const { drivers } = takeoff;
  const profile = profileOf(
    { site, heightM: drivers.maxMountHeightM, diameterM: drivers.largestDiameterM, bandGhz: hop.bandGhz },
    found.place,
  );
  const of = {
    source: forecast.source,
    height: formatQuantity(drivers.maxMountHeightM, "m", 1, words.locale),
  };
  return {
    hours,
    rows: sayRows(
      stripRows(forecast, profile, hours, new ForecastReader(weatherPolicy), found.place.members),
      words,
    ),
    source: forecast.isMadeUp
      ? words.t("made-up weather, at {{height}}", of)
      : words.t("{{source}}, at {{height}}", of),
  };
}
