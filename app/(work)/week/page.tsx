import type { Metadata } from "next";
import Link from "next/link";
import { homeToday, machineNow, today } from "@/app/_server/clock";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatDate, formatInstant } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { calendarAddressOf } from "@/db/queries/crewCalendar";
import { crewCodes, loadCrewFacts, loadCrewWeek } from "@/db/queries/week";
import { addDays } from "@/lib/time";
import { CalendarPanel } from "./CalendarPanel";
import { CrewChoice } from "./CrewChoice";
import { crewOf } from "./crewOf";
import { KeepOnPhone } from "./KeepOnPhone";
import { VisitCard } from "./VisitCard";
import { WaitingReports } from "./WaitingReports";

export const metadata: Metadata = { title: "My week" };

const DAYS = 7;

export default async function WeekPage({ searchParams }: { searchParams: Promise<{ crew?: string }> }) {
  const visitor = await requireRole("crew lead", "manager", "administrator");
  const db = database();
  const code = crewOf(db, visitor, (await searchParams).crew);
  const crew = code ? loadCrewFacts(db, code) : undefined;
  if (!crew) {
    return (
      <>
        <PageHead title="My week" />
        <EmptyState title="No crew yet">
          {visitor.role === "crew lead"
            ? "Your account is not joined to a crew. An administrator can do that under Rules, Accounts."
            : "Bring in crews and their members first."}
        </EmptyState>
      </>
    );
  }
  const now = crew.zone ? today(crew.zone, db) : homeToday(db);
  const { visits } = loadCrewWeek(db, crew.code, addDays(now, -DAYS), addDays(now, DAYS * 2));
  const open = visits.filter((v) => v.report?.outcome !== "done");
  const overdue = open.filter((v) => v.endOn! < now);
  const current = open.filter((v) => v.startOn! <= now && now <= v.endOn!);
  const coming = open.filter((v) => v.startOn! > now && v.startOn! <= addDays(now, DAYS));
  const later = open.filter((v) => v.startOn! > addDays(now, DAYS));
  const calendar = calendarAddressOf(db, crew.code);
  const lead = crew.people.find((p) => p.isLead);
  return (
    <>
      <PageHead
        title={`Crew ${crew.code} ${crew.name}`}
        lead={`${formatDate(now)} · ${crew.people.map((p) => (p === lead ? `${p.name} (lead)` : p.name)).join(", ")}`}
        actions={
          <>
            {visitor.role === "crew lead" ? null : <CrewChoice crews={crewCodes(db)} chosen={crew.code} />}
            <LinkButton href={`/week/sheet?crew=${encodeURIComponent(crew.code)}`}>Ten-day sheet</LinkButton>
          </>
        }
      />
      <KeepOnPhone
        userId={visitor.userId}
        paths={[
          "/week",
          `/week/sheet?crew=${encodeURIComponent(crew.code)}`,
          ...open.map((v) => `/week/visit/${v.visitId}`),
        ]}
        madeAtMillis={machineNow()}
        zone={crew.zone}
      />
      <WaitingReports userId={visitor.userId} />
      <div className="grid max-w-3xl gap-4">
        {overdue.length > 0 ? (
          <Notice kind="warn" title={`${formatCount(overdue.length, "visit")} without a report`}>
            <ul>
              {overdue.map((v) => (
                <li key={v.visitId}>
                  <Link href={`/week/visit/${v.visitId}`}>
                    {v.hopCode} {v.side}, {v.kind}
                  </Link>{" "}
                  was planned to end on {formatDate(v.endOn, "weekday")}. Report it, or a hold.
                </li>
              ))}
            </ul>
          </Notice>
        ) : null}
        <Panel title="Today">
          {current.length > 0 ? (
            <div className="grid gap-3">
              {current.map((v) => (
                <VisitCard key={v.visitId} visit={v} isToday />
              ))}
            </div>
          ) : (
            <p>No visit is planned today.</p>
          )}
        </Panel>
        <Panel title="The next seven days">
          {coming.length > 0 ? (
            <div className="grid gap-3">
              {coming.map((v) => (
                <VisitCard key={v.visitId} visit={v} />
              ))}
            </div>
          ) : (
            <p>Nothing is planned in the next seven days.</p>
          )}
        </Panel>
        {later.length > 0 ? (
          <Panel title="After that" tone="quiet">
            <div className="grid gap-3">
              {later.map((v) => (
                <VisitCard key={v.visitId} visit={v} />
              ))}
            </div>
          </Panel>
        ) : null}
        <CalendarPanel
          key={crew.code}
          crewCode={crew.code}
          made={calendar && `Made by ${calendar.madeBy} on ${formatInstant(calendar.madeAt, crew.zone)}.`}
        />
      </div>
    </>
  );
}
