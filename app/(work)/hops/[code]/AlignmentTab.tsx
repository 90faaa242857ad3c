import { nowMillis, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatHours } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { WeatherStrip } from "@/app/_ui/WeatherStrip";
import { type Desk, estimateHop, type SiteEnd } from "@/app/(work)/sites/[code]/desk";
import { letTheFrameOut } from "@/app/(work)/sites/[code]/letTheFrameOut";
import { FinishTable, sourceWords } from "@/app/(work)/sites/[code]/WindowsTab";
import { WorkBars } from "@/app/(work)/sites/[code]/WorkBars";
import { historyOf } from "@/app/(work)/weather/climate";
import {
  finishByDay,
  historyFor,
  hoursFrom,
  jointVerdicts,
  sayVerdicts,
  verdicts,
} from "@/app/(work)/weather/endWindows";
import {
  bothOpen,
  ForecastReader,
  noWeather,
  placeOf,
  profileOf,
  shiftAtSite,
} from "@/app/(work)/weather/siteHours";
import { database } from "@/db/open";
import { loadPlaceForecasts, type PlaceForecast } from "@/db/queries/weatherViews";
import { commonShift } from "@/lib/programme";
import { addDays, type CalendarDate, instantAt } from "@/lib/time";
import { jointHistory, jointMask, type ShiftWeek } from "@/lib/weather";

const DAYS = 10;

/** The alignment visit: how long it takes, and the hours that suit both ends at once, or each end where they come in turn. */
export async function AlignmentTab({ ends, desk }: { ends: readonly SiteEnd[]; desk: Desk }) {
  const { t, locale } = await serverWords();
  await letTheFrameOut();
  const near = ends[0]!;
  const e = estimateHop(near, desk);
  const isAtOnce = near.hop.alignment === "both ends at once";
  return (
    <div className="grid gap-4">
      <StatRow>
        <Stat
          label={t("Mean of least, likely, most (PERT)")}
          figure={formatHours(e.durationMin, locale)}
          limit={
            isAtOnce ? t("a crew at each end, at once") : t("at each end: the far end after the near end")
          }
        />
        <Stat label="P50" figure={formatHours(e.p50Min, locale)} />
        <Stat label="P80" figure={formatHours(e.p80Min, locale)} limit={t("four times of five not longer")} />
        <Stat
          label={t("P10 to P90")}
          figure={t("{{from}} to {{to}}", {
            from: formatHours(e.p10Min, locale),
            to: formatHours(e.p90Min, locale),
          })}
        />
      </StatRow>
      <Notice kind="info">
        {t(
          "Alignment figures are defaults from memory (1 to 2 h up to 0.6 m, 2 to 4 h from 1.2 m, doubled for space diversity): calibrate with reported hours and confirm with the maker's instructions.",
        )}
      </Notice>
      {isAtOnce ? (
        <JointWindows ends={ends} desk={desk} />
      ) : (
        ends.map((end) => <WindowsInTurn key={end.key} end={end} desk={desk} />)
      )}
      <Disclosure summary={t("Order of work at each end")}>
        <WorkBars estimate={e} crew={desk.crew} />
      </Disclosure>
    </div>
  );
}

