import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { ofSeenHops } from "@/app/_server/regions";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatClock, formatDate, formatHours, formatWeek, NO_VALUE } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { PrintButton } from "@/app/_ui/PrintButton";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { setupDue } from "@/db/queries/estimates";
import { loadPlan, planInForce } from "@/db/queries/plans";
import { type BoardVisitRow, loadBoard } from "@/db/queries/planViews";
import { siteNames } from "@/db/queries/siteNames";
import { onSiteFromMin } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { weatherWords } from "../boardRows";
import { begunIn, mondayOf, weeksOf } from "./weeks";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Plan as a list") };
}

interface Search {
  plan?: string;
  crew?: string;
  /** A Monday. */
  week?: string;
}

/** The board as a list: one table for each crew and week, for paper. */
export default async function PlanListPage({ searchParams }: { searchParams: Promise<Search> }) {
  const { t, locale } = await serverWords();
  const visitor = await requireRoleInRegions("administrator", "manager", "logistics", "crew lead");
  const search = await searchParams;
  const db = database();
  const plan = search.plan ? loadPlan(db, Number(search.plan)) : planInForce(db);
  if (!plan) {
    return (
      <>
        <PageHead title={t("Plan as a list")} crumbs={[{ label: t("Plan"), href: "/plan" }]} />
        <EmptyState
          title={t("No such plan")}
          actions={<LinkButton href="/plan">{t("Open the plan in force")}</LinkButton>}
        >
          {t("It was discarded, or none is in force yet.")}
        </EmptyState>
      </>
    );
  }
  const board = loadBoard(db, plan, homeToday(db));
  const seen = ofSeenHops(db, visitor, board.visits);
  const ofCrew = (code: string | null) => board.visits.filter((v) => v.crewCode === code && !v.isWithdrawn);
  const names = siteNames(db);
  const crews = board.crews.filter((c) => !search.crew || c.code === search.crew);
  const mondays = weeksOf(seen.filter((v) => v.crewCode !== null)).map(([monday]) => monday);
  const thisWeek = mondayOf(homeToday(db));
  const chosenWeek = mondays.find((monday) => monday === search.week);
  const href = (crew: string | undefined, week: string | undefined) =>
    `/plan/list?${new URLSearchParams({ plan: String(plan.id), ...(crew && { crew }), ...(week && { week }) })}`;
  return (
    <>
      <PageHead
        title={t("Plan {{plan}}, {{state}}, by crew and week", {
          plan: String(plan.id),
          state: t(plan.state),
        })}
        crumbs={[
          { label: t("Plan"), href: "/plan" },
          { label: t("Plan {{plan}}", { plan: String(plan.id) }), href: `/plan?plan=${plan.id}` },
        ]}
        lead={t(
          "Times are the sites' own. Hours within the planning limits are no leave to climb: the crew on site decides.",
        )}
        actions={<PrintButton />}
      />
      <Tabs
        label={t("Crews")}
        tabs={[
          { href: href(undefined, chosenWeek), label: t("All crews"), current: !search.crew },
          ...board.crews.map((c) => ({
            href: href(c.code, chosenWeek),
            label: c.code,
            current: c.code === search.crew,
          })),
        ]}
      />
      <Tabs
        label={t("Weeks")}
        tabs={[
          { href: href(search.crew, undefined), label: t("All weeks"), current: chosenWeek === undefined },
          ...mondays.map((monday) => ({
            href: href(search.crew, monday),
            label: monday === thisWeek ? t("This week") : formatWeek(monday, false, locale),
            current: monday === chosenWeek,
          })),
        ]}
      />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
        {crews.map((crew) => {
          const weeks = weeksOf(seen.filter((v) => v.crewCode === crew.code)).filter(
            ([monday]) => chosenWeek === undefined || monday === chosenWeek,
          );
          return weeks.length === 0 ? (
            <Panel key={crew.code} title={`${crew.code} ${crew.name}`}>
              <p>{t("Nothing planned.")}</p>
            </Panel>
          ) : (
            weeks.map(([monday, visits]) => (
              <Panel
                key={`${crew.code} ${monday}`}
                title={`${crew.code} ${crew.name}, ${formatWeek(monday, true, locale)}`}
                note={weekNote(monday, visits, { t, locale })}
                flush
                className="ui-whole"
              >
                <ScrollRegion label={`${crew.code}, ${formatWeek(monday, true, locale)}`}>
                  <table className="ui-facts ui-facts-stack">
                    <thead>
                      <tr>
                        <th scope="col">{t("Day")}</th>
                        <th scope="col">{t("Time")}</th>
                        <th scope="col">{t("Hop")}</th>
                        <th scope="col">{t("Site")}</th>
                        <th scope="col">{t("Work")}</th>
                        <th scope="col">{t("Kit")}</th>
                        <th scope="col">{t("Weather")}</th>
                        <th scope="col">{t("Promise")}</th>
                      </tr>
                    </thead>
                    <tbody>
                      {visits.map((v) => (
                        <ListRow
                          key={v.visitId}
                          visit={v}
                          planId={plan.id}
                          siteName={names.get(v.siteCode)}
                          onSiteFrom={onSiteFromMin(v.startMin, setupDue(db, v, ofCrew(v.crewCode)))}
                        />
                      ))}
                    </tbody>
                  </table>
                </ScrollRegion>
              </Panel>
            ))
          );
        })}
      </div>
    </>
  );
}

