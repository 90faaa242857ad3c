import type { Metadata } from "next";
import Link from "next/link";
import { homeToday, machineNow, nowMillis, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatInstant } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { type Db, database } from "@/db/open";
import { calendarAddressOf } from "@/db/queries/crewCalendar";
import { loadCrewVisits, planInForce } from "@/db/queries/plans";
import { crewCodes, loadCrewFacts, loadCrewWeek } from "@/db/queries/week";
import { addDays, type CalendarDate } from "@/lib/time";
import { kitPath } from "../stock/words";
import { CalendarPanel } from "./CalendarPanel";
import { CrewChoice } from "./CrewChoice";
import { crewOf } from "./crewOf";
import { KeepOnPhone } from "./KeepOnPhone";
import { VisitCard } from "./VisitCard";
import { WaitingPhotos } from "./WaitingPhotos";
import { WaitingReports } from "./WaitingReports";
import { whoWords } from "./whoWords";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("My week") };
}

const DAYS = 7;

/** What is planned for a crew after the days shown, so that the list does not end as if nothing followed. */
function firstBeyond(
  db: Db,
  crewCode: string,
  lastDay: CalendarDate,
): { count: number; firstOn: CalendarDate } | undefined {
  const plan = planInForce(db);
  const starts = plan
    ? loadCrewVisits(db, plan.id, crewCode)
        .filter((v) => !v.isWithdrawn)
        .map((v) => v.startOn!)
        .filter((on) => on > lastDay)
        .sort()
    : [];
  return starts[0] && { count: starts.length, firstOn: starts[0] };
}

export default async function WeekPage({ searchParams }: { searchParams: Promise<{ crew?: string }> }) {
  const visitor = await requireRole("crew lead", "manager", "administrator");
  const words = await serverWords();
  const { t, locale } = words;
  const db = database();
  const code = crewOf(db, visitor, (await searchParams).crew);
  const crew = code ? loadCrewFacts(db, code) : undefined;
  if (!crew) {
    return (
      <>
        <PageHead title={t("My week")} />
        <EmptyState title={t("No crew yet")}>
          {visitor.role === "crew lead"
            ? t("Your account is not joined to a crew. An administrator can do that under Rules, Accounts.")
            : t("Bring in crews and their members first.")}
        </EmptyState>
      </>
    );
  }
  const now = crew.zone ? today(crew.zone, db) : homeToday(db);
  const { visits } = loadCrewWeek(db, crew.code, addDays(now, -DAYS), addDays(now, DAYS * 2));
  const open = visits.filter((v) => v.report?.outcome !== "done");
  const reportedToday = visits.filter((v) => v.report?.outcome === "done" && v.report.workedOn === now);
  const overdue = open.filter((v) => v.endOn! < now && !v.isWithdrawn);
  const current = open.filter((v) => v.startOn! <= now && now <= v.endOn!);
  const coming = open.filter((v) => v.startOn! > now && v.startOn! <= addDays(now, DAYS));
  const later = open.filter((v) => v.startOn! > addDays(now, DAYS));
  const beyond = firstBeyond(db, crew.code, addDays(now, DAYS * 2));
  const calendar = calendarAddressOf(db, crew.code);
  const who = whoWords(crew.people, now, addDays(now, DAYS), words);
  return (
    <>
      <PageHead
        title={`${t("Crew")} ${crew.code} ${crew.name}`}
        lead={[`${formatDate(now, "full", locale)} · ${who.names}`, ...who.away].join("; ")}
        actions={
          <>
            {visitor.role === "crew lead" ? null : <CrewChoice crews={crewCodes(db)} chosen={crew.code} />}
            <LinkButton href={`/week/sheet?crew=${encodeURIComponent(crew.code)}`}>
              {t("Ten-day sheet")}
            </LinkButton>
          </>
        }
      />
      <KeepOnPhone
        userId={visitor.userId}
        paths={[
          "/week",
          `/week/sheet?crew=${encodeURIComponent(crew.code)}`,
          ...[...open, ...reportedToday].map((v) => `/week/visit/${v.visitId}`),
          // Every way out of a card, that to the kit of a visit done without it too.
          ...[...open, ...reportedToday].flatMap((v) => (v.kit ? [kitPath(v.visitId)] : [])),
        ]}
        madeAtMillis={machineNow()}
        shownMillis={nowMillis(db)}
        zone={crew.zone}
      />
      <WaitingReports userId={visitor.userId} />
      <WaitingPhotos userId={visitor.userId} />
      <div className="grid max-w-3xl gap-4">
        {overdue.length > 0 ? (
          <Notice kind="warn" title={t("{{count}} visits without a report", { count: overdue.length })}>
            <ul>
              {overdue.map((v) => (
                <li key={v.visitId}>
                  <Link href={`/week/visit/${v.visitId}`}>
                    {v.hopCode} {t(v.side)}, {t(v.kind)}
                  </Link>{" "}
                  {t("was planned to end on {{day}}. Report it, or a hold.", {
                    day: formatDate(v.endOn, "weekday", locale),
                  })}
                </li>
              ))}
            </ul>
          </Notice>
        ) : null}
        <Panel title={t("Today")}>
          {current.length > 0 ? (
            <div className="grid gap-3">
              {current.map((v) => (
                <VisitCard key={v.visitId} visit={v} isToday />
              ))}
            </div>
          ) : (
            <p>{reportedToday.length > 0 ? t("Nothing more today.") : t("No visit is planned today.")}</p>
          )}
        </Panel>
        {reportedToday.length > 0 ? (
          <Panel
            title={t("Reported done today")}
            note={t("Photos and corrections are still taken: open the visit.")}
            tone="quiet"
          >
            <div className="grid gap-3">
              {reportedToday.map((v) => (
                <VisitCard key={v.visitId} visit={v} />
              ))}
            </div>
          </Panel>
        ) : null}
        <Panel title={t("The next seven days")}>
          {coming.length > 0 ? (
            <div className="grid gap-3">
              {coming.map((v) => (
                <VisitCard key={v.visitId} visit={v} />
              ))}
            </div>
          ) : (
            <p>{t("Nothing is planned in the next seven days.")}</p>
          )}
        </Panel>
        {later.length > 0 || beyond ? (
          <Panel title={t("After that")} tone="quiet">
            <div className="grid gap-3">
              {later.map((v) => (
                <VisitCard key={v.visitId} visit={v} />
              ))}
            </div>
            {beyond ? (
              <p className="mt-3">
                {t("{{count}} more visits follow, the first on {{day}}:", {
                  count: beyond.count,
                  day: formatDate(beyond.firstOn, "weekday", locale),
                })}{" "}
                <Link href={`/plan/list?crew=${encodeURIComponent(crew.code)}`}>{t("Plan as a list")}</Link>
              </p>
            ) : null}
          </Panel>
        ) : null}
        <CalendarPanel
          key={crew.code}
          crewCode={crew.code}
          made={
            calendar &&
            t("Made by {{name}} on {{when}}.", {
              name: calendar.madeBy,
              when: formatInstant(calendar.madeAt, crew.zone, locale),
            })
          }
        />
      </div>
    </>
  );
}