async function JointWindows({ ends, desk }: { ends: readonly SiteEnd[]; desk: Desk }) {
  const words = await serverWords();
  const { t } = words;
  const db = database();
  const policy = desk.rules.weatherPolicy;
  const places = loadPlaceForecasts(db);
  const views = ends.map((end) => viewOf(end, places, desk, words));
  const missing = views.find((v) => typeof v === "string");
  if (missing) {
    return (
      <Notice kind="warn" title={t("The joint window is not known")}>
        {t("{{why}}. The alignment is planned with a careful allowance, never as always fine.", {
          why: missing,
        })}
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
        title={t("Hours that suit both ends")}
        note={t("Alignment needs both ends at once: an hour counts only where the limits are met at both.")}
      >
        <WeatherStrip
          label={t("Alignment of {{code}}", { code: near.end.hop.code })}
          hours={hours}
          rows={[
            {
              workClass: "alignment",
              label: t("Both ends"),
              verdicts: sayVerdicts(jointVerdicts(nearWords, farWords), words),
            },
            {
              workClass: "alignment",
              label: t("Near, {{code}}", { code: near.end.site.code }),
              verdicts: sayVerdicts(nearWords, words),
            },
            {
              workClass: "alignment",
              label: t("Far, {{code}}", { code: far.end.site.code }),
              verdicts: sayVerdicts(farWords, words),
            },
          ]}
          zone={zone}
          now={nowMillis(db)}
          source={sourceWords(near.forecast, zone, words)}
        />
      </Panel>
      <Panel
        title={t("If the alignment began on one of these days")}
        note={
          history
            ? t(
                "The whole visit, begun with the shift and run through the hours that suit both ends, what is left after the forecast through past years.",
              )
            : t("The whole visit, begun with the shift and run through the hours that suit both ends.")
        }
        flush
      >
        <FinishTable
          rows={finishByDay(
            mask,
            near.profile,
            policy,
            shift,
            segments,
            daysFrom(siteToday),
            history,
            nowMillis(db),
          )}
        />
      </Panel>
    </>
  );
}

const daysFrom = (day: CalendarDate): CalendarDate[] =>
  Array.from({ length: DAYS }, (_, d) => addDays(day, d));

/** By the procedure "end after end" each end has its own visit: its hours ask nothing of the other end's weather. */
async function WindowsInTurn({ end, desk }: { end: SiteEnd; desk: Desk }) {
  const words = await serverWords();
  const { t } = words;
  const db = database();
  const policy = desk.rules.weatherPolicy;
  const view = viewOf(end, loadPlaceForecasts(db), desk, words);
  if (typeof view === "string") {
    return (
      <Notice kind="warn" title={t("The window of this end is not known")}>
        {t("{{why}}. The alignment is planned with a careful allowance, never as always fine.", {
          why: view,
        })}
      </Notice>
    );
  }
  const { forecast, profile, shift } = view;
  const reader = new ForecastReader(policy);
  const { zone } = end.site;
  const siteToday = today(zone, db);
  const hours = hoursFrom(forecast, instantAt(siteToday, 0, zone), DAYS * 24);
  const { segments } = estimateHop(end, desk);
  const series = historyOf(db, view.place.code);
  const history = series && historyFor(series, profile, policy, shift, segments);
  const isNear = end.side === "near";
  const named = isNear
    ? t("Near, {{code}}", { code: end.site.code })
    : t("Far, {{code}}", { code: end.site.code });
  return (
    <>
      <Panel
        title={
          isNear
            ? t("Hours of the near end, {{code}}", { code: end.site.code })
            : t("Hours of the far end, {{code}}", { code: end.site.code })
        }
        note={
          isNear
            ? t("By the hop's procedure the ends are aligned one after the other: each has its own hours.")
            : t("Begun once the near end is aligned.")
        }
      >
        <WeatherStrip
          label={t("Alignment of {{code}}", { code: end.hop.code })}
          hours={hours}
          rows={[
            {
              workClass: "alignment",
              label: named,
              verdicts: sayVerdicts(verdicts(forecast, profile, "alignment", hours, reader), words),
            },
          ]}
          zone={zone}
          now={nowMillis(db)}
          source={sourceWords(forecast, zone, words)}
        />
      </Panel>
      <Panel
        title={
          isNear
            ? t("If the near end's alignment began on one of these days")
            : t("If the far end's alignment began on one of these days")
        }
        note={t("This end's visit alone, begun with the shift and run through its own hours.")}
        flush
      >
        <FinishTable
          rows={finishByDay(
            reader.mask(forecast, profile),
            profile,
            policy,
            shift,
            segments,
            daysFrom(siteToday),
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

function viewOf(end: SiteEnd, places: readonly PlaceForecast[], desk: Desk, words: Words): EndView | string {
  const { t, say } = words;
  const policy = desk.rules.weatherPolicy;
  const place = placeOf(end.site, places, policy)?.place;
  if (!place) return `${end.site.code}: ${say(noWeather(end.site, policy))}`;
  if (!place.forecast)
    return t("{{code}}: {{name}} has no forecast", { code: end.site.code, name: place.name });
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
