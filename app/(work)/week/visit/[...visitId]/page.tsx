import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { machineNow, nowMillis, today } from "@/app/_server/clock";
import { seesHop } from "@/app/_server/regions";
import { refuseRegion, requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatClock, formatCount, formatDate, formatDuration, formatInstant } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { CAUTION } from "@/app/_ui/Shell";
import { StateMark } from "@/app/_ui/StateMark";
import { WeatherStrip } from "@/app/_ui/WeatherStrip";
import { visitWords } from "@/app/(work)/hops/visitWords";
import { database } from "@/db/open";
import { loadVisitDesk, type VisitDesk } from "@/db/queries/visitDesk";
import type { JudgedReading } from "@/lib/acceptance";
import { type PartMinutes, partMinutes } from "@/lib/calibration";
import { crewSteps } from "@/lib/programme";
import { KeepOnPhone } from "../../KeepOnPhone";
import { hoursOfVisit } from "./hours";
import { KitPart } from "./KitPart";
import { ReportForm } from "./ReportForm";
import { StepList } from "./StepList";

export const metadata: Metadata = { title: "Visit" };

const CREW_PLACES = [
  { where: "ground", words: "On the ground" },
  { where: "aloft", words: "Aloft" },
  { where: "indoor", words: "Indoors" },
  { where: "both ends", words: "Both ends together" },
] as const;

/** Work in several visits and revisits are not compared task by task. */
function timedTasks({ visit, estimate, norms }: VisitDesk): PartMinutes[] {
  const isCompared = visit.kind === "install" || visit.kind === "alignment";
  return isCompared && !estimate.parts ? partMinutes(estimate, norms) : [];
}

