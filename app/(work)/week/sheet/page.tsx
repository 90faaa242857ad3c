import type { Metadata } from "next";
import { homeToday, homeZone, today as todayIn } from "@/app/_server/clock";
import { requireRole } from "@/app/_server/session";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatClock, formatCount, formatDate, formatInstant, formatMetres } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { PrintButton } from "@/app/_ui/PrintButton";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { CAUTION } from "@/app/_ui/Shell";
import { WeatherKey } from "@/app/_ui/weather/WeatherKey";
import { ForecastReader } from "@/app/(work)/weather/siteHours";
import { database } from "@/db/open";
import { rulesInForce } from "@/db/queries/programme";
import { doneVisits } from "@/db/queries/reports";
import { loadForecastVisits, loadPlaceForecasts, loadSiteWork } from "@/db/queries/weatherViews";
import { crewCodes, loadCrewFacts } from "@/db/queries/week";
import { addDays } from "@/lib/time";
import { CrewChoice } from "../CrewChoice";
import { crewOf } from "../crewOf";
import { crewSheet, SHEET_HOURS, type SheetDay } from "./crewSheet";

export const metadata: Metadata = { title: "Ten-day sheet" };

const DAYS = 10;

/** What a crew takes along on paper: each day's hours against the limits of its own work. */
export default async function CrewSheetPage({ searchParams }: { searchParams: Promise<{ crew?: string }> }) {
  const visitor = await requireRole("crew lead", "manager", "administrator");
  const db = database();
  const code = crewOf(db, visitor, (await searchParams).crew);
  const crew = code ? loadCrewFacts(db, code) : undefined;
  const crumbs = [
    { label: "My week", href: visitor.role === "crew lead" ? "/week" : `/week?crew=${code ?? ""}` },
  ];
  if (!crew) {
    return (
      <>
        <PageHead title="Ten-day sheet" crumbs={crumbs} />
        <EmptyState title="No crew yet">Bring in crews and their members first.</EmptyState>
      </>
    );
  }
  const today = crew.zone ? todayIn(crew.zone, db) : homeToday(db);
  const lastDay = addDays(today, DAYS - 1);
  const done = doneVisits(db);
  // A visit under way began before today.
  const visits = loadForecastVisits(db, addDays(today, -DAYS), lastDay).filter(
    (v) => v.crewCode === crew.code && v.endOn >= today && !done.has(v.visitId),
  );
  const places = loadPlaceForecasts(db);
  const days = crewSheet(
    visits,
    new Map(loadSiteWork(db).map((w) => [w.site.code, w])),
    places,
    new ForecastReader(rulesInForce(db).weatherPolicy),
    today,
    lastDay,
  );
  const issued = Math.min(...places.flatMap((p) => p.forecast?.issuedAtMillis ?? []));
  return (
    <>
      <PageHead
        title={`Crew ${crew.code}: ten days from ${formatDate(today, "weekday")}`}
        crumbs={crumbs}
        lead={`${crew.people.map((p) => p.name).join(", ")}. ${formatCount(visits.length, "visit")}; hours are those of each site's own clock.`}
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
        <Notice kind="warn" title="The crew on site decides">
          {CAUTION}
        </Notice>
        {days.length === 0 ? <p>No visit of this crew is planned in these days.</p> : null}
        {days.map((day) => (
          <DayPanel key={`${day.visit.visitId} ${day.date}`} day={day} />
        ))}
        {days.length > 0 ? (
          <WeatherKey
            source={
              Number.isFinite(issued)
                ? `Forecast issued ${formatInstant(issued, homeZone(db))}; a dot is an hour with the limits met`
                : undefined
            }
          />
        ) : null}
      </div>
    </>
  );
}

function DayPanel({ day }: { day: SheetDay }) {
  const { visit } = day;
  const part = day.ofDays > 1 ? `, day ${day.dayNo} of ${day.ofDays}` : "";
  const begins = day.dayNo === 1 ? `, work begins ${formatClock(visit.startMin)}` : "";
  return (
    <Panel
      title={`${formatDate(day.date, "weekday")}: ${visit.siteCode} ${day.siteName}`}
      note={`${visit.hopCode} ${visit.side}, ${visit.kind}${part}${begins}${day.heightM === undefined ? "" : `, limits at ${formatMetres(day.heightM)}`}${day.source ? `; ${day.source}` : ""}`}
      flush
    >
      {day.why ? (
        <p className="px-4 py-3">{day.why}</p>
      ) : (
        <ScrollRegion label={`Hours of ${visit.siteCode} on ${formatDate(day.date, "weekday")}`}>
          <table className="ui-facts ui-hours-sheet">
            <thead>
              <tr>
                <th scope="col">Work</th>
                {SHEET_HOURS.map((hour) => (
                  <th key={hour} scope="col">
                    {String(hour).padStart(2, "0")}
                  </th>
                ))}
                <th scope="col">What closes hours</th>
              </tr>
            </thead>
            <tbody>
              {day.rows.map((row) => (
                <tr key={row.label}>
                  <th scope="row">{row.label}</th>
                  {row.cells.map((cell, i) => (
                    <td key={SHEET_HOURS[i]} data-look={cell.isMet ? "met" : "stopped"}>
                      <span aria-hidden="true">{cell.isMet ? "·" : cell.mark}</span>
                      <span className="sr-only">{cell.words || "planning limits met"}</span>
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
