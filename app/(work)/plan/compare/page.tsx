import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { brokenRules, costsSideBySide, notesOf, openPlan } from "@/app/_server/planEdits";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import {
  formatClock,
  formatCount,
  formatDate,
  formatDaysLate,
  formatNumber,
  NO_VALUE,
} from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadPlanVisits, planInForce } from "@/db/queries/plans";
import { loadPromises, planCounts } from "@/db/queries/planViews";
import { itemsThatStop } from "@/db/queries/stockViews";
import {
  COST_LINES,
  type HopFinish,
  hopFinishes,
  type MovedVisit,
  movedHops,
  movedVisits,
} from "@/lib/programme";
import { DraftActions } from "../DraftActions";

export const metadata: Metadata = { title: "Compare plans" };

const ROWS_SHOWN = 60;

export default async function ComparePage({ searchParams }: { searchParams: Promise<{ plan?: string }> }) {
  await requireRole("administrator", "manager");
  const db = database();
  const planId = Number((await searchParams).plan);
  const open = Number.isInteger(planId) ? openPlan(db, planId, homeToday(db)) : undefined;
  if (!open) {
    return (
      <>
        <PageHead title="Compare plans" crumbs={[{ label: "Plan", href: "/plan" }]} />
        <EmptyState
          title="No such draft"
          actions={<LinkButton href="/plan">Open the plan in force</LinkButton>}
        >
          It was discarded, or the address is wrong. Solve anew to get another.
        </EmptyState>
      </>
    );
  }
  const { head, rows } = open;
  const inForce = planInForce(db);
  const other = inForce && inForce.id !== head.id ? inForce : undefined;
  const otherRows = other ? loadPlanVisits(db, other.id) : [];
  const promises = loadPromises(db);
  const moved = movedVisits(otherRows, rows);
  const hops = movedHops(hopFinishes(otherRows, promises), hopFinishes(rows, promises));
  const costs = costsSideBySide(db, open);
  const counts = planCounts(db, head.id, rows);
  const otherCounts = other && planCounts(db, other.id, otherRows);
  const broken = brokenRules(open);
  const { replaces } = notesOf(head);
  const isOutOfDate = head.state === "draft" && replaces !== undefined && replaces !== (inForce?.id ?? null);
  const shortBefore = new Set(other ? itemsThatStop(db, other.id).map((n) => n.itemCode) : []);
  const short = itemsThatStop(db, head.id);
  return (
    <>
      <PageHead
        title={
          other ? `Plan ${head.id} against plan ${other.id}, in force` : `Plan ${head.id}, ${head.state}`
        }
        crumbs={[
          { label: "Plan", href: "/plan" },
          { label: `Plan ${head.id}`, href: `/plan?plan=${head.id}` },
        ]}
        lead={
          other
            ? "Both priced from today on with the data as they are now."
            : "Priced from today on with the data as they are now. There is no other plan in force to compare with."
        }
        marks={
          <StateMark boxed state={broken.length > 0 ? "fail" : "pass"}>
            {broken.length > 0 ? `${formatCount(broken.length, "hard rule")} broken` : "No hard rule broken"}
          </StateMark>
        }
      />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
        {isOutOfDate ? (
          <Notice kind="warn" title="The plan in force changed since this draft was made">
            It was made when {replaces === null ? "no plan" : `plan ${replaces}`} was in force. The tables
            compare with the plan that is in force now.
          </Notice>
        ) : null}
        {broken.length > 0 ? (
          <Notice kind="problem" title="It cannot be put in force">
            <ul>
              {broken.slice(0, 12).map((b) => (
                <li key={b.message}>
                  <strong>{b.rule}</strong>: {b.message}
                </li>
              ))}
              {broken.length > 12 ? <li>and {broken.length - 12} more</li> : null}
            </ul>
            <p>
              Move the visits on the <Link href={`/plan?plan=${head.id}`}>board</Link>, or{" "}
              <Link href="/plan/solve">solve anew</Link> with the data as they are now.
            </p>
          </Notice>
        ) : null}
        {head.state === "draft" ? (
          <div className="flex flex-wrap gap-2 ui-no-print">
            <DraftActions planId={head.id} revision={head.revision} inForceId={inForce?.id ?? null} />
            <LinkButton href={`/plan?plan=${head.id}`}>Open its board</LinkButton>
          </div>
        ) : null}
        <div className="grid gap-4 xl:grid-cols-2">
          <Panel title="In figures" flush>
            <ScrollRegion label="Both plans in figures">
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">Figure</th>
                    <th scope="col" data-align="end">
                      {other ? `Plan ${other.id}` : "In force"}
                    </th>
                    <th scope="col" data-align="end">{`Plan ${head.id}`}</th>
                    <th scope="col" data-align="end">
                      Change
                    </th>
                    <th scope="col">Unit</th>
                  </tr>
                </thead>
                <tbody>
                  <FigureRow
                    label="Hops late"
                    unit={`hops`}
                    before={otherCounts?.lateHops}
                    after={counts.lateHops}
                  />
                  <FigureRow
                    label="Days late, all hops"
                    unit="days"
                    before={otherCounts?.lateDays}
                    after={counts.lateDays}
                  />
                  <FigureRow
                    label="Items that run out"
                    unit="items"
                    before={otherCounts?.runOut}
                    after={counts.runOut}
                  />
                  {COST_LINES.map((line) => (
                    <FigureRow
                      key={line.key}
                      label={line.label}
                      unit={line.unit}
                      before={costs.inForce ? line.value(costs.inForce) : undefined}
                      after={line.value(costs.plan)}
                    />
                  ))}
                  <FigureRow
                    label="Weighted sum"
                    unit=""
                    before={costs.inForce?.total}
                    after={costs.plan.total}
                  />
                </tbody>
              </table>
            </ScrollRegion>
          </Panel>
          <Panel title="Hops that finish on another day" note={formatCount(hops.length, "hop")} flush>
            {hops.length === 0 ? (
              <p className="px-4 py-3">Every hop finishes on the same day as before.</p>
            ) : (
              <ScrollRegion label="Hops that finish on another day">
                <table className="ui-facts">
                  <thead>
                    <tr>
                      <th scope="col">Hop</th>
                      <th scope="col">Was</th>
                      <th scope="col">Now</th>
                      <th scope="col">Promise</th>
                      <th scope="col">By this plan</th>
                    </tr>
                  </thead>
                  <tbody>
                    {hops.slice(0, ROWS_SHOWN).map((h) => (
                      <tr key={h.hopCode}>
                        <th scope="row">
                          <Link href={`/hops/${encodeURIComponent(h.hopCode)}`}>{h.hopCode}</Link>
                        </th>
                        <td>{finishWords(h.was)}</td>
                        <td>{finishWords(h)}</td>
                        <td>{formatDate(h.promisedOn, "day")}</td>
                        <td>{h.daysLate === undefined ? NO_VALUE : formatDaysLate(h.daysLate)}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
                <More count={hops.length - ROWS_SHOWN} />
              </ScrollRegion>
            )}
          </Panel>
          <Panel
            title="Moved visits"
            note={`${formatCount(moved.length, "visit")} on another crew or day`}
            flush
          >
            {moved.length === 0 ? (
              <p className="px-4 py-3">No visit has another crew or day.</p>
            ) : (
              <ScrollRegion label="Moved visits">
                <table className="ui-facts">
                  <thead>
                    <tr>
                      <th scope="col">Visit</th>
                      <th scope="col">Was</th>
                      <th scope="col">Now</th>
                      <th scope="col" data-align="end">
                        Days
                      </th>
                    </tr>
                  </thead>
                  <tbody>
                    {moved.slice(0, ROWS_SHOWN).map((m) => (
                      <tr key={m.visitId}>
                        <th scope="row">
                          <Link href={`/plan?plan=${head.id}&visit=${encodeURIComponent(m.visitId)}`}>
                            {m.visitId}
                          </Link>
                        </th>
                        <td>{placeWords(m.from)}</td>
                        <td>{placeWords(m.to)}</td>
                        <td data-align="end">{m.days === undefined ? NO_VALUE : signedDays(m.days)}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
                <More count={moved.length - ROWS_SHOWN} />
              </ScrollRegion>
            )}
          </Panel>
          <Panel
            title="Items that run out by this plan"
            note="Without new orders."
            flush
            foot={
              head.state === "draft"
                ? "Netted when the draft was solved; moves by hand count once it is in force."
                : undefined
            }
          >
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
                      <th scope="col">Before</th>
                    </tr>
                  </thead>
                  <tbody>
                    {short.slice(0, ROWS_SHOWN).map((n) => (
                      <tr key={n.itemCode}>
                        <th scope="row">
                          <Link href={`/stock/items/${encodeURIComponent(n.itemCode)}`}>{n.itemCode}</Link>
                        </th>
                        <td>{formatDate(n.runsOutOn, "weekday")}</td>
                        <td>{formatCount(n.stops.length, "visit")}</td>
                        <td>{shortBefore.has(n.itemCode) ? "ran out too" : "did not run out"}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
                <More count={short.length - ROWS_SHOWN} />
              </ScrollRegion>
            )}
          </Panel>
        </div>
      </div>
    </>
  );
}

function FigureRow({
  label,
  unit,
  before,
  after,
}: {
  label: string;
  unit: string;
  before?: number;
  after: number;
}) {
  const digits = unit === "h" ? 1 : 0;
  const raw = before === undefined ? undefined : after - before;
  // What rounds to nothing is no change, and no "-0".
  const change = raw !== undefined && Math.abs(raw) * 10 ** digits < 0.5 ? 0 : raw;
  return (
    <tr>
      <th scope="row">{label}</th>
      <td data-align="end">{before === undefined ? NO_VALUE : formatNumber(before, digits)}</td>
      <td data-align="end">{formatNumber(after, digits)}</td>
      <td data-align="end">
        {change === undefined ? NO_VALUE : `${change > 0 ? "+" : ""}${formatNumber(change, digits)}`}
      </td>
      <td>{unit}</td>
    </tr>
  );
}

function More({ count }: { count: number }) {
  return count > 0 ? (
    <p className="px-4 py-2 text-quiet">and {formatNumber(count)} more: see the export of the plan</p>
  ) : null;
}

const finishWords = (h: HopFinish) => (h.finishOn ? formatDate(h.finishOn, "weekday") : "not to its end");

const placeWords = (p: MovedVisit["from"]) =>
  p ? `${p.crewCode}, ${formatDate(p.startOn, "weekday")} ${formatClock(p.startMin)}` : "no place";

const signedDays = (days: number) => `${days > 0 ? "+" : ""}${days}`;
