import Link from "next/link";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatDate, formatDaysLate, formatNumber, formatShare } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { OrderView } from "@/db/queries/orders";
import type { OrderLineDue } from "@/db/queries/stockViews";
import type { SupplierRow } from "@/db/queries/suppliers";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { OrderStateMark } from "./OrderStateMark";
import { SlipQuestion } from "./SlipQuestion";
import { moneyWords, orderPath } from "./words";

export interface OrdersTabProps {
  orders: readonly OrderView[];
  lines: readonly OrderLineDue[];
  suppliers: readonly SupplierRow[];
  today: CalendarDate;
  slip?: string;
  days?: string;
}

const STATES = ["proposed", "approved", "sent", "partly received", "closed"] as const;
const TITLES: Record<(typeof STATES)[number], string> = {
  proposed: "Proposed: wait for approval",
  approved: "Approved: to be sent",
  sent: "Sent: on the way",
  "partly received": "Partly received",
  closed: "Closed",
};

/** All orders, by what has to be done with them next. */
export function OrdersTab({ orders, lines, suppliers, today, slip, days }: OrdersTabProps) {
  if (orders.length === 0) {
    return (
      <EmptyState title="No orders yet">
        Propose orders from what is due in <Link href="/stock?tab=order">Order today</Link>, or bring in
        orders on the way.
      </EmptyState>
    );
  }
  return (
    <div className="grid grid-cols-1 gap-4">
      {STATES.map((state) => {
        const list = orders.filter((o) => o.state === state);
        return list.length === 0 ? null : (
          <Panel key={state} title={`${TITLES[state]} (${list.length})`} flush>
            <ScrollRegion label={TITLES[state]}>
              <table className="ui-facts ui-facts-stack">
                <thead>
                  <tr>
                    <th scope="col">Order</th>
                    <th scope="col">State</th>
                    <th scope="col">Supplier</th>
                    <th scope="col">To</th>
                    <th scope="col">Items</th>
                    <th scope="col">Due</th>
                    <th scope="col" data-align="end">
                      Value
                    </th>
                  </tr>
                </thead>
                <tbody>
                  {[...list]
                    .sort((a, b) => dueOf(a).localeCompare(dueOf(b)))
                    .map((o) => (
                      <tr key={o.code}>
                        <th scope="row" data-label="Order">
                          <Link href={orderPath(o.code)}>{o.code}</Link>
                        </th>
                        <td data-label="State">
                          <OrderStateMark state={o.state} />
                        </td>
                        <td data-label="Supplier">{o.supplier}</td>
                        <td data-label="To">{o.placeCode}</td>
                        <td data-label="Items">
                          {o.lines[0]?.itemCode}
                          {o.lines.length > 1 ? ` and ${formatCount(o.lines.length - 1, "more line")}` : ""}
                        </td>
                        <td data-label="Due">
                          {formatDate(dueOf(o) as CalendarDate, "weekday")}
                          {state !== "closed" && dueOf(o) < today ? (
                            <StateMark state="late">
                              {formatDaysLate(daysBetween(dueOf(o) as CalendarDate, today))}
                            </StateMark>
                          ) : null}
                          {o.note ? <small> {o.note}</small> : null}
                        </td>
                        <td data-label="Value" data-align="end">
                          {o.kind === "call-off"
                            ? "customer's"
                            : moneyWords(
                                o.lines.map((l) => ({
                                  minor: Math.round((l.priceMinor * l.quantityC) / 100),
                                  currency: l.currency,
                                })),
                              )}
                        </td>
                      </tr>
                    ))}
                </tbody>
              </table>
            </ScrollRegion>
          </Panel>
        );
      })}
      <Suppliers rows={suppliers} />
      <SlipQuestion lines={lines} initialKey={slip} initialDays={days} />
    </div>
  );
}

/** Promised against received, supplier by supplier; feeds the safety stock on the items' pages. */
function Suppliers({ rows }: { rows: readonly SupplierRow[] }) {
  return (
    <Panel
      title="How suppliers deliver"
      note="Complete lines against the day first promised. Mean and scatter of the lead time feed the safety stock of what comes from them."
      flush
    >
      <ScrollRegion label="Suppliers">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">Supplier</th>
              <th scope="col" data-align="end">
                Complete lines
              </th>
              <th scope="col">Lead time, mean and scatter</th>
              <th scope="col">Late</th>
              <th scope="col">By how much</th>
              <th scope="col">On the way</th>
              <th scope="col">Dead on arrival</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((s) => (
              <tr key={s.supplier}>
                <th scope="row" data-label="Supplier">
                  {s.supplier || "not named"}
                </th>
                <td data-label="Complete lines" data-align="end">
                  {Math.max(s.count, s.promised)}
                </td>
                <td data-label="Lead time">
                  {s.count === 0
                    ? "not known yet"
                    : `${formatNumber(s.meanDays, 1)} days${s.count > 1 ? `, ± ${formatNumber(s.sdDays, 1)}` : ""}`}
                </td>
                <td data-label="Late">
                  {s.promised === 0 ? "–" : `${formatShare(s.lateShare)} of ${s.promised}`}
                </td>
                <td data-label="By how much">
                  {s.lateShare > 0 ? `${formatNumber(s.meanDaysLate, 1)} days on average` : "–"}
                </td>
                <td data-label="On the way">
                  {formatCount(s.open, "line")}
                  {s.overdue > 0 ? (
                    <>
                      {" "}
                      <StateMark state="late">
                        {s.overdue} overdue, {formatDaysLate(s.worstDays)} at most
                      </StateMark>
                    </>
                  ) : null}
                </td>
                <td data-label="Dead on arrival">
                  <DeadOnArrival row={s} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

/** The share, and how far it can be believed: few pieces say little. */
function DeadOnArrival({ row: { dead, pieces, deadShare } }: { row: SupplierRow }) {
  if (deadShare.share === null)
    return dead === 0 ? "–" : `${formatCount(dead, "piece")}, none received on an order yet`;
  return (
    <>
      {dead === 0 ? "none" : <Link href="/stock/faults">{formatCount(dead, "piece")}</Link>} of {pieces} (
      {formatShare(deadShare.share, 1)})
      <small>
        {" "}
        four in five between {formatShare(deadShare.low, 1)} and {formatShare(deadShare.high, 1)}
      </small>
    </>
  );
}

/** The first day on which something of it is still to come; of a closed order its last. */
function dueOf(o: OrderView): string {
  const open = o.lines.filter((l) => l.receivedC < l.quantityC);
  return (open.length > 0 ? open : o.lines).map((l) => l.dueOn).sort()[0] ?? "";
}
