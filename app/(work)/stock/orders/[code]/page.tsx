import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { homeToday, homeZone } from "@/app/_server/clock";
import { requireRoleInRegions } from "@/app/_server/session";
import { formatCount, formatDate, formatDaysLate, formatInstant, formatMoney } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadOrder, mayStep } from "@/db/queries/orders";
import { loadLog } from "@/db/queries/reports";
import { daysBetween } from "@/lib/time";
import { OrderStateMark } from "../../OrderStateMark";
import { amountC, itemPath, moneyWords, STOCK_ROLES } from "../../words";
import { OrderSteps } from "./OrderSteps";
import { ReceiveForm } from "./ReceiveForm";

interface OrderPageProps {
  params: Promise<{ code: string }>;
}

export async function generateMetadata({ params }: OrderPageProps): Promise<Metadata> {
  return { title: `Order ${decodeURIComponent((await params).code)}` };
}

/** One order: what is on it, what has come, the next step, and who did what. */
export default async function OrderPage({ params }: OrderPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const code = decodeURIComponent((await params).code);
  const db = database();
  const today = homeToday(db);
  const order = loadOrder(db, code);
  if (!order) notFound();
  const zone = homeZone(db);
  const log = loadLog(db, 50, `order ${code}`);
  const isManager = visitor.role === "manager" || visitor.role === "administrator";
  const mayReceive =
    mayStep(order.state, "receive") && (visitor.role === "logistics" || visitor.role === "administrator");
  const open = order.state === "sent" || order.state === "partly received";
  return (
    <>
      <PageHead
        crumbs={[
          { label: "Stock", href: "/stock" },
          { label: "Orders", href: "/stock?tab=orders" },
        ]}
        title={order.code}
        marks={<OrderStateMark state={order.state} boxed />}
        lead={`${order.kind === "purchase" ? "Purchase from" : "Call-off from"} ${order.supplier} to ${order.placeName}. Made by ${order.createdBy}, ${formatInstant(order.createdAt, zone)}.`}
        actions={
          <a
            className="ui-button"
            data-kind="quiet"
            data-size="normal"
            href={`/stock/orders/${encodeURIComponent(code)}/csv`}
          >
            Download CSV
          </a>
        }
      />
      {order.note ? <p className="py-2">{order.note}</p> : null}
      <div className="grid grid-cols-1 gap-4">
        <OrderSteps
          order={order}
          steps={{
            approve: mayStep(order.state, "approve") && isManager,
            send: mayStep(order.state, "send"),
            close: mayStep(order.state, "close"),
            change: order.state === "proposed" || order.state === "approved",
            postpone: mayStep(order.state, "receive"),
          }}
          waits={
            order.state === "proposed" && !isManager
              ? "Waits for approval by a rollout manager or administrator."
              : undefined
          }
        />
        <Panel title={formatCount(order.lines.length, "line")} flush>
          <ScrollRegion label="Lines of the order">
            <table className="ui-facts ui-facts-stack">
              <thead>
                <tr>
                  <th scope="col">Line</th>
                  <th scope="col">Item</th>
                  <th scope="col" data-align="end">
                    Ordered
                  </th>
                  <th scope="col" data-align="end">
                    Received
                  </th>
                  <th scope="col" data-align="end">
                    Still to come
                  </th>
                  <th scope="col">Due</th>
                  <th scope="col" data-align="end">
                    Price
                  </th>
                  <th scope="col" data-align="end">
                    Cost
                  </th>
                </tr>
              </thead>
              <tbody>
                {order.lines.map((l) => (
                  <tr key={l.lineNo}>
                    <th scope="row" data-label="Line">
                      {l.lineNo}
                    </th>
                    <td data-label="Item">
                      <Link href={itemPath(l.itemCode)}>{l.itemCode}</Link> <small>{l.name}</small>
                    </td>
                    <td data-label="Ordered" data-align="end">
                      {amountC(l.quantityC, l.unit)}
                    </td>
                    <td data-label="Received" data-align="end">
                      {amountC(l.receivedC, l.unit)}
                    </td>
                    <td data-label="Still to come" data-align="end">
                      {l.receivedC > l.quantityC
                        ? `${amountC(l.receivedC - l.quantityC, l.unit)} over`
                        : order.state === "closed"
                          ? l.receivedC < l.quantityC
                            ? `${amountC(l.quantityC - l.receivedC, l.unit)} not delivered`
                            : "–"
                          : amountC(l.quantityC - l.receivedC, l.unit)}
                    </td>
                    <td data-label="Due">
                      {formatDate(l.dueOn, "weekday")}{" "}
                      {l.promisedOn && l.promisedOn !== l.dueOn ? (
                        <small>promised for {formatDate(l.promisedOn, "day")} </small>
                      ) : null}
                      {open && l.receivedC < l.quantityC && l.dueOn < today ? (
                        <StateMark state="late">{formatDaysLate(daysBetween(l.dueOn, today))}</StateMark>
                      ) : null}
                    </td>
                    <td data-label="Price" data-align="end">
                      {order.kind === "purchase" ? (
                        <>
                          {formatMoney(l.priceMinor, l.currency)}
                          {l.isPriceAgreed ? "" : <small> catalogue</small>}
                        </>
                      ) : (
                        "–"
                      )}
                    </td>
                    <td data-label="Cost" data-align="end">
                      {order.kind === "purchase"
                        ? formatMoney(Math.round((l.priceMinor * l.quantityC) / 100), l.currency)
                        : "customer's"}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        </Panel>
        {order.kind === "purchase" ? (
          <p>
            In all{" "}
            <strong>
              {moneyWords(
                order.lines.map((l) => ({
                  minor: Math.round((l.priceMinor * l.quantityC) / 100),
                  currency: l.currency,
                })),
              )}
            </strong>{" "}
            {order.lines.every((l) => l.isPriceAgreed)
              ? "at the prices of the order."
              : "with catalogue prices where none is agreed."}
          </p>
        ) : null}
        {mayReceive ? <ReceiveForm order={order} today={today} /> : null}
        <Panel title="Who did what" flush>
          {log.length === 0 ? (
            <p className="px-4 py-3">Nothing logged yet: it came with the opening data.</p>
          ) : (
            <ScrollRegion label="Log of the order">
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">When</th>
                    <th scope="col">What</th>
                    <th scope="col">Who</th>
                  </tr>
                </thead>
                <tbody>
                  {log.map((e) => (
                    <tr key={e.id}>
                      <th scope="row">{formatInstant(e.at, zone)}</th>
                      <td>{e.action}</td>
                      <td>{e.userName}</td>
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
