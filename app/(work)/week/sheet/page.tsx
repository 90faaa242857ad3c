import type { Metadata } from "next";
import { homeToday, homeZone, today as todayIn } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatClock, formatDate, formatInstant, formatMetres } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { PrintButton } from "@/app/_ui/PrintButton";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { CAUTION } from "@/app/_ui/Shell";
import { WeatherKey } from "@/app/_ui/weather/WeatherKey";
import { ForecastReader } from "@/app/(work)/weather/siteHours";
import { database } from "@/db/open";
import { loadCrews } from "@/db/queries/crews";
import { rulesInForce } from "@/db/queries/programme";
import { doneVisits } from "@/db/queries/reports";
import { loadEndWork, loadForecastVisits, loadPlaceForecasts, loadSiteWork } from "@/db/queries/weatherViews";
import { crewCodes, loadCrewFacts } from "@/db/queries/week";
import { crewDays, whoGoes } from "@/lib/programme";
import { addDays } from "@/lib/time";
import { CrewChoice } from "../CrewChoice";
import { crewOf } from "../crewOf";
import { whoWords } from "../whoWords";
import { crewSheet, SHEET_HOURS, type SheetDay } from "./crewSheet";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Ten-day sheet") };
}

const DAYS = 10;

/** What a crew takes along on paper: each day's hours against the limits of its own work. */
export default async function CrewSheetPage({ searchParams }: { searchParams: Promise<{ crew?: string }> }) {
  const words = await serverWords();
  const { t, locale } = words;
  const visitor = await requireRole("crew lead", "manager", "administrator");
  const db = database();
  const code = crewOf(db, visitor, (await searchParams).crew);
  const crew = code ? loadCrewFacts(db, code) : undefined;
  const crumbs = [
    { label: t("My week"), href: visitor.role === "crew lead" ? "/week" : `/week?crew=${code ?? ""}` },
  ];
  if (!crew) {
    return (
      <>
        <PageHead title={t("Ten-day sheet")} crumbs={crumbs} />
        <EmptyState title={t("No crew yet")}>{t("Bring in crews and their members first.")}</EmptyState>
      </>
    );
  }
  const today = crew.zone ? todayIn(crew.zone, db) : homeToday(db);
  const lastDay = addDays(today, DAYS - 1);
  const who = whoWords(crew.people, today, lastDay, words);
  const done = doneVisits(db);
  // A visit under way began before today.
  const visits = loadForecastVisits(db, addDays(today, -DAYS), lastDay).filter(
    (v) => v.crewCode === crew.code && v.endOn >= today && !done.has(v.visitId),
  );
  const places = loadPlaceForecasts(db);
  const people = loadCrews(db).find((c) => c.code === crew.code);
  const days = crewSheet(
    visits,
    new Map(loadSiteWork(db).map((w) => [w.site.code, w])),
    loadEndWork(db),
    places,
    new ForecastReader(rulesInForce(db).weatherPolicy),
    today,
    lastDay,
    words,
    (on) => !people || crewDays(people, on, 1)[0] !== null,
  );
  const issued = Math.min(...places.flatMap((p) => p.forecast?.issuedAtMillis ?? []));
  return (
    <>
      <PageHead
        title={t("Crew {{crew}}: ten days from {{day}}", {
          crew: crew.code,
          day: formatDate(today, "weekday", locale),
        })}
        crumbs={crumbs}
        lead={t("{{people}}. {{visits}}; hours are those of each site's own clock.", {
          people: [who.names, ...who.away].join("; "),
          visits: t("{{count}} visits", { count: visits.length }),
        })}
        actions={
          <>
            {visitor.role === "crew lead" ? null : (
              <CrewChoice crews={crewCodes(db)} chosen={crew.code} path="/week/sheet" />
            )}
            <PrintButton />
          </>
        }
      />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
        <Notice kind="warn" title={t("The crew on site decides")}>
          {t(CAUTION)}
        </Notice>
        {days.length === 0 ? <p>{t("No visit of this crew is planned in these days.")}</p> : null}
        {days.map((day) => (
          <DayPanel
            key={`${day.visit.visitId} ${day.date}`}
            day={day}
            away={whoGoes(crew.people, day.date).away.map((a) => a.member.name)}
          />
        ))}
        {days.length > 0 ? (
          <WeatherKey
            source={
              Number.isFinite(issued)
                ? t("Forecast issued {{when}}; a dot is an hour with the limits met", {
                    when: formatInstant(issued, homeZone(db), locale),
                  })
                : undefined
            }
          />
        ) : null}
      </div>
    </>
  );
}

/** @param away who of the crew is on leave that day */
async function DayPanel({ day, away }: { day: SheetDay; away: readonly string[] }) {
  const { t, locale } = await serverWords();
  const { visit } = day;
  const facts = [
    `${visit.hopCode} ${t(visit.side)}, ${t(visit.kind)}`,
    day.ofDays > 1 ? t(", day {{no}} of {{of}}", { no: day.dayNo, of: day.ofDays }) : "",
    day.dayNo === 1 ? t(", work begins {{clock}}", { clock: formatClock(visit.startMin) }) : "",
    day.heightM === undefined
      ? ""
      : t(", limits at {{height}}", { height: formatMetres(day.heightM, locale) }),
    away.length > 0 ? t("; without {{people}}, on leave", { people: away.join(", ") }) : "",
    day.source ? `; ${day.source}` : "",
  ];
  return (
    <Panel
      title={`${formatDate(day.date, "weekday", locale)}: ${visit.siteCode} ${day.siteName}`}
      note={facts.join("")}
      flush
      className="ui-whole"
    >
      {day.why ? (
        <p className="px-4 py-3">{day.why}</p>
      ) : (
        <ScrollRegion
          label={t("Hours of {{site}} on {{day}}", {
            site: visit.siteCode,
            day: formatDate(day.date, "weekday", locale),
          })}
        >
          <table className="ui-facts ui-hours-sheet">
            <thead>
              <tr>
                <th scope="col">{t("Work")}</th>
                {SHEET_HOURS.map((hour) => (
                  <th key={hour} scope="col">
                    {String(hour).padStart(2, "0")}
                  </th>
                ))}
                <th scope="col">{t("What closes hours")}</th>
              </tr>
            </thead>
            <tbody>
              {day.rows.map((row) => (
                <tr key={row.label}>
                  <th scope="row">{row.label}</th>
                  {row.cells.map((cell, i) => (
                    <td key={SHEET_HOURS[i]} data-look={cell.look}>
                      <span aria-hidden="true">{cell.look === "met" ? "·" : cell.mark}</span>
                      <span className="sr-only">{cell.words || t("planning limits met")}</span>
                    </td>
                  ))}
                  <td>{row.worst}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      )}
    </Panel>
  );
}
