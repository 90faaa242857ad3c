import { nowMillis, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { WindLimitChart } from "@/app/_ui/charts/WindLimitChart";
import { formatDate, formatHours, formatInstant, formatMetres, formatNumber } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
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
  sayRows,
  stripRows,
  windHours,
} from "@/app/(work)/weather/endWindows";
import { ForecastReader, noWeather, placeOf, profileOf, shiftAtSite } from "@/app/(work)/weather/siteHours";
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
  const words = await serverWords();
  const { t, locale } = words;
  await letTheFrameOut();
  const db = database();
  const { site } = end;
  const policy = desk.rules.weatherPolicy;
  const found = placeOf(site, loadPlaceForecasts(db), policy);
  if (!found) {
    return (
      <Notice kind="warn" title={t("No weather for this site")}>
        {t(
          "{{why}}. Its visits are planned with a careful allowance from the region's climate, never as always fine.",
          { why: words.say(noWeather(site, policy)) },
        )}
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
  const workHours = formatHours(
    segments.reduce((s, x) => s + x.durationMin, 0),
    locale,
  );
  const limits = limitsAtSite("aloft", profile, policy);
  return (
    <div className="grid gap-4">
      {forecast ? (
        <>
          <Panel
            title={t("Next ten days at {{height}}", { height: formatMetres(profile.heightM, locale) })}
            note={t(
              "{{name}}, {{distanceKm}} km away, brought to the mount's height and the site's elevation.",
              { name: place.name, distanceKm: formatNumber(distanceKm, 1, locale) },
            )}
          >
            <WeatherStrip
              label={`${site.code}, ${end.hop.code} ${end.side}`}
              hours={hours}
              rows={sayRows(stripRows(forecast, profile, hours, reader, place.members), words)}
              zone={site.zone}
              now={nowMillis(db)}
              source={sourceWords(forecast, site.zone, words)}
            />
          </Panel>
          <Panel
            title={t("If the work began on one of these days")}
            note={
              history
                ? t(
                    "The install of this end ({{hours}} of work) begun with the shift, through the forecast's hours, what is left after them through past years.",
                    { hours: workHours },
                  )
                : t(
                    "The install of this end ({{hours}} of work) begun with the shift, through the forecast's hours.",
                    { hours: workHours },
                  )
            }
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
          <Panel title={t("Wind at the mount")}>
            <WindLimitChart
              hours={windHours(forecast, profile, "aloft", hours, reader)}
              zone={site.zone}
              mountHeightM={profile.heightM}
              workClass={t("work aloft")}
              windLimitMs={limits.windMaxMs}
              gustLimitMs={limits.gustMaxMs}
            />
          </Panel>
        </>
      ) : (
        <Notice kind="warn" title={t("{{name}} has no forecast", { name: place.name })}>
          {t("Bring in a forecast for the place; until then only past years speak.")}
        </Notice>
      )}
      {history ? (
        <Panel
          title={t("Climate beyond")}
          note={t(
            "The same work begun on later days, run through each past year and the days around the date.",
          )}
          foot={t("{{years}} of {{source}}. This keeps how long bad weather lasts.", {
            years: t("{{count}} years", { count: history.years.length }),
            source: past.isMadeUp ? t("made-up weather") : past.source,
          })}
          flush
        >
          <BeyondTable rows={beyondForecast(history, segments, siteToday, shift)} />
        </Panel>
      ) : (
        <Notice kind="warn" title={t("No past years for {{name}}", { name: place.name })}>
          {t(
            "Beyond the forecast this site is planned with the region's monthly climate or a careful allowance.",
          )}
        </Notice>
      )}
    </div>
  );
}

export function sourceWords(series: WeatherSeries, zone: string, words: Words): string {
  const { t, locale } = words;
  const said = t("Forecast: {{source}}, issued {{when}}", {
    source: series.isMadeUp ? t(series.source) : series.source,
    when: formatInstant(series.issuedAtMillis, zone, locale),
  });
  return series.isMadeUp ? `${said}. ${t("Made-up weather")}` : said;
}

export async function FinishTable({ rows }: { rows: readonly FinishRow[] }) {
  const { t, locale, clock } = await serverWords();
  return (
    <ScrollRegion label={t("Finish by start day")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Begun on")}</th>
            <th scope="col">{t("Ends, P50")}</th>
            <th scope="col">{t("Ends, P80")}</th>
            <th scope="col">{t("Rests on")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.startsOn}>
              <th scope="row">{formatDate(r.startsOn, "weekday", locale)}</th>
              {r.basis === null ? (
                <td colSpan={3}>{t("closed: nobody works or the owner lets nobody in")}</td>
              ) : r.basis === "not known" ? (
                <td colSpan={3}>{t("not within the forecast, and no past year says more")}</td>
              ) : (
                <>
                  <td>
                    {formatDate(r.p50On, "weekday", locale)} {clock(r.p50Min)}
                  </td>
                  <td>
                    {r.p80On === undefined
                      ? t("as P50")
                      : r.p80On === null
                        ? t("not within 60 days")
                        : formatDate(r.p80On, "weekday", locale)}
                  </td>
                  <td>{r.basis === "forecast" ? t("forecast") : t("forecast, then past years")}</td>
                </>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function BeyondTable({ rows }: { rows: readonly BeyondRow[] }) {
  const words = await serverWords();
  const { t, locale } = words;
  const days = (n: number) => (Number.isFinite(n) ? t("{{count}} days", { count: n }) : t("over 60 days"));
  return (
    <ScrollRegion label={t("Past years, by start day")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Begun on")}</th>
            <th scope="col">P50</th>
            <th scope="col">P80</th>
            <th scope="col" data-align="end">
              {t("Perfect weather")} <span className="ui-unit">h</span>
            </th>
            <th scope="col">{t("Shift hours lost, by cause (mean of a run)")}</th>
            <th scope="col" data-align="end">
              {t("Runs")}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.startsOn}>
              <th scope="row">{formatDate(r.startsOn, "full", locale)}</th>
              {r.runs === 0 ? (
                <td colSpan={5}>{t("no past year covers this date")}</td>
              ) : (
                <>
                  <td>{days(r.p50Days)}</td>
                  <td>{days(r.p80Days)}</td>
                  <td data-align="end">{formatNumber(r.clearH, 1, locale)}</td>
                  <td className="min-w-64">{lostWords(r, words)}</td>
                  <td data-align="end">
                    {r.runs}
                    {r.unfinished > 0 ? (
                      <StateMark state="warn">{t("{{runs}} not finished", { runs: r.unfinished })}</StateMark>
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

function lostWords(r: BeyondRow, words: Words): string {
  const { locale, t } = words;
  const parts = r.lost.map((l) => `${t(FACTOR_LOOK[l.factor].word)} ${formatNumber(l.hours, 1, locale)} h`);
  if (r.shortSpellH >= 0.05)
    parts.push(t("stretches too short {{hours}} h", { hours: formatNumber(r.shortSpellH, 1, locale) }));
  return parts.length > 0 ? parts.join(", ") : t("none");
}
