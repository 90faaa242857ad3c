import { nowMillis, today } from "@/app/_server/clock";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatHours } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { WeatherStrip } from "@/app/_ui/WeatherStrip";
import { type Desk, estimateHop, type SiteEnd } from "@/app/(work)/sites/[code]/desk";
import { letTheFrameOut } from "@/app/(work)/sites/[code]/letTheFrameOut";
import { FinishTable, sourceWords } from "@/app/(work)/sites/[code]/WindowsTab";
import { WorkBars } from "@/app/(work)/sites/[code]/WorkBars";
import { historyOf } from "@/app/(work)/weather/climate";
import { finishByDay, historyFor, hoursFrom, jointVerdicts, verdicts } from "@/app/(work)/weather/endWindows";
import {
  bothOpen,
  ForecastReader,
  noWeatherWords,
  placeOf,
  profileOf,
  shiftAtSite,
} from "@/app/(work)/weather/siteHours";
import { database } from "@/db/open";
import { loadPlaceForecasts, type PlaceForecast } from "@/db/queries/weatherViews";
import { commonShift } from "@/lib/programme";
import { addDays, instantAt } from "@/lib/time";
import { jointHistory, jointMask, type ShiftWeek } from "@/lib/weather";

const DAYS = 10;

/** The alignment visit: how long it takes, and the hours that suit both ends at once. */
export async function AlignmentTab({ ends, desk }: { ends: readonly SiteEnd[]; desk: Desk }) {
  await letTheFrameOut();
  const near = ends[0]!;
  const e = estimateHop(near, desk);
  return (
    <div className="grid gap-4">
      <StatRow>
        <Stat label="PERT mean" figure={formatHours(e.durationMin)} limit="a crew at each end, at once" />
        <Stat label="P50" figure={formatHours(e.p50Min)} />
        <Stat label="P80" figure={formatHours(e.p80Min)} limit="four times of five not longer" />
        <Stat label="P10 to P90" figure={`${formatHours(e.p10Min)} to ${formatHours(e.p90Min)}`} />
      </StatRow>
      <Notice kind="info">
        Alignment figures are defaults from memory (1 to 2 h up to 0.6 m, 2 to 4 h from 1.2 m, doubled for
        space diversity): calibrate with reported hours and confirm with the maker's instructions.
      </Notice>
      <JointWindows ends={ends} desk={desk} />
      <Disclosure summary="Order of work at each end">
        <WorkBars estimate={e} crew={desk.crew} />
      </Disclosure>
    </div>
  );
}

function JointWindows({ ends, desk }: { ends: readonly SiteEnd[]; desk: Desk }) {
  const db = database();
  const policy = desk.rules.weatherPolicy;
  const places = loadPlaceForecasts(db);
  const views = ends.map((end) => viewOf(end, places, desk));
  const missing = views.find((v) => typeof v === "string");
  if (missing) {
    return (
      <Notice kind="warn" title="The joint window is not known">
        {`${missing}. The alignment is planned with a careful allowance, never as always fine.`}
      </Notice>
    );
  }
  const [near, far] = views as [EndView, EndView];
  const reader = new ForecastReader(policy);
  const zone = near.end.site.zone;
  const siteToday = today(zone, db);
  const farForecastEnd = far.forecast.startsAtMillis + far.forecast.hours * 3_600_000;
  const hours = hoursFrom(near.forecast, instantAt(siteToday, 0, zone), DAYS * 24).filter(
    (at) => at >= far.forecast.startsAtMillis && at < farForecastEnd,
  );
  const nearWords = verdicts(near.forecast, near.profile, "alignment", hours, reader);
  const farWords = verdicts(far.forecast, far.profile, "alignment", hours, reader);
  const { segments } = estimateHop(near.end, desk);
  const mask = jointMask(reader.mask(near.forecast, near.profile), reader.mask(far.forecast, far.profile));
  const shift = bothOpen(near.shift, far.shift);
  const pasts = [near, far].map((v) => {
    const series = historyOf(db, v.place.code);
    return series && historyFor(series, v.profile, policy, shift, segments);
  });
  const history =
    pasts[0] &&
    pasts[1] &&
    pasts[0].mask.startsAtMillis === pasts[1].mask.startsAtMillis &&
    pasts[0].mask.hours === pasts[1].mask.hours
      ? jointHistory(pasts[0], pasts[1])
      : undefined;
  return (
    <>
      <Panel
        title="Hours that suit both ends"
        note="Alignment needs both ends at once: an hour counts only where the limits are met at both."
      >
        <WeatherStrip
          label={`Alignment of ${near.end.hop.code}`}
          hours={hours}
          rows={[
            { workClass: "alignment", label: "Both ends", verdicts: jointVerdicts(nearWords, farWords) },
            { workClass: "alignment", label: `Near, ${near.end.site.code}`, verdicts: nearWords },
            { workClass: "alignment", label: `Far, ${far.end.site.code}`, verdicts: farWords },
          ]}
          zone={zone}
          now={nowMillis(db)}
          source={sourceWords(near.forecast, zone)}
        />
      </Panel>
      <Panel
        title="If the alignment began on one of these days"
        note={`The whole visit, begun with the shift and run through the hours that suit both ends${history ? ", what is left after the forecast through past years" : ""}.`}
        flush
      >
        <FinishTable
          rows={finishByDay(
            mask,
            near.profile,
            policy,
            shift,
            segments,
            Array.from({ length: DAYS }, (_, d) => addDays(siteToday, d)),
            history,
            nowMillis(db),
          )}
        />
      </Panel>
    </>
  );
}

interface EndView {
  end: SiteEnd;
  place: PlaceForecast;
  forecast: NonNullable<PlaceForecast["forecast"]>;
  profile: ReturnType<typeof profileOf>;
  shift: ShiftWeek;
}

function viewOf(end: SiteEnd, places: readonly PlaceForecast[], desk: Desk): EndView | string {
  const policy = desk.rules.weatherPolicy;
  const place = placeOf(end.site, places, policy)?.place;
  if (!place) return `${end.site.code}: ${noWeatherWords(end.site, policy)}`;
  if (!place.forecast) return `${end.site.code}: ${place.name} has no forecast`;
  const { drivers } = end.takeoff;
  return {
    end,
    place,
    forecast: place.forecast,
    profile: profileOf(
      {
        site: end.site,
        heightM: drivers.maxMountHeightM,
        diameterM: drivers.largestDiameterM,
        bandGhz: end.hop.bandGhz,
      },
      place,
    ),
    shift: shiftAtSite(commonShift(desk.crews), end.site.access),
  };
}
