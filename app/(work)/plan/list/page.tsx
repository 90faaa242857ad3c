import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { ofSeenHops } from "@/app/_server/regions";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatClock, formatCount, formatDate, formatHours, formatWeek, NO_VALUE } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { PrintButton } from "@/app/_ui/PrintButton";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { loadPlan, planInForce } from "@/db/queries/plans";
import { type BoardVisitRow, loadBoard } from "@/db/queries/planViews";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import { weatherWords } from "../boardRows";

export const metadata: Metadata = { title: "Plan as a list" };

interface Search {
  plan?: string;
  crew?: string;
}

/** The board as a list: one table for each crew and week, for paper. */
export default async function PlanListPage({ searchParams }: { searchParams: Promise<Search> }) {
  const visitor = await requireRoleInRegions("administrator", "manager", "logistics", "crew lead");
  const search = await searchParams;
  const db = database();
  const plan = search.plan ? loadPlan(db, Number(search.plan)) : planInForce(db);
  if (!plan) {
    return (
      <>
        <PageHead title="Plan as a list" crumbs={[{ label: "Plan", href: "/plan" }]} />
        <EmptyState
          title="No such plan"
          actions={<LinkButton href="/plan">Open the plan in force</LinkButton>}
        >
          It was discarded, or none is in force yet.
        </EmptyState>
      </>
    );
  }
  const board = loadBoard(db, plan, homeToday(db));
  const seen = ofSeenHops(db, visitor, board.visits);
  const crews = board.crews.filter((c) => !search.crew || c.code === search.crew);
  const href = (crew?: string) =>
    `/plan/list?plan=${plan.id}${crew ? `&crew=${encodeURIComponent(crew)}` : ""}`;
  return (
    <>
      <PageHead
        title={`Plan ${plan.id}, ${plan.state}, by crew and week`}
        crumbs={[
          { label: "Plan", href: "/plan" },
          { label: `Plan ${plan.id}`, href: `/plan?plan=${plan.id}` },
        ]}
        lead="Times are the sites' own. Hours within the planning limits are no leave to climb: the crew on site decides."
        actions={<PrintButton />}
      />
      <Tabs
        label="Crews"
        tabs={[
          { href: href(), label: "All crews", current: !search.crew },
          ...board.crews.map((c) => ({ href: href(c.code), label: c.code, current: c.code === search.crew })),
        ]}
      />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
        {crews.map((crew) => {
          const weeks = weeksOf(seen.filter((v) => v.crewCode === crew.code));
          return weeks.length === 0 ? (
            <Panel key={crew.code} title={`${crew.code} ${crew.name}`}>
              <p>Nothing planned.</p>
            </Panel>
          ) : (
            weeks.map(([monday, visits]) => (
              <Panel
                key={`${crew.code} ${monday}`}
                title={`${crew.code} ${crew.name}, ${formatWeek(monday, true)}`}
                note={`From ${formatDate(monday, "full")}; ${formatCount(visits.length, "visit")}, ${formatHours(visits.reduce((sum, v) => sum + v.durationMin, 0))} of work at P50`}
                flush
              >
                <ScrollRegion label={`${crew.code}, ${formatWeek(monday, true)}`}>
                  <table className="ui-facts ui-facts-stack">
                    <thead>
                      <tr>
                        <th scope="col">Day</th>
                        <th scope="col">Time</th>
                        <th scope="col">Hop</th>
                        <th scope="col">Site</th>
                        <th scope="col">Work</th>
                        <th scope="col">Kit</th>
                        <th scope="col">Weather</th>
                        <th scope="col">Promise</th>
                      </tr>
                    </thead>
                    <tbody>
                      {visits.map((v) => (
                        <ListRow key={v.visitId} visit={v} planId={plan.id} />
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

function ListRow({ visit: v, planId }: { visit: BoardVisitRow; planId: number }) {
  const ends =
    v.endOn === v.startOn
      ? formatClock(v.endMin)
      : `${formatDate(v.endOn, "weekday")} ${formatClock(v.endMin)}`;
  return (
    <tr>
      <th scope="row" data-label="Day">
        {formatDate(v.startOn, "weekday")}
      </th>
      <td data-label="Time">
        {formatClock(v.startMin)} to {ends}
      </td>
      <td data-label="Hop">
        <Link href={`/plan?plan=${planId}&visit=${encodeURIComponent(v.visitId)}`}>{v.hopCode}</Link> {v.side}
      </td>
      <td data-label="Site">{v.siteCode}</td>
      <td data-label="Work">
        {v.kind}
        {v.isPinned ? ", pinned" : ""}
        {v.doneOn ? ", done" : ""}
      </td>
      <td data-label="Kit">
        {v.kit
          ? v.kit.state === "short"
            ? `short: ${formatCount(v.kit.shortLines, "line")}`
            : `${v.kit.state}, picked ${formatDate(v.kit.pickOn, "day")}`
          : NO_VALUE}
      </td>
      <td data-label="Weather">{weatherWords(v.weather, v.riskMin).text}</td>
      <td data-label="Promise">
        {formatDate(v.promisedOn, "day")}
        {v.isLate ? ", late" : ""}
      </td>
    </tr>
  );
}

function weeksOf(visits: readonly BoardVisitRow[]): [CalendarDate, BoardVisitRow[]][] {
  const weeks = new Map<CalendarDate, BoardVisitRow[]>();
  for (const v of visits) {
    const monday = addDays(v.startOn!, 1 - weekdayOf(v.startOn!));
    weeks.set(monday, [...(weeks.get(monday) ?? []), v]);
  }
  return [...weeks].sort(([a], [b]) => (a < b ? -1 : 1));
}
