import { nowMillis, today } from "@/app/_server/clock";
import { WindLimitChart } from "@/app/_ui/charts/WindLimitChart";
import {
  formatClock,
  formatCount,
  formatDate,
  formatHours,
  formatInstant,
  formatMetres,
  formatNumber,
} from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { WeatherStrip } from "@/app/_ui/WeatherStrip";
import { FACTOR_LOOK } from "@/app/_ui/weather/factors";
import { historyOf } from "@/app/(work)/weather/climate";
import {
  type BeyondRow,
  beyondForecast,
  type FinishRow,
  finishByDay,
  historyFor,
  hoursFrom,
  stripRows,
  windHours,
} from "@/app/(work)/weather/endWindows";
import {
  ForecastReader,
  noWeatherWords,
  placeOf,
  profileOf,
  shiftAtSite,
} from "@/app/(work)/weather/siteHours";
import { database } from "@/db/open";
import { loadPlaceForecasts } from "@/db/queries/weatherViews";
import { commonShift, restDays } from "@/lib/programme";
import { addDays, instantAt } from "@/lib/time";
import { limitsAtSite, type WeatherSeries } from "@/lib/weather";
import { type Desk, estimateEnd, type SiteEnd } from "./desk";
import { letTheFrameOut } from "./letTheFrameOut";
import { RestPanel } from "./RestPanel";

const DAYS = 10;

/** When the work at one end may be done: the next ten days by hour, and what past years say beyond. */
export async function WindowsTab({ end, desk }: { end: SiteEnd; desk: Desk }) {
  await letTheFrameOut();
  const db = database();
  const { site } = end;
  const policy = desk.rules.weatherPolicy;
  const found = placeOf(site, loadPlaceForecasts(db), policy);
  if (!found) {
    return (
      <Notice kind="warn" title="No weather for this site">
        {`${noWeatherWords(site, policy)}. Its visits are planned with a careful allowance from the region's climate, never as always fine.`}
      </Notice>
    );
  }
  const { place, distanceKm } = found;
  const { drivers } = end.takeoff;
  const profile = profileOf(
    {
      site,
      heightM: drivers.maxMountHeightM,
      diameterM: drivers.largestDiameterM,
      bandGhz: end.hop.bandGhz,
    },
    place,
  );
  const shift = shiftAtSite(commonShift(desk.crews), site.access);
  const { segments } = estimateEnd(end, desk);
  const reader = new ForecastReader(policy);
  const siteToday = today(site.zone, db);
  const past = historyOf(db, place.code);
  const history = past && historyFor(past, profile, policy, shift, segments);
  const days = Array.from({ length: DAYS }, (_, d) => addDays(siteToday, d));
  const { forecast } = place;
  const hours = forecast ? hoursFrom(forecast, instantAt(siteToday, 0, site.zone), DAYS * 24) : [];
  const limits = limitsAtSite("aloft", profile, policy);
  return (
    <div className="grid gap-4">
      {forecast ? (
        <>
          <Panel
            title={`Next ten days at ${formatMetres(profile.heightM)}`}
            note={`${place.name}, ${formatNumber(distanceKm, 1)} km away, brought to the mount's height and the site's elevation.`}
          >
            <WeatherStrip
              label={`${site.code}, ${end.hop.code} ${end.side}`}
              hours={hours}
              rows={stripRows(forecast, profile, hours, reader, place.members)}
              zone={site.zone}
              now={nowMillis(db)}
              source={sourceWords(forecast, site.zone)}
            />
          </Panel>
          <Panel
            title="If the work began on one of these days"
            note={`The install of this end (${formatHours(segments.reduce((s, x) => s + x.durationMin, 0))} of work) begun with the shift, through the forecast's hours${history ? ", what is left after them through past years" : ""}.`}
            flush
          >
            <FinishTable
              rows={finishByDay(
                reader.mask(forecast, profile),
                profile,
                policy,
                shift,
                segments,
                days,
                history,
                nowMillis(db),
              )}
            />
          </Panel>
          <RestPanel
            days={restDays(forecast, profile, policy, shift, days, desk.rules.norms.derating).flatMap(
              (d) => d ?? [],
            )}
            source={desk.rules.norms.derating.source}
          />
          <Panel title="Wind at the mount">
            <WindLimitChart
              hours={windHours(forecast, profile, "aloft", hours, reader)}
              zone={site.zone}
              mountHeightM={profile.heightM}
              workClass="work aloft"
              windLimitMs={limits.windMaxMs}
              gustLimitMs={limits.gustMaxMs}
            />
          </Panel>
        </>
      ) : (
        <Notice kind="warn" title={`${place.name} has no forecast`}>
          Bring in a forecast for the place; until then only past years speak.
        </Notice>
      )}
      {history ? (
        <Panel
          title="Climate beyond"
          note="The same work begun on later days, run through each past year and the days around the date."
          foot={`${formatCount(history.years.length, "year")} of ${past.isMadeUp ? "made-up weather" : past.source}. This keeps how long bad weather lasts.`}
          flush
        >
          <BeyondTable rows={beyondForecast(history, segments, siteToday, shift)} />
        </Panel>
      ) : (
        <Notice kind="warn" title={`No past years for ${place.name}`}>
          Beyond the forecast this site is planned with the region's monthly climate or a careful allowance.
        </Notice>
      )}
    </div>
  );
}

