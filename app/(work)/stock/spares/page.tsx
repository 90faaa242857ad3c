import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatNumber, formatShare } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadSpares, type SpareRow, type SparesView } from "@/db/queries/spareViews";
import { poissonAtMost } from "@/lib/stock";
import { itemPath, STOCK_ROLES } from "../words";
import { DecideButton } from "./DecideButton";

export const metadata: Metadata = { title: "Spares" };

/** How many spares of each radio variant each warehouse should keep, why, and what it has. */
export default async function SparesPage() {
  await requireRole(...STOCK_ROLES);
  const db = database();
  const view = loadSpares(db, homeToday(db));
  const { rates, repairDays } = view;
  // What is missing stands first; the rest by code.
  const rows = [...view.rows].sort((a, b) => b.missing - a.missing || b.wanted - a.wanted);
  const sum = (of: (r: SpareRow) => number) => rows.reduce((total, r) => total + of(r), 0);
  const missing = sum((r) => r.missing);
  return (
    <>
      <PageHead
        crumbs={[{ label: "Stock", href: "/stock" }]}
        title="Spares"
        lead={`Radio variants never stand in for each other, so each warehouse keeps its own spares of each: as many as last until what died is back, ${formatCount(repairDays, "day")} by the rules.`}
        actions={
          <>
            <LinkButton href="/rules?tab=stock">Rules of spares</LinkButton>
            <LinkButton href="/stock/faults">Faulty pieces</LinkButton>
          </>
        }
      />
      {rows.length === 0 ? (
        <EmptyState title="No radios in the design yet">
          Spares follow from the radios of the hops and the warehouses nearest to them.
        </EmptyState>
      ) : (
        <>
          <StatRow>
            <Stat
              label="Spares wanted"
              figure={formatNumber(sum((r) => r.wanted))}
              limit="of all variants and warehouses"
            />
            <Stat
              label="Missing"
              figure={formatNumber(missing)}
              limit="not free on their shelf today; netting orders them"
              tone={missing > 0 ? "warn" : "good"}
            />
            <Stat
              label="Dead on arrival"
              figure={formatShare(rates.deadShare, 1)}
              limit={`${formatNumber(rates.dead)} of ${formatNumber(rates.installed + rates.dead)}, drawn toward the rules' figure`}
            />
            <Stat
              label="Failing in a year"
              figure={formatShare(rates.failuresPerYear, 1)}
              limit={`${formatNumber(rates.failed)} in ${formatNumber(rates.unitYears, 1)} unit years, drawn likewise`}
            />
          </StatRow>
          <div className="mt-4 grid grid-cols-1 gap-4">
            <Panel
              title={formatCount(new Set(rows.map((r) => r.itemCode)).size, "variant")}
              note="A visit may take a spare when it lacks a unit: it does not stop, and the spare is ordered again. Free is what lies on the shelf beyond what kits of the plan want."
              flush
            >
              <SpareTable rows={rows} view={view} />
            </Panel>
          </div>
        </>
      )}
    </>
  );
}

function SpareTable({ rows, view }: { rows: readonly SpareRow[]; view: SparesView }) {
  return (
    <ScrollRegion label="Spares by variant and warehouse">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Variant</th>
            <th scope="col">At</th>
            {["In service", "To install", "Free", "On order", "Hold, repair", "Wanted"].map((word) => (
              <th key={word} scope="col" data-align="end">
                {word}
              </th>
            ))}
            <th scope="col">Why so many</th>
            <th scope="col">Covered?</th>
            <th scope="col">
              <span className="sr-only">Decide</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={`${r.itemCode} ${r.placeCode}`}>
              <th scope="row" data-label="Variant">
                <span>
                  <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.itemName}</small>
                </span>
              </th>
              <td data-label="At">{r.placeCode}</td>
              <td data-label="In service" data-align="end">
                {r.installed}
              </td>
              <td data-label="To install" data-align="end">
                {r.planned}
              </td>
              <td data-label="Free" data-align="end">
                <span>
                  {r.free} <small>of {r.onHand}</small>
                </span>
              </td>
              <td data-label="On order" data-align="end">
                {r.onOrder}
              </td>
              <td data-label="Hold, repair" data-align="end">
                {r.onHold}, {r.inRepair}
              </td>
              <td data-label="Wanted" data-align="end">
                <strong>{r.wanted}</strong>
              </td>
              <td data-label="Why so many">{whyWords(r, view)}</td>
              <td data-label="Covered?">
                {r.wanted === 0 ? (
                  <StateMark state="none">none wanted</StateMark>
                ) : r.missing === 0 ? (
                  <StateMark state="met">on the shelf</StateMark>
                ) : (
                  <StateMark state={r.missing <= r.onOrder + r.inRepair ? "dated" : "warn"}>
                    {r.missing} missing
                  </StateMark>
                )}
              </td>
              <td>
                <DecideButton
                  itemCode={r.itemCode}
                  placeCode={r.placeCode}
                  byLevel={r.byLevel}
                  rule={r.rule && { fixed: r.rule.fixed, level: r.rule.level }}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** The sum behind the number, or who decided it and why. */
function whyWords(r: SpareRow, { rates, repairDays }: SparesView): string {
  if (r.rule?.fixed != null) return `Fixed by ${r.rule.by}: ${r.rule.reason}. By the level ${r.byLevel}.`;
  const own = r.rule ? ` (level set by ${r.rule.by}: ${r.rule.reason})` : "";
  if (r.level <= 0) return "The rules keep no spares.";
  return (
    `${r.installed} x ${formatShare(rates.failuresPerYear, 1)} a year x ${repairDays} days ` +
    `+ ${r.toInstall} within them x ${formatShare(rates.deadShare, 1)} = ${formatNumber(r.mean, 2)} expected to die; ` +
    `${r.wanted === 0 ? "none is enough" : `${r.wanted} ${r.wanted === 1 ? "is" : "are"} enough`} in ` +
    `${formatShare(poissonAtMost(r.wanted, r.mean), 1)} of cases, ${formatShare(r.level, 1)} asked${own}.`
  );
}
