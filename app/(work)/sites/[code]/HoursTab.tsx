import { Suspense } from "react";
import { serverWords } from "@/app/_server/language";
import { HoursByHeightChart } from "@/app/_ui/charts/HoursByHeightChart";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatDuration, formatHours, formatMetres } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { database } from "@/db/open";
import { doneVisits } from "@/db/queries/reports";
import type { EndEstimate } from "@/lib/hours";
import { isInstallDone } from "@/lib/programme";
import { type Desk, estimateEnd, heightCurve, type SiteEnd } from "./desk";
import { HelpTable } from "./HelpTable";
import { letTheFrameOut } from "./letTheFrameOut";
import { personWords, WorkBars } from "./WorkBars";

/** How long one end takes the reference crew, in which order, and what would change it. */
export async function HoursTab({ end, desk }: { end: SiteEnd; desk: Desk }) {
  const words = await serverWords();
  const { t, locale } = words;
  await letTheFrameOut();
  const e = estimateEnd(end, desk);
  return (
    <div className="grid gap-4">
      <StatRow>
        <Stat
          label={t("Mean of least, likely, most (PERT)")}
          figure={formatHours(e.durationMin, locale)}
          limit={t("one crew, no weather, no travel")}
        />
        <Stat
          label={t("P10 to P90")}
          figure={t("{{from}} to {{to}}", {
            from: hours(e.p10Min, words),
            to: formatHours(e.p90Min, locale),
          })}
          limit={`P50 ${formatHours(e.p50Min, locale)}`}
        />
        <Stat label="P80" figure={formatHours(e.p80Min, locale)} limit={t("four times of five not longer")} />
        <Stat
          label={t("With one more climber")}
          figure={formatHours(e.withOneMoreClimberMin, locale)}
          limit={gainWords(e, words)}
        />
        <Stat
          label={t("Idle crew time")}
          figure={formatHours(e.idleMin, locale)}
          limit={t("of {{hours}} person-time", {
            hours: formatHours(e.idleMin + e.personHours * 60, locale),
          })}
        />
        <Stat
          label={t("Ascents")}
          figure={e.ascents ?? 0}
          limit={t("mount at {{height}}", {
            height: formatMetres(end.takeoff.drivers.maxMountHeightM, locale),
          })}
        />
      </StatRow>
      <Notice kind="info" title={t("Defaults from memory and common practice: calibrate")}>
        {t(
          "The task figures are delivered defaults until they are calibrated with reported hours; confirm the steps with the maker's instructions. Norms version {{version}}.",
          { version: e.normsVersion ?? desk.rules.norms.version },
        )}
      </Notice>
      <Shortfall estimate={e} />
      <Panel
        title={t("Hour by hour")}
        note={t("{{tasks}} for {{people}}; set-up {{time}}. Time runs from the arrival.", {
          tasks: t("{{count}} tasks", { count: e.tasks.length }),
          people: t("{{count}} people", { count: desk.crew.people.length }),
          time: formatDuration(e.setupMin, locale),
        })}
        foot={proofWords(e, words)}
      >
        <WorkBars estimate={e} crew={desk.crew} />
      </Panel>
      {isInstallDone(doneVisits(database()), end.hop.code, end.side) ? null : (
        <Suspense fallback={<Panel title={t("What would help")}>{t("Reading the forecast …")}</Panel>}>
          <HelpTable end={end} desk={desk} />
        </Suspense>
      )}
      <Panel title={t("Hours against height")}>
        <Suspense fallback={<p style={{ minHeight: 340 }}>{t("Working out the curve …")}</p>}>
          <Curve end={end} desk={desk} />
        </Suspense>
      </Panel>
      <Disclosure summary={t("For whom this is worked out")}>
        <ul>
          {desk.crew.people.map((_, p) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: people have no other name than their place in the crew
            <li key={p}>{personWords(desk.crew, p, words)}</li>
          ))}
        </ul>
        <p>{t("The largest crew; the plan stretches or shortens by each crew's own people and pace.")}</p>
      </Disclosure>
    </div>
  );
}

async function Curve({ end, desk }: { end: SiteEnd; desk: Desk }) {
  const { t } = await serverWords();
  await letTheFrameOut();
  return (
    <HoursByHeightChart
      curves={[{ label: t(end.hop.scheme), points: heightCurve(end, desk) }]}
      markHeightM={end.takeoff.drivers.maxMountHeightM}
      title={t("Hours of this end's install at other mount heights")}
    />
  );
}

const hours = (min: number, { locale }: Words): string => formatHours(min, locale).replace(/\s*h$/, "");

function gainWords(e: EndEstimate, words: Words): string {
  const { t, locale } = words;
  const gainMin = e.durationMin - e.withOneMoreClimberMin;
  return gainMin < 1
    ? t("no gain: climbing is not what holds it up")
    : t("{{gain}} less on site", { gain: formatDuration(gainMin, locale) });
}

function proofWords(e: EndEstimate, words: Words): string {
  const { t, locale } = words;
  if (e.proved) return t("Shortest order of work under the site rules, proved.");
  return t("Good order of work; none can be shorter than {{least}} (gap {{gap}}).", {
    least: formatHours(e.lowerBoundMin, locale),
    gap: formatDuration(e.durationMin - e.lowerBoundMin, locale),
  });
}

async function Shortfall({ estimate }: { estimate: EndEstimate }) {
  const { t } = await serverWords();
  const { shortfall = [] } = estimate;
  if (shortfall.length === 0) return null;
  const words = shortfall.map((s) => `${s.missing} ${t(s.skill)}`).join(", ");
  return (
    <Notice kind="warn" title={t("The crew lacks people for this end")}>
      {t("The figures are those of a crew with {{people}} more. Only such a crew is planned for it.", {
        people: words,
      })}
    </Notice>
  );
}
