import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { machineNow, nowMillis, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesHop } from "@/app/_server/regions";
import { refuseRegion, requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatClock, formatDate, formatDuration, formatInstant, zoneName } from "@/app/_ui/format";
import { readingText } from "@/app/_ui/language/readingText";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { CAUTION } from "@/app/_ui/Shell";
import { StateMark } from "@/app/_ui/StateMark";
import { visitWords } from "@/app/_ui/visitWords";
import { WeatherStrip } from "@/app/_ui/WeatherStrip";
import { PhotoGrid } from "@/app/(work)/photos/PhotoGrid";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { givenTo } from "@/db/queries/givenVisits";
import { vehiclesOf } from "@/db/queries/kitOut";
import { lostRunsOf } from "@/db/queries/lostRuns";
import { photosOfVisit } from "@/db/queries/photos";
import { latestOf, type StoredReport } from "@/db/queries/reports";
import { loadVisitDesk } from "@/db/queries/visitDesk";
import { crewSteps, onSiteFromMin } from "@/lib/programme";
import { instantAt } from "@/lib/time";
import { KeepOnPhone } from "../../KeepOnPhone";
import { whoWords } from "../../whoWords";
import { HandedOver } from "./HandedOver";
import { hoursOfVisit } from "./hours";
import { KitPart } from "./KitPart";
import { LiftHold } from "./LiftHold";
import { otherEndWords } from "./otherEnd";
import { PhotoPart } from "./PhotoPart";
import { ReportForm } from "./ReportForm";
import { reportFormOf } from "./reportFormOf";
import { StepFilter } from "./StepFilter";
import { StepList } from "./StepList";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Visit") };
}

const CREW_PLACES = [
  { where: "ground", words: "On the ground" },
  { where: "aloft", words: "Aloft" },
  { where: "indoor", words: "Indoors" },
  { where: "both ends", words: "Both ends together" },
] as const;

function reportedWords(outcome: StoredReport["outcome"], t: Words["t"]): string {
  if (outcome === "done") return t("Reported: done");
  return outcome === "hold" ? t("Reported: on hold") : t("Reported: part done");
}

