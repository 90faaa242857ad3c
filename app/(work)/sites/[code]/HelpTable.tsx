import { nowMillis, today } from "@/app/_server/clock";
import { formatClock, formatDate, formatHours } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import {
  ForecastReader,
  noWeatherWords,
  placeOf,
  profileOf,
  shiftAtSite,
} from "@/app/(work)/weather/siteHours";
import { database } from "@/db/open";
import { loadPlaceForecasts } from "@/db/queries/weatherViews";
import { commonShift, type Help, type HelpRow, whatHelps } from "@/lib/programme";
import { addDays, daysBetween, localOf } from "@/lib/time";
import { type ShiftWeek, sunTimes } from "@/lib/weather";
import { type Desk, estimateEnd, type SiteEnd } from "./desk";
import { letTheFrameOut } from "./letTheFrameOut";

const DAYS = 10;

const WORDS: Readonly<Record<Help, string>> = {
  "as planned": "As planned: the usual crew and shift, a night between where the work may pause",
  "one more climber": "One more climber",
  "first light": "Beginning at first light, where the site is open",
  "one day only": "All on one day, without splitting over two",
};

/** Hours and dates that each help buys for this end's install, by the forecast of the next ten days. */
export async function HelpTable({ end, desk }: { end: SiteEnd; desk: Desk }) {
  await letTheFrameOut();
  const rows = helpRows(end, desk);
  if (typeof rows === "string") return <Panel title="What would help">{rows}</Panel>;
  const [planned] = rows;
  return (
    <Panel
      title="What would help"
      note="Earliest begin and end of this install by the forecast of the next ten days, from now on; each help alone. Planning limits, not permission to climb."
      flush
    >
      <ScrollRegion label="What would help" className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">Help</th>
              <th scope="col">On site</th>
              <th scope="col">Begins</th>
              <th scope="col">Ends</th>
              <th scope="col">Against the plan</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.help}>
                <th scope="row" data-label="Help">
                  {WORDS[r.help]}
                </th>
                <td data-label="On site">{formatHours(r.onSiteMin)}</td>
                <td data-label="Begins">{momentWords(r.begins)}</td>
                <td data-label="Ends">{momentWords(r.ends)}</td>
                <td data-label="Against the plan">{r === planned ? "\u2013" : gainWords(r, planned!)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

/** The rows, or why there are none. */
function helpRows(end: SiteEnd, desk: Desk): HelpRow[] | string {
  const db = database();
  const { site } = end;
  const policy = desk.rules.weatherPolicy;
  const found = placeOf(site, loadPlaceForecasts(db), policy);
  if (!found) return `${noWeatherWords(site, policy)}: without it no dates can be told.`;
  const { forecast } = found.place;
  if (!forecast) return `${found.place.name} has no forecast: without it no dates can be told.`;
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

const momentWords = (at: HelpRow["ends"]) =>
  at ? `${formatDate(at.on, "weekday")} ${formatClock(at.minute)}` : "not in the forecast";

function gainWords(r: HelpRow, planned: HelpRow): string {
  const lessMin = planned.onSiteMin - r.onSiteMin;
  const hours = lessMin >= 1 ? `${formatHours(lessMin)} less on site` : "";
  if (!r.ends || !planned.ends) return hours || (r.ends ? "ends in the forecast" : "no date by the forecast");
  const days = daysBetween(r.ends.on, planned.ends.on);
  const minutes = days * 1440 + planned.ends.minute - r.ends.minute;
  const earlier =
    Math.abs(minutes) < 1
      ? "ends at the same time"
      : `ends ${days === 0 ? formatHours(Math.abs(minutes)) : `${Math.abs(days)} ${Math.abs(days) === 1 ? "day" : "days"}`} ${minutes > 0 ? "earlier" : "later"}`;
  return [hours, earlier].filter(Boolean).join("; ");
}