export default async function VisitPage({ params }: { params: Promise<{ visitId: string[] }> }) {
  const visitor = await requireRoleInRegions("crew lead", "manager", "administrator");
  const db = database();
  const visitId = (await params).visitId.map(decodeURIComponent).join("/");
  const desk = loadVisitDesk(db, visitId);
  if (!desk) notFound();
  const { visit, site, hop, end, takeoff, estimate, kit, reports, crew } = desk;
  if (visitor.role === "crew lead" && visitor.crewId !== visit.crewCode) notFound();
  if (!seesHop(db, visitor, hop.code)) refuseRegion();
  const weather = hoursOfVisit(db, desk);
  const last = reports.at(-1);
  const setupMin = Math.ceil(estimate.setupMin);
  const steps = crewSteps(estimate, hop, end, takeoff);
  return (
    <>
      <PageHead
        title={`${site.code} ${site.name}`}
        crumbs={[
          { label: "My week", href: visitor.role === "crew lead" ? "/week" : `/week?crew=${visit.crewCode}` },
        ]}
        lead={`${visitWords(visit.kind, { acceptance: hop.acceptance, remedy: desk.revisit?.remedy })}${desk.part.of > 1 ? `, visit ${desk.part.no} of ${desk.part.of},` : ""} of ${hop.code}, ${end.side} end, ${hop.scheme}, ${hop.bandGhz} GHz`}
        actions={<LinkButton href="#report">Report</LinkButton>}
        marks={
          last ? (
            <StateMark
              state={last.outcome === "done" ? "done" : last.outcome === "hold" ? "hold" : "under way"}
            />
          ) : undefined
        }
      />
      <KeepOnPhone userId={visitor.userId} paths={["/week"]} madeAtMillis={machineNow()} zone={site.zone} />
      <div className="grid max-w-3xl gap-4">
        <Panel title="When and where">
          <dl className="grid grid-cols-[7.5rem_1fr] gap-x-3 gap-y-1">
            <dt>On site</dt>
            <dd>
              {formatDate(visit.startOn)}, from about {formatClock((visit.startMin ?? 0) - setupMin)} (
              {site.zone})
            </dd>
            <dt>Work begins</dt>
            <dd>
              {formatClock(visit.startMin)}, after {formatDuration(setupMin)} of set-up
            </dd>
            <dt>End</dt>
            <dd>
              {formatDate(visit.endOn)}, {formatClock(visit.endMin)}
            </dd>
            <dt>Work</dt>
            <dd>
              {formatDuration(visit.durationMin)}, in four cases of five up to {formatDuration(desk.p80Min)}{" "}
              (defaults from memory: calibrate)
            </dd>
            <dt>Who</dt>
            <dd>
              Crew {crew.code}: {crew.people.map((p) => p.name).join(", ")}
            </dd>
            <dt>Site opens</dt>
            <dd>
              {formatClock(site.access.fromMin)} to {formatClock(site.access.toMin)}
              {site.access.noticeDays > 0 ? `, ${site.access.noticeDays} days of notice` : ""}
            </dd>
            <dt>Position</dt>
            <dd>
              {site.position ? (
                <a href={`geo:${site.position.latDeg},${site.position.lonDeg}`}>
                  {site.position.latDeg.toFixed(5)}, {site.position.lonDeg.toFixed(5)}
                </a>
              ) : (
                "no coordinate in the design data"
              )}
            </dd>
            {visit.isJoint ? (
              <>
                <dt>Other end</dt>
                <dd>
                  {desk.otherEnd
                    ? `Crew ${desk.otherEnd.crewCode} at ${desk.otherEnd.siteCode}, same hours`
                    : "not planned: call the rollout manager"}
                </dd>
              </>
            ) : null}
          </dl>
          <p>
            <Link href={`/sites/${site.code}`}>All about the site</Link>
          </p>
        </Panel>
        {desk.revisit ? (
          <Notice kind="info" title={`What is to be mended: ${desk.revisit.remedy}`}>
            {desk.revisit.cause}. Read it again when it is done.
          </Notice>
        ) : null}
        <Panel title="Weather of the day" note="Planning limits, not permission to climb.">
          {weather ? (
            <WeatherStrip
              label={`Hours for ${site.code}`}
              hours={weather.hours}
              rows={weather.rows}
              zone={site.zone}
              now={nowMillis(db)}
              source={weather.source}
            />
          ) : (
            <p>No forecast reaches this day or this site. Past years were used for the plan.</p>
          )}
          <Notice kind="warn" title="The crew on site decides">
            {CAUTION}
          </Notice>
        </Panel>
        {kit ? <KitPart kit={kit} cutting={desk.cuts} /> : null}
        <Panel
          title="Steps"
          note="For this scheme, these heights and these radios. The maker's instructions come first."
        >
          {desk.part.of > 1 ? (
            <p>
              The steps are those of all {desk.part.of} visits. Go on where the visit before ended; the last
              one ends with the acceptance.
            </p>
          ) : null}
          {CREW_PLACES.map(({ where, words }) => {
            const here = steps.filter((s) => s.where === where);
            return here.length > 0 ? (
              <Disclosure key={where} summary={`${words}: ${formatCount(here.length, "step")}`}>
                <StepList steps={here} numbered={steps} />
              </Disclosure>
            ) : null;
          })}
        </Panel>
        <Panel title="Report" id="report">
          {last ? (
            <Notice kind={last.outcome === "hold" ? "hold" : "good"} title={`Reported: ${last.outcome}`}>
              {formatInstant(last.reportedAt, site.zone)} by {last.reportedBy},{" "}
              {formatDuration(last.workedMin)} worked
              {last.leftMin !== null ? `, ${formatDuration(last.leftMin)} left` : ""}
              {last.holdReason ? `. ${last.holdReason}` : ""}
            </Notice>
          ) : null}
          <ReportForm
            visitId={visit.visitId}
            label={`${site.code}, ${hop.code} ${end.side} ${visit.kind}`}
            userId={visitor.userId}
            lastSeenReportId={last?.id ?? 0}
            today={today(site.zone, db)}
            plannedMin={visit.durationMin}
            readings={readingsOf(desk)}
            tasks={timedTasks(desk)}
            lines={(kit?.lines ?? []).map((l) => ({
              itemCode: l.itemCode,
              name: l.name,
              runId: l.runId,
              drumSerial: l.drumSerial,
              needed: l.neededC / 100,
              isMetres: l.runId !== null,
            }))}
          />
        </Panel>
      </div>
    </>
  );
}

/** Readings to take on this visit: of its own end, on every visit that follows the install. */
function readingsOf({ visit, hop, acceptance }: VisitDesk): JudgedReading[] {
  const isTakenNow =
    visit.kind === "acceptance" ||
    visit.kind === "revisit" ||
    (visit.kind === "alignment" && hop.acceptance === "with the alignment");
  return isTakenNow ? acceptance.readings.filter((r) => r.asked.side === visit.side) : [];
}