export default async function VisitPage({ params }: { params: Promise<{ visitId: string[] }> }) {
  const visitor = await requireRoleInRegions("crew lead", "manager", "administrator");
  const words = await serverWords();
  const { t, locale } = words;
  const db = database();
  const items = loadCatalogue(db);
  const unitOf = new Map(items.map((i) => [i.code, i.unit]));
  const visitId = (await params).visitId.map(decodeURIComponent).join("/");
  const desk = loadVisitDesk(db, visitId);
  // A crew lead's link to a visit that the plan in force gives to another crew, or to none.
  if (visitor.role === "crew lead" && visitor.crewId !== desk?.visit.crewCode) {
    const given = givenTo(db, visitId, visitor.crewId ?? "");
    if (!given) notFound();
    if (!seesHop(db, visitor, given.visit.hopCode)) refuseRegion();
    return <HandedOver db={db} userId={visitor.userId} given={given} />;
  }
  if (!desk) notFound();
  const { visit, site, hop, end, takeoff, estimate, kit, reports, crew } = desk;
  if (!seesHop(db, visitor, hop.code)) refuseRegion();
  const weather = hoursOfVisit(db, desk, words);
  const photos = photosOfVisit(db, visit.visitId);
  const last = latestOf(reports);
  const newest = reports.at(-1);
  const lifted = newest?.liftedAt ? newest : undefined;
  const lostRuns = lostRunsOf(db, visit.visitId);
  // A plan made since gave it a place anew: it is to be done as planned.
  const isPlannedAgain = last?.outcome === "hold" && desk.hold === undefined;
  const doneReport = last?.outcome === "done" ? last : undefined;
  const setupMin = Math.ceil(desk.setupMin);
  const arriveMin = onSiteFromMin(visit.startMin, setupMin);
  const who = whoWords(crew.people, visit.startOn!, visit.endOn!, words);
  const steps = crewSteps(estimate, hop, end, takeoff);
  return (
    <>
      <PageHead
        title={`${site.code} ${site.name}`}
        crumbs={[
          {
            label: t("My week"),
            href: visitor.role === "crew lead" ? "/week" : `/week?crew=${visit.crewCode}`,
          },
        ]}
        lead={`${t(visitWords(visit.kind, { acceptance: hop.acceptance, remedy: desk.revisit?.remedy }))}${desk.part.of > 1 ? t(", visit {{no}} of {{of}}", desk.part) : ""}: ${hop.code}, ${t(`${end.side} end`)}, ${t(hop.scheme)}, ${hop.bandGhz} GHz`}
        actions={visit.isWithdrawn ? undefined : <LinkButton href="#report">{t("Report")}</LinkButton>}
        marks={
          visit.isWithdrawn ? (
            <StateMark state="none">{t("Withdrawn")}</StateMark>
          ) : isPlannedAgain ? (
            <StateMark state="planned">{t("Planned again")}</StateMark>
          ) : last ? (
            <StateMark
              state={last.outcome === "done" ? "done" : last.outcome === "hold" ? "hold" : "under way"}
            />
          ) : undefined
        }
      />
      <KeepOnPhone
        userId={visitor.userId}
        paths={["/week"]}
        madeAtMillis={machineNow()}
        shownMillis={nowMillis(db)}
        zone={site.zone}
      />
      <div className="grid max-w-3xl gap-4">
        {visit.isWithdrawn ? (
          <Notice kind="info" title={t("This revisit was withdrawn: not needed any more")}>
            {t("Nobody goes there for it. Only what was worked there all the same is reported.")}
          </Notice>
        ) : null}
        <Panel title={t("When and where")}>
          <dl className="grid grid-cols-[7.5rem_1fr] gap-x-3 gap-y-1">
            <dt>{t("On site")}</dt>
            <dd>
              {t("{{day}}, from about {{clock}} ({{zone}})", {
                day: formatDate(visit.startOn, "full", locale),
                clock: formatClock(arriveMin),
                zone: visit.startOn
                  ? zoneName(instantAt(visit.startOn, visit.startMin ?? 0, site.zone), site.zone, locale)
                  : site.zone,
              })}
            </dd>
            <dt>{t("Work begins")}</dt>
            <dd>
              {setupMin > 0
                ? t("{{clock}}, after {{time}} of set-up", {
                    clock: formatClock(visit.startMin),
                    time: formatDuration(setupMin, locale),
                  })
                : t("{{clock}}, set up from the visit before", { clock: formatClock(visit.startMin) })}
            </dd>
            <dt>{t("Work ends")}</dt>
            <dd>
              {formatDate(visit.endOn, "full", locale)}, {formatClock(visit.endMin)}
            </dd>
            <dt>{t("Work")}</dt>
            <dd>
              {t("{{time}} with set-up by the norms, in four cases of five up to {{most}}", {
                time: formatDuration(visit.durationMin, locale),
                most: formatDuration(desk.p80Min, locale),
              })}
              {visit.startOn === visit.endOn
                ? t(
                    "; planned from {{arrive}} to {{end}}, with your crew's pace, weather and breaks in the work",
                    {
                      arrive: formatClock(arriveMin),
                      end: formatClock(visit.endMin),
                    },
                  )
                : ""}
            </dd>
            <dt>{t("Who")}</dt>
            <dd>
              {t("Crew")} {crew.code}: {who.names}
              {who.away.length > 0 ? <small className="block">{who.away.join("; ")}</small> : null}
            </dd>
            <dt>{t("Site opens")}</dt>
            <dd>
              {formatClock(site.access.fromMin)} {t("to")} {formatClock(site.access.toMin)}
              {site.access.noticeDays > 0
                ? t(", {{count}} days of notice", { count: site.access.noticeDays })
                : ""}
            </dd>
            <dt>{t("Position")}</dt>
            <dd>
              {site.position ? (
                <a href={`geo:${site.position.latDeg},${site.position.lonDeg}`}>
                  {site.position.latDeg.toFixed(5)}, {site.position.lonDeg.toFixed(5)}
                </a>
              ) : (
                t("no coordinate in the design data")
              )}
            </dd>
            {visit.isJoint ? (
              <>
                <dt>{t("Other end")}</dt>
                <dd>{otherEndWords(visit, desk.otherEnd, desk.otherEndDoneOn, words)}</dd>
              </>
            ) : null}
          </dl>
          <p>
            <Link href={`/sites/${site.code}`}>{t("All about the site")}</Link>
          </p>
        </Panel>
        {desk.revisit && !visit.isWithdrawn ? (
          <Notice kind="info" title={`${t("What is to be mended")}: ${t(desk.revisit.remedy)}`}>
            {readingText(desk.revisit.cause, words)}. {t("Read it again when it is done.")}
          </Notice>
        ) : null}
        <Panel
          title={t("Weather of the day")}
          note={
            visit.isJoint
              ? t(
                  "Planning limits at {{site}} only, your own end, not permission to climb. The ten-day sheet shows both ends together.",
                  { site: site.code },
                )
              : t("Planning limits, not permission to climb.")
          }
        >
          {weather ? (
            <WeatherStrip
              label={t("Hours for {{site}}", { site: site.code })}
              hours={weather.hours}
              rows={weather.rows}
              zone={site.zone}
              now={nowMillis(db)}
              opensAt={
                // Whoever reads it before the visit asks for the hours of the visit; on the way, for now.
                !visit.startOn || arriveMin === null
                  ? undefined
                  : Math.max(
                      visit.startOn === today(site.zone, db) ? nowMillis(db) : 0,
                      instantAt(visit.startOn, Math.max(0, arriveMin), site.zone),
                    )
              }
              source={weather.source}
            />
          ) : (
            <p>{t("No forecast reaches this day or this site. Past years were used for the plan.")}</p>
          )}
          <Notice kind="warn" title={t("The crew on site decides")}>
            {t(CAUTION)}
          </Notice>
        </Panel>
        {kit ? (
          <KitPart
            db={db}
            planId={desk.planId}
            kit={kit}
            vehicle={vehiclesOf(db, visit.visitId)[0] ?? crew.vehiclePlace}
            today={today(site.zone, db)}
            lostRuns={lostRuns}
            isDone={last?.outcome === "done"}
            unitOf={unitOf}
            cutting={desk.cuts}
          />
        ) : null}
        <Panel
          title={t("Steps")}
          note={t("For this scheme, these heights and these radios. The maker's instructions come first.")}
        >
          {desk.part.of > 1 ? (
            <p>
              {t(
                "The steps are those of all {{visits}} visits. Go on where the visit before ended; the last one ends with the acceptance.",
                { visits: desk.part.of },
              )}
            </p>
          ) : null}
          <Disclosure summary={t("{{count}} steps in order", { count: steps.length })} isOpenOnPaper>
            <StepFilter
              places={CREW_PLACES.flatMap(({ where, words }) => {
                const count = steps.filter((s) => s.where === where).length;
                return count > 0 ? [{ where, words: `${t(words)} (${count})` }] : [];
              })}
            >
              <StepList steps={steps} />
            </StepFilter>
          </Disclosure>
        </Panel>
        <Panel
          title={t("Photos")}
          note={t("Kept on this phone and sent with the report, without the position where they were taken.")}
        >
          <PhotoPart
            visitId={visit.visitId}
            kind={visit.kind}
            userId={visitor.userId}
            arrived={photos.map((p) => p.subject)}
          />
        </Panel>
        <PhotoGrid db={db} visitor={visitor} photos={photos} />
        <Panel title={t("Report")} id="report" className={last || lifted ? undefined : "ui-no-print"}>
          {last ? (
            <Notice
              kind={isPlannedAgain ? "info" : last.outcome === "hold" ? "hold" : "good"}
              title={`${reportedWords(last.outcome, t)}${isPlannedAgain ? `; ${t("planned again since")}` : ""}`}
            >
              {last.workedMin > 0
                ? t("{{when}} by {{name}}, {{time}} worked", {
                    when: formatInstant(last.reportedAt, site.zone, locale),
                    name: last.reportedBy,
                    time: formatDuration(last.workedMin, locale),
                  })
                : t("{{when}} by {{name}}", {
                    when: formatInstant(last.reportedAt, site.zone, locale),
                    name: last.reportedBy,
                  })}
              {last.leftMin !== null
                ? `, ${t("{{time}} left", { time: formatDuration(last.leftMin, locale) })}`
                : ""}
              {last.holdReason ? `. ${last.holdReason}` : ""}
              {last.crewCode !== visit.crewCode ? (
                <p>
                  {t("Crew {{crew}} worked there; the plan in force gives the visit to crew {{planned}}.", {
                    crew: last.crewCode,
                    planned: crew.code,
                  })}
                </p>
              ) : null}
              {desk.hold && last.correctsId === null ? (
                <LiftHold visitId={visit.visitId} reportId={last.id} />
              ) : null}
              {desk.hold && last.correctsId !== null ? (
                <p>
                  {t("It stands in the place of an earlier report: report the visit again to end the hold.")}
                </p>
              ) : null}
              {doneReport ? (
                <p>{t("Say below whether what you send now stands in its place or comes on top.")}</p>
              ) : null}
            </Notice>
          ) : null}
          {lifted ? (
            <Notice
              kind="info"
              title={t("The hold was lifted by {{name}}: {{why}}", {
                name: lifted.liftedBy ?? "",
                why: lifted.liftedWhy ?? "",
              })}
            >
              {t("Put on hold by {{name}}: {{reason}}", {
                name: lifted.reportedBy,
                reason: lifted.holdReason ?? "",
              })}
            </Notice>
          ) : null}
          <div className="ui-no-print mt-3">
            <ReportForm {...reportFormOf(db, desk, visitor.userId, words)} />
          </div>
        </Panel>
      </div>
    </>
  );
}
