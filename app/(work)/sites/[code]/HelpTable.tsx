import { nowMillis, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { formatDate, formatHours } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { ForecastReader, noWeather, placeOf, profileOf, shiftAtSite } from "@/app/(work)/weather/siteHours";
import { database } from "@/db/open";
import { loadPlaceForecasts } from "@/db/queries/weatherViews";
import { commonShift, type Help, type HelpRow, whatHelps } from "@/lib/programme";
import { addDays, daysBetween, localOf } from "@/lib/time";
import { type ShiftWeek, sunTimes } from "@/lib/weather";
import { type Desk, estimateEnd, type SiteEnd } from "./desk";
import { letTheFrameOut } from "./letTheFrameOut";

const DAYS = 10;

export const HELP_WORDS: Readonly<Record<Help, string>> = {
  usual: "Usual crew and shift, a night between where the work may pause",
  "one more climber": "One more climber",
  "first light": "Beginning at first light, where the site is open",
  "one day only": "All on one day, without splitting over two",
};

/** Hours and dates that each help buys for this end's install, by the forecast of the next ten days. */
export async function HelpTable({ end, desk }: { end: SiteEnd; desk: Desk }) {
  const words = await serverWords();
  const { t, locale } = words;
  await letTheFrameOut();
  const rows = helpRows(end, desk, words);
  if (typeof rows === "string") return <Panel title={t("What would help")}>{rows}</Panel>;
  const [usual] = rows;
  return (
    <Panel
      title={t("What would help")}
      note={t(
        "Earliest begin and end of this install by the forecast of the next ten days, from now on, whatever the plan says; each help alone. Planning limits, not permission to climb.",
      )}
      flush
    >
      <ScrollRegion label={t("What would help")} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Help")}</th>
              <th scope="col">{t("On site")}</th>
              <th scope="col">{t("Begins")}</th>
              <th scope="col">{t("Ends (verb)")}</th>
              <th scope="col">{t("Against usual crew and shift")}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.help}>
                <th scope="row" data-label={t("Help")}>
                  {t(HELP_WORDS[r.help])}
                </th>
                <td data-label={t("On site")}>{formatHours(r.onSiteMin, locale)}</td>
                <td data-label={t("Begins")}>{momentWords(r.begins, words)}</td>
                <td data-label={t("Ends (verb)")}>{momentWords(r.ends, words)}</td>
                <td data-label={t("Against usual crew and shift")}>
                  {r === usual ? "\u2013" : gainWords(r, usual!, words)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

/** The rows, or why there are none. */
function helpRows(end: SiteEnd, desk: Desk, words: Words): HelpRow[] | string {
  const { t, say } = words;
  const db = database();
  const { site } = end;
  const policy = desk.rules.weatherPolicy;
  const found = placeOf(site, loadPlaceForecasts(db), policy);
  if (!found) return t("{{why}}: without it no dates can be told.", { why: say(noWeather(site, policy)) });
  const { forecast } = found.place;
  if (!forecast)
    return t("{{name}} has no forecast: without it no dates can be told.", { name: found.place.name });
  const { drivers } = end.takeoff;
  const profile = profileOf(
    {
      site,
      heightM: drivers.maxMountHeightM,
      diameterM: drivers.largestDiameterM,
      bandGhz: end.hop.bandGhz,
    },
    found.place,
  );
  const siteToday = today(site.zone, db);
  const shift = commonShift(desk.crews);
  const { dawn } = sunTimes(siteToday, profile.latDeg, profile.lonDeg, site.zone);
  const lightMin = dawn === undefined ? 1440 : Math.ceil(localOf(dawn, site.zone).minuteOfDay);
  return whatHelps({
    estimate: estimateEnd(end, desk),
    mask: new ForecastReader(policy).mask(forecast, profile),
    zone: site.zone,
    shift: shiftAtSite(shift, site.access),
    lightShift: shiftAtSite(fromLight(shift, lightMin), site.access),
    days: Array.from({ length: DAYS }, (_, d) => addDays(siteToday, d)),
    nowMillis: nowMillis(db),
  });
}

/** The shift from first light on, where that is earlier; it ends as ever. */
const fromLight = (shift: ShiftWeek, lightMin: number): ShiftWeek =>
  shift.map((day) => day && { ...day, fromMin: Math.min(day.fromMin, lightMin) });

const momentWords = (at: HelpRow["ends"], words: Words) =>
  at
    ? `${formatDate(at.on, "weekday", words.locale)} ${words.clock(at.minute)}`
    : words.t("not in the forecast");

function gainWords(r: HelpRow, usual: HelpRow, words: Words): string {
  const { t, locale } = words;
  const lessMin = usual.onSiteMin - r.onSiteMin;
  const hours = lessMin >= 1 ? t("{{gain}} less on site", { gain: formatHours(lessMin, locale) }) : "";
  if (!r.ends || !usual.ends)
    return hours || (r.ends ? t("ends in the forecast") : t("no date by the forecast"));
  const days = daysBetween(r.ends.on, usual.ends.on);
  const minutes = days * 1440 + usual.ends.minute - r.ends.minute;
  const by =
    days === 0 ? formatHours(Math.abs(minutes), locale) : t("{{count}} days", { count: Math.abs(days) });
  const earlier =
    Math.abs(minutes) < 1
      ? t("ends at the same time")
      : minutes > 0
        ? t("ends {{by}} earlier", { by })
        : t("ends {{by}} later", { by });
  return [hours, earlier].filter(Boolean).join("; ");
}