function weekNote(
  monday: CalendarDate,
  visits: readonly BoardVisitRow[],
  { t, locale }: Pick<Words, "t" | "locale">,
): string {
  const begun = begunIn(monday, visits);
  const note = t("From {{day}}; {{count}} visits, {{hours}} of planned work with set-up", {
    day: formatDate(monday, "full", locale),
    count: begun.length,
    hours: formatHours(
      begun.reduce((sum, v) => sum + v.durationMin, 0),
      locale,
    ),
  });
  const goingOn = visits.length - begun.length;
  return goingOn === 0
    ? note
    : `${note}; ${t("{{count}} visits go on from an earlier week", { count: goingOn })}`;
}

interface ListRowProps {
  visit: BoardVisitRow;
  planId: number;
  siteName?: string;
  /** Minute of the day from which the crew prepares; null when no hours are kept. */
  onSiteFrom: number | null;
}

async function ListRow({ visit: v, planId, siteName, onSiteFrom }: ListRowProps) {
  const words = await serverWords();
  const { t, locale } = words;
  const ends =
    v.endOn === v.startOn
      ? formatClock(v.endMin)
      : `${formatDate(v.endOn, "weekday", locale)} ${formatClock(v.endMin)}`;
  return (
    <tr>
      <th scope="row" data-label={t("Day")}>
        {formatDate(v.startOn, "weekday", locale)}
      </th>
      <td data-label={t("Time")}>
        {t("{{from}} to {{to}}", { from: formatClock(v.startMin), to: ends })}
        {onSiteFrom === null ? null : (
          <span className="text-quiet block">
            {t("on site from {{clock}}", { clock: formatClock(onSiteFrom) })}
          </span>
        )}
      </td>
      <td data-label={t("Hop")}>
        <Link href={`/plan?plan=${planId}&visit=${encodeURIComponent(v.visitId)}`}>{v.hopCode}</Link>{" "}
        {t(v.side)}
      </td>
      <td data-label={t("Site")}>
        {v.siteCode} {siteName}
      </td>
      <td data-label={t("Work")}>
        {t(v.kind)}
        {v.isPinned ? t(", pinned") : ""}
        {v.doneOn ? t(", done") : ""}
        {v.isWithdrawn ? (
          <span className="block">
            <StateMark state="none">{t("withdrawn: not needed any more")}</StateMark>
          </span>
        ) : null}
      </td>
      <td data-label={t("Kit")}>
        {v.kit
          ? v.kit.state === "short"
            ? t("short: {{lines}}", { lines: t("{{count}} lines", { count: v.kit.shortLines }) })
            : t("{{state}}, pick day {{day}}", {
                state: t(v.kit.state),
                day: formatDate(v.kit.pickOn, "day", locale),
              })
          : NO_VALUE}
      </td>
      <td data-label={t("Weather")}>
        {v.isWithdrawn ? NO_VALUE : weatherWords(v.weather, v.riskMin, words).text}
      </td>
      <td data-label={t("Promise")}>
        {formatDate(v.promisedOn, "day", locale)}
        {v.isLate ? t(", late") : ""}
      </td>
    </tr>
  );
}
