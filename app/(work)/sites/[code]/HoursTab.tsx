import { Suspense } from "react";
import { HoursByHeightChart } from "@/app/_ui/charts/HoursByHeightChart";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatCount, formatDuration, formatHours, formatMetres } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import type { EndEstimate } from "@/lib/hours";
import { type Desk, estimateEnd, heightCurve, type SiteEnd } from "./desk";
import { HelpTable } from "./HelpTable";
import { letTheFrameOut } from "./letTheFrameOut";
import { personWords, WorkBars } from "./WorkBars";

/** How long one end takes the reference crew, in which order, and what would change it. */
export async function HoursTab({ end, desk }: { end: SiteEnd; desk: Desk }) {
  await letTheFrameOut();
  const e = estimateEnd(end, desk);
  return (
    <div className="grid gap-4">
      <StatRow>
        <Stat label="PERT mean" figure={formatHours(e.durationMin)} limit="one crew, no weather, no travel" />
        <Stat
          label="P10 to P90"
          figure={`${hours(e.p10Min)} to ${formatHours(e.p90Min)}`}
          limit={`P50 ${formatHours(e.p50Min)}`}
        />
        <Stat label="P80" figure={formatHours(e.p80Min)} limit="four times of five not longer" />
        <Stat
          label="With one more climber"
          figure={formatHours(e.withOneMoreClimberMin)}
          limit={gainWords(e)}
        />
        <Stat
          label="Idle crew time"
          figure={formatHours(e.idleMin)}
          limit={`of ${formatHours(e.idleMin + e.personHours * 60)} person-time`}
        />
        <Stat
          label="Ascents"
          figure={e.ascents ?? 0}
          limit={`mount at ${formatMetres(end.takeoff.drivers.maxMountHeightM)}`}
        />
      </StatRow>
      <Notice kind="info" title="Defaults from memory and common practice: calibrate">
        The task figures are delivered defaults until they are calibrated with reported hours; confirm the
        steps with the maker's instructions. Norms version {e.normsVersion ?? desk.rules.norms.version}.
      </Notice>
      <Shortfall estimate={e} />
      <Panel
        title="Hour by hour"
        note={`${formatCount(e.tasks.length, "task")} for ${formatCount(desk.crew.people.length, "person", "people")}; set-up ${formatDuration(e.setupMin)}. Time runs from the arrival.`}
        foot={proofWords(e)}
      >
        <WorkBars estimate={e} crew={desk.crew} />
      </Panel>
      <Suspense fallback={<Panel title="What would help">Reading the forecast …</Panel>}>
        <HelpTable end={end} desk={desk} />
      </Suspense>
      <Panel title="Hours against height">
        <Suspense fallback={<p style={{ minHeight: 340 }}>Working out the curve …</p>}>
          <Curve end={end} desk={desk} />
        </Suspense>
      </Panel>
      <Disclosure summary="For whom this is worked out">
        <ul>
          {desk.crew.people.map((_, p) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: people have no other name than their place in the crew
            <li key={p}>{personWords(desk.crew, p)}</li>
          ))}
        </ul>
        <p>The largest crew; the plan stretches or shortens by each crew's own people and pace.</p>
      </Disclosure>
    </div>
  );
}

async function Curve({ end, desk }: { end: SiteEnd; desk: Desk }) {
  await letTheFrameOut();
  return (
    <HoursByHeightChart
      curves={[{ label: end.hop.scheme, points: heightCurve(end, desk) }]}
      markHeightM={end.takeoff.drivers.maxMountHeightM}
      title="Hours of this end's install at other mount heights"
    />
  );
}

const hours = (min: number): string => formatHours(min).replace(/\s*h$/, "");

function gainWords(e: EndEstimate): string {
  const gainMin = e.durationMin - e.withOneMoreClimberMin;
  return gainMin < 1
    ? "no gain: climbing is not what holds it up"
    : `${formatDuration(gainMin)} less on site`;
}

function proofWords(e: EndEstimate): string {
  if (e.proved) return "Shortest order of work under the site rules, proved.";
  return `Good order of work; none can be shorter than ${formatHours(e.lowerBoundMin)} (gap ${formatDuration(e.durationMin - e.lowerBoundMin)}).`;
}

function Shortfall({ estimate }: { estimate: EndEstimate }) {
  const { shortfall = [] } = estimate;
  if (shortfall.length === 0) return null;
  const words = shortfall.map((s) => `${s.missing} ${s.skill}`).join(", ");
  return (
    <Notice kind="warn" title="The crew lacks people for this end">
      {`The figures are those of a crew with ${words} more. Only such a crew is planned for it.`}
    </Notice>
  );
}
