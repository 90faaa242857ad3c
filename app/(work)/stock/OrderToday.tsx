import Link from "next/link";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatAmount, formatCount, formatDate, formatMoney } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { OrderToPlace } from "@/db/queries/orders";
import type { CalendarDate } from "@/lib/time";
import { ProposeButton } from "./ProposeButton";
import { itemPath, moneyWords } from "./words";

/** What to order today: ours by purchase, the customer's by call-off; then what comes up. */
export function OrderToday({ rows, today }: { rows: readonly OrderToPlace[]; today: CalendarDate }) {
  const due = rows.filter((r) => r.isDue);
  const later = rows.filter((r) => !r.isDue);
  const groups = [
    { kind: "purchase", title: "Buy", note: "Our own material: a purchase." },
    { kind: "call-off", title: "Call off", note: "The customer's material: asked for, not bought." },
  ] as const;
  return (
    <div className="grid grid-cols-1 gap-4">
      {due.length === 0 ? (
        <Notice
          kind="good"
          title="Nothing has to be ordered today"
          action={<LinkButton href="/stock?tab=orders">Orders</LinkButton>}
        >
          {later[0]
            ? `Next: ${later[0].itemCode} on ${formatDate(later[0].releaseOn, "weekday")}. What is proposed or approved already is not listed again.`
            : "Stock, orders on the way and proposed orders cover the plan."}
        </Notice>
      ) : (
        <div className="ui-toolbar ui-no-print">
          <ProposeButton count={due.length} />
          <span className="text-quiet">
            One proposed order per supplier and warehouse. Approved by the manager, then sent.
          </span>
        </div>
      )}
      {groups.map((g) => {
        const list = due.filter((r) => r.kind === g.kind);
        return list.length === 0 ? null : (
          <Panel
            key={g.kind}
            title={`${g.title}: ${formatCount(list.length, "line")}`}
            note={
              g.kind === "purchase"
                ? `${g.note} ${moneyWords(list.map((r) => ({ minor: r.costMinor, currency: r.currency })))} at catalogue prices.`
                : g.note
            }
            flush
          >
            <OrderRows label={`To ${g.title.toLowerCase()} today`} rows={list} today={today} />
          </Panel>
        );
      })}
      {later.length > 0 ? (
        <Panel title="Comes up later">
          <Disclosure summary={formatCount(later.length, "line")} open={due.length === 0}>
            <OrderRows label="To order later" rows={later} today={today} />
          </Disclosure>
        </Panel>
      ) : null}
    </div>
  );
}

function OrderRows({
  label,
  rows,
  today,
}: {
  label: string;
  rows: readonly OrderToPlace[];
  today: CalendarDate;
}) {
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Item</th>
            <th scope="col" data-align="end">
              Quantity
            </th>
            <th scope="col">Send by</th>
            <th scope="col">Needed on</th>
            <th scope="col">Comes on</th>
            <th scope="col">In time?</th>
            <th scope="col" data-align="end">
              Cost
            </th>
            <th scope="col">Supplier</th>
            <th scope="col">To</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={`${r.itemCode} ${r.placeCode} ${r.neededOn} ${r.releaseOn}`}>
              <th scope="row" data-label="Item">
                <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
                {r.spares > 0 ? (
                  <small>
                    {" "}
                    <Link href="/stock/spares">{formatCount(r.spares, "spare")} kept</Link>
                  </small>
                ) : null}
              </th>
              <td data-label="Quantity" data-align="end">
                {formatAmount(r.quantity, r.unit)}
              </td>
              <td data-label="Send by">
                {r.releaseOn <= today ? "today" : formatDate(r.releaseOn, "weekday")}
              </td>
              <td data-label="Needed on">{formatDate(r.neededOn, "weekday")}</td>
              <td data-label="Comes on">{formatDate(r.arrivesOn, "weekday")}</td>
              <td data-label="In time?">
                {r.pastDueDays > 0 ? (
                  <StateMark state="late">{formatCount(r.pastDueDays, "day")} past due</StateMark>
                ) : (
                  <StateMark state="met">In time</StateMark>
                )}
              </td>
              <td data-label="Cost" data-align="end">
                {r.kind === "purchase" ? formatMoney(r.costMinor, r.currency) : "customer's"}
              </td>
              <td data-label="Supplier">{r.supplier}</td>
              <td data-label="To">{r.placeCode}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