export function sourceWords(series: WeatherSeries, zone: string): string {
  return `Forecast: ${series.source}, issued ${formatInstant(series.issuedAtMillis, zone)}${series.isMadeUp ? ". Made-up weather" : ""}`;
}

export function FinishTable({ rows }: { rows: readonly FinishRow[] }) {
  return (
    <ScrollRegion label="Finish by start day">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Begun on</th>
            <th scope="col">Ends, P50</th>
            <th scope="col">Ends, P80</th>
            <th scope="col">Rests on</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.startsOn}>
              <th scope="row">{formatDate(r.startsOn, "weekday")}</th>
              {r.basis === null ? (
                <td colSpan={3}>closed: nobody works or the owner lets nobody in</td>
              ) : r.basis === "not known" ? (
                <td colSpan={3}>not within the forecast, and no past year says more</td>
              ) : (
                <>
                  <td>
                    {formatDate(r.p50On, "weekday")} {formatClock(r.p50Min)}
                  </td>
                  <td>
                    {r.p80On === undefined
                      ? "as P50"
                      : r.p80On === null
                        ? "not within 60 days"
                        : formatDate(r.p80On, "weekday")}
                  </td>
                  <td>{r.basis === "forecast" ? "forecast" : "forecast, then past years"}</td>
                </>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function BeyondTable({ rows }: { rows: readonly BeyondRow[] }) {
  const days = (n: number) => (Number.isFinite(n) ? formatCount(n, "day") : "over 60 days");
  return (
    <ScrollRegion label="Past years, by start day">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Begun on</th>
            <th scope="col">P50</th>
            <th scope="col">P80</th>
            <th scope="col" data-align="end">
              Perfect weather <span className="ui-unit">h</span>
            </th>
            <th scope="col">Shift hours lost, by cause (mean of a run)</th>
            <th scope="col" data-align="end">
              Runs
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.startsOn}>
              <th scope="row">{formatDate(r.startsOn)}</th>
              {r.runs === 0 ? (
                <td colSpan={5}>no past year covers this date</td>
              ) : (
                <>
                  <td>{days(r.p50Days)}</td>
                  <td>{days(r.p80Days)}</td>
                  <td data-align="end">{formatNumber(r.clearH, 1)}</td>
                  <td className="min-w-64">{lostWords(r)}</td>
                  <td data-align="end">
                    {r.runs}
                    {r.unfinished > 0 ? (
                      <StateMark state="warn">{r.unfinished} not finished</StateMark>
                    ) : null}
                  </td>
                </>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function lostWords(r: BeyondRow): string {
  const parts = r.lost.map((l) => `${FACTOR_LOOK[l.factor].word} ${formatNumber(l.hours, 1)} h`);
  if (r.shortSpellH >= 0.05) parts.push(`stretches too short ${formatNumber(r.shortSpellH, 1)} h`);
  return parts.length > 0 ? parts.join(", ") : "none";
}
