import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { CrewLoadChart } from "@/app/_ui/charts/CrewLoadChart";
import { SCurveChart } from "@/app/_ui/charts/SCurveChart";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatDate, formatDaysLate, formatNumber, formatShare } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { remembered } from "@/db/dataState";
import { database } from "@/db/open";
import { type HopRow, loadCrewWeeks, loadProgrammeState } from "@/db/queries/progress";
import { itemsThatStop } from "@/db/queries/stockViews";
import { progressCurve, summary } from "@/lib/programme";
import { HopStateMark } from "../hops/HopStateMark";
import { FinishPanel } from "./FinishPanel";

export const metadata: Metadata = { title: "Programme" };

export default async function ProgrammePage() {
  await requireRole("administrator", "manager", "logistics");
  const db = database();
  const today = homeToday(db);
  const { plan, risk, hops } = loadProgrammeState(db);
  if (hops.length === 0) {
    return (
      <>
        <PageHead title="Programme" />
        <EmptyState
          title="No hops yet"
          actions={<LinkButton href="/import">Bring in sites and hops</LinkButton>}
        >
          The programme appears here once its sites and hops are in.
        </EmptyState>
      </>
    );
  }
  const short = plan ? itemsThatStop(db, plan.id) : [];
  const { sum, curve } = remembered(db, `programme ${today}`, ["design", "plan", "reports", "rules"], () => ({
    sum: summary(hops, today),
    curve: progressCurve(hops, today),
  }));
  const weeks = plan && loadCrewWeeks(db, plan);
  const threats = hops
    .filter((h) => h.state === "late" || h.state === "held" || h.state === "at risk")
    .sort(
      (a, b) =>
        (a.promisedOn ?? "9").localeCompare(b.promisedOn ?? "9") || a.hopCode.localeCompare(b.hopCode),
    );
  return (
    <>
      <PageHead
        title="Programme"
        lead={`Are we on promise, and what threatens it. As of ${formatDate(today)}.`}
        actions={
          <>
            <LinkButton href="/plan">Open the plan</LinkButton>
            <LinkButton href="/sites?tab=hops">All hops</LinkButton>
            <LinkButton href="/programme/hours">Hours learned</LinkButton>
            <LinkButton href="/programme/use">Use learned</LinkButton>
          </>
        }
      />
      <StatRow>
        <Stat
          label="Finished"
          figure={formatNumber(sum.done)}
          limit={`of ${formatCount(hops.length, "hop")}`}
          href="/sites?tab=hops"
        />
        {sum.toAccept > 0 ? (
          <Stat
            label="To accept"
            href="/sites?tab=hops&f.state=to+accept"
            figure={formatNumber(sum.toAccept)}
            limit="work done, readings missing or off"
            tone="warn"
          />
        ) : null}
        <Stat
          label="On promise, P80"
          href="/sites?tab=hops&f.state=on+promise"
          figure={formatNumber(sum.onPromise)}
          limit="planned, and in time in four runs of five"
          tone="good"
        />
        <Stat
          label="At risk"
          href="/sites?tab=hops&f.state=at+risk"
          figure={formatNumber(sum.atRisk)}
          limit="planned in time, late in more than one run of five"
          tone={sum.atRisk > 0 ? "warn" : "plain"}
        />
        <Stat
          label="Late by plan"
          href="/sites?tab=hops&f.state=late"
          figure={formatNumber(sum.late)}
          limit={sum.late > 0 ? `${formatCount(sum.lateDays, "day")} in all` : "none"}
          tone={sum.late > 0 ? "problem" : "plain"}
        />
        <Stat
          label="Held"
          href="/sites?tab=hops&f.state=held"
          figure={formatNumber(sum.held)}
          limit="a gate, a check or a missing figure"
          tone={sum.held > 0 ? "warn" : "plain"}
        />
        <Stat
          label="Items that run out"
          figure={formatNumber(short.length)}
          limit={short[0] ? `first on ${formatDate(short[0].runsOutOn, "weekday")}` : "all kits covered"}
          tone={short.length > 0 ? "warn" : "plain"}
          href="/stock"
        />
      </StatRow>
      <div className="mt-4 grid gap-4 xl:grid-cols-2">
        <Panel
          foot={
            risk
              ? "P50 and P80: finished by then in one run of two, and in four of five, of the plan in force."
              : "Not simulated yet: P50 is the plan in force, P80 adds to each hop what past weather adds to its own visits in one year of five."
          }
        >
          <SCurveChart points={curve} today={today} />
        </Panel>
        {plan ? <FinishPanel risk={risk?.risk} hops={hops} /> : null}
        <Panel title="What threatens it" note="Earliest promise first." flush>
          <ScrollRegion label="Hops that need attention">
            <table className="ui-facts">
              <thead>
                <tr>
                  <th scope="col">Hop</th>
                  <th scope="col">State</th>
                  <th scope="col">Promised</th>
                  <th scope="col">Planned</th>
                  <th scope="col">P50</th>
                  <th scope="col">P80</th>
                  <th scope="col">Why</th>
                </tr>
              </thead>
              <tbody>
                {threats.slice(0, THREATS_SHOWN).map((h) => (
                  <tr key={h.hopCode}>
                    <th scope="row">
                      <Link href={`/hops/${h.hopCode}`}>{h.hopCode}</Link>
                    </th>
                    <td>
                      <HopStateMark state={h.state} />
                    </td>
                    <td>{formatDate(h.promisedOn, "day")}</td>
                    <td>{formatDate(h.plannedOn, "day")}</td>
                    <td>{formatDate(h.p50On, "day")}</td>
                    <td>{formatDate(h.p80On, "day")}</td>
                    <td>{whyWords(h)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
          {threats.length > THREATS_SHOWN ? (
            <p className="px-4 py-2">
              <Link href="/sites?tab=hops">
                {formatCount(threats.length - THREATS_SHOWN, "more hop")} in the list of hops
              </Link>
            </p>
          ) : null}
        </Panel>
        {weeks ? (
          <Panel>
            <CrewLoadChart
              weeks={weeks.mondays}
              crews={weeks.crews.map((c) => ({
                id: c.code,
                code: `${c.code} ${c.name}`,
                weeks: c.weeks,
              }))}
            />
          </Panel>
        ) : (
          <Panel title="No plan in force yet">
            <p>
              The hops have no dates until a plan is made. <Link href="/plan">Make the first plan</Link>.
            </p>
          </Panel>
        )}
        <Panel title="What runs out" note="Without new orders." flush>
          {short.length === 0 ? (
            <p className="px-4 py-3">Stock and orders on the way cover every planned kit.</p>
          ) : (
            <ScrollRegion label="Items that run out">
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">Item</th>
                    <th scope="col">Runs out</th>
                    <th scope="col">Stops</th>
                    <th scope="col">First site</th>
                  </tr>
                </thead>
                <tbody>
                  {short.slice(0, THREATS_SHOWN).map((n) => (
                    <tr key={n.itemCode}>
                      <th scope="row">
                        <Link href={`/stock/items/${encodeURIComponent(n.itemCode)}`}>{n.itemCode}</Link>
                      </th>
                      <td>{formatDate(n.runsOutOn, "weekday")}</td>
                      <td>{formatCount(n.stops.length, "visit")}</td>
                      <td>{n.stops[0]?.siteCode}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </ScrollRegion>
          )}
        </Panel>
      </div>
    </>
  );
}

const THREATS_SHOWN = 12;

function whyWords(h: HopRow): string {
  if (h.heldBy) return h.heldBy;
  if (h.state === "late") return formatDaysLate(h.daysLate ?? 0);
  return h.promiseMetShare === undefined
    ? "P80 after the promise"
    : `promise met in ${formatShare(h.promiseMetShare)} of runs`;
}
