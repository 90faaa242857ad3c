import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { homeToday, homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { DownloadButton, LinkButton } from "@/app/_ui/Button";
import { formatDate, formatInstant, formatMoney } from "@/app/_ui/format";
import { keptText } from "@/app/_ui/language/keptText";
import { problemWords } from "@/app/_ui/language/problemWords";
import type { Words } from "@/app/_ui/language/words";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadApprovalLimits } from "@/db/queries/approval";
import { loadFaults } from "@/db/queries/faultViews";
import { LOG_ACTIONS, loadLog } from "@/db/queries/log";
import { mayStep } from "@/db/queries/orderSteps";
import { loadOrder, type OrderLineView } from "@/db/queries/orderViews";
import { loadPlaces } from "@/db/queries/places";
import { type ApprovingRole, approvalProblem, costOf, orderCost } from "@/lib/stock";
import { daysBetween } from "@/lib/time";
import { FaultTable } from "../../faults/FaultTable";
import { OrderStateMark } from "../../OrderStateMark";
import { isNamed, orderLead } from "../../supplierWords";
import { amountC, itemPath, moneyWords, orderPath, STOCK_ROLES } from "../../words";
import { OrderSteps } from "./OrderSteps";
import { ReceiveForm } from "./ReceiveForm";

interface OrderPageProps {
  params: Promise<{ code: string }>;
}

export async function generateMetadata({ params }: OrderPageProps): Promise<Metadata> {
  const { t } = await serverWords();
  return { title: t("Order {{order}}", { order: decodeURIComponent((await params).code) }) };
}

/** Names of the files by which it was changed; undefined when a person did it here. */
const filesOf = (detail: unknown): string | undefined =>
  (detail as { files?: string[] } | null)?.files?.join(", ");

/** One order: what is on it, what has come, the next step, and who did what. */
export default async function OrderPage({ params }: OrderPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const words = await serverWords();
  const { t, locale, daysLate } = words;
  const code = decodeURIComponent((await params).code);
  const db = database();
  const today = homeToday(db);
  const order = loadOrder(db, code);
  if (!order) notFound();
  const zone = homeZone(db);
  const held = loadFaults(db, { orderCode: code });
  const log = loadLog(db, 50, `order ${code}`);
  const isProposed = mayStep(order.state, "approve");
  const beyond = isProposed
    ? approvalProblem({ code, cost: orderCost(order) }, visitor.role as ApprovingRole, loadApprovalLimits(db))
    : undefined;
  const mayBook = visitor.role === "logistics" || visitor.role === "administrator";
  const mayReceive = mayStep(order.state, "receive") && mayBook;
  const isBehind = order.state !== "proposed" && order.state !== "approved";
  const open = order.state === "sent" || order.state === "partly received";
  return (
    <>
      <PageHead
        crumbs={[
          { label: t("Stock"), href: "/stock" },
          { label: t("Orders"), href: "/stock?tab=orders" },
        ]}
        title={order.code}
        marks={<OrderStateMark state={order.state} boxed />}
        lead={orderLead(order, formatInstant(order.createdAt, zone, locale), t)}
        actions={
          <>
            <DownloadButton href={`${orderPath(code)}/pdf`}>{t("Download PDF")}</DownloadButton>
            <DownloadButton href={`${orderPath(code)}/csv`}>{t("Download CSV")}</DownloadButton>
          </>
        }
      />
      {order.note ? <p className="py-2">{order.note}</p> : null}
      <div className="grid grid-cols-1 gap-4">
        <OrderSteps
          order={order}
          steps={{
            approve: isProposed && isNamed(order.supplier) && !beyond && visitor.regions === null,
            send: mayStep(order.state, "send"),
            close: mayStep(order.state, "close"),
            change: order.state === "proposed" || order.state === "approved",
            postpone: mayStep(order.state, "receive"),
          }}
          waits={
            isProposed && !isNamed(order.supplier)
              ? t("Name the supplier first, with Change; then it can be approved.")
              : beyond
                ? problemWords(beyond, words)
                : isProposed && visitor.regions !== null
                  ? t("Waits for approval by an account that is not limited to regions.")
                  : undefined
          }
        />
        <Panel title={t("{{count}} lines", { count: order.lines.length })} flush>
          <ScrollRegion label={t("Lines of the order")}>
            <table className="ui-facts ui-facts-stack">
              <thead>
                <tr>
                  <th scope="col">{t("Line")}</th>
                  <th scope="col">{t("Item")}</th>
                  <th scope="col" data-align="end">
                    {t("Ordered")}
                  </th>
                  <th scope="col" data-align="end">
                    {t("Received")}
                  </th>
                  <th scope="col" data-align="end">
                    {t("Still to come")}
                  </th>
                  <th scope="col">{t("Due")}</th>
                  <th scope="col" data-align="end">
                    {t("Price")}
                  </th>
                  <th scope="col" data-align="end">
                    {t("Cost")}
                  </th>
                </tr>
              </thead>
              <tbody>
                {order.lines.map((l) => (
                  <tr key={l.lineNo}>
                    <th scope="row" data-label={t("Line")}>
                      {l.lineNo}
                    </th>
                    <td data-label={t("Item")}>
                      <Link href={itemPath(l.itemCode)}>{l.itemCode}</Link> <small>{l.name}</small>
                    </td>
                    <td data-label={t("Ordered")} data-align="end">
                      {amountC(l.quantityC, l.unit, words)}
                    </td>
                    <td data-label={t("Received")} data-align="end">
                      {amountC(l.receivedC, l.unit, words)}
                    </td>
                    <td data-label={t("Still to come")} data-align="end">
                      {l.receivedC > l.quantityC
                        ? t("{{received}} over", {
                            received: amountC(l.receivedC - l.quantityC, l.unit, words),
                          })
                        : order.state === "closed"
                          ? l.receivedC < l.quantityC
                            ? t("{{quantity}} not delivered", {
                                quantity: amountC(l.quantityC - l.receivedC, l.unit, words),
                              })
                            : "–"
                          : amountC(l.quantityC - l.receivedC, l.unit, words)}
                    </td>
                    <td data-label={t("Due")}>
                      {formatDate(l.dueOn, "weekday", locale)}{" "}
                      {l.promisedOn && l.promisedOn !== l.dueOn ? (
                        <small>
                          {t("promised for {{promised}}", {
                            promised: formatDate(l.promisedOn, "day", locale),
                          })}{" "}
                        </small>
                      ) : null}
                      {open && l.receivedC < l.quantityC && l.dueOn < today ? (
                        <StateMark state="late">{daysLate(daysBetween(l.dueOn, today))}</StateMark>
                      ) : null}
                    </td>
                    <td data-label={t("Price")} data-align="end">
                      {order.kind === "purchase" ? (
                        <>
                          {formatMoney(l.priceMinor, l.currency, locale)}
                          {l.isPriceAgreed ? "" : <small> {t("catalogue")}</small>}
                        </>
                      ) : (
                        "–"
                      )}
                    </td>
                    <td data-label={t("Cost")} data-align="end">
                      {order.kind === "purchase"
                        ? formatMoney(costOf(l), l.currency, locale)
                        : t("customer's")}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        </Panel>
        {order.kind === "purchase" ? (
          <p>
            {t("In all")}{" "}
            <strong>
              {moneyWords(
                order.lines.map((l) => ({ minor: costOf(l), currency: l.currency })),
                words,
              )}
            </strong>{" "}
            {order.lines.every((l) => l.isPriceAgreed)
              ? t("at the prices of the order.")
              : t("with catalogue prices where none is agreed.")}
          </p>
        ) : null}
        {mayReceive ? (
          <ReceiveForm
            order={order}
            warehouses={loadPlaces(db)
              .filter((p) => p.kind === "warehouse")
              .map(({ code, name }) => ({ code, name }))}
            today={today}
          />
        ) : null}
        {isBehind && mayBook ? (
          <p className="ui-no-print">
            <LinkButton href={`${orderPath(code)}/other`}>{t("Something else came")}</LinkButton>
          </p>
        ) : null}
        {held.length > 0 ? (
          <Panel
            title={t("On hold at receipt")}
            note={t("Counted as received; for no kit, cut or netting until decided.")}
            flush
          >
            <FaultTable label={t("On hold at receipt")} rows={held} today={today} />
          </Panel>
        ) : null}
        <Panel title={t("Who did what")} flush>
          {log.length === 0 ? (
            <p className="px-4 py-3">{t("Nothing logged yet: it came with the opening data.")}</p>
          ) : (
            <ScrollRegion label={t("Log of the order")}>
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">{t("When")}</th>
                    <th scope="col">{t("What")}</th>
                    <th scope="col">{t("Who")}</th>
                  </tr>
                </thead>
                <tbody>
                  {log.map((e) => (
                    <tr key={e.id}>
                      <th scope="row">{formatInstant(e.at, zone, locale)}</th>
                      <td>
                        {e.action === "order brought in by a file" && filesOf(e.detail)
                          ? t("order brought in by the file {{file}}", { file: filesOf(e.detail)! })
                          : keptText(e.action, LOG_ACTIONS, words)}
                        {e.action === "order received" ? (
                          <small> {receivedWords(e.detail, order.lines, words)}</small>
                        ) : null}
                        {filesOf(e.detail) && e.action !== "order brought in by a file" ? (
                          <small> {t("by the file {{file}}", { file: filesOf(e.detail)! })}</small>
                        ) : null}
                      </td>
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

/** What came, line by line: "4 pieces ODU-1; 2 rolls TAPE"; where it came elsewhere than ordered, and why more was taken in. */
function receivedWords(detail: unknown, lines: readonly OrderLineView[], { amount, t }: Words): string {
  const {
    lines: came = [],
    warehouse,
    overReason,
  } = (detail ?? {}) as {
    lines?: readonly { lineNo: number; quantity: number }[];
    warehouse?: string;
    overReason?: string;
  };
  const what = came
    .map(({ lineNo, quantity }) => {
      const line = lines.find((l) => l.lineNo === lineNo);
      return line ? `${amount(quantity, line.unit)} ${line.itemCode}` : "";
    })
    .filter(Boolean)
    .join("; ");
  return [
    warehouse ? t("{{what}}, to {{place}}", { what, place: warehouse }) : what,
    ...(overReason ? [t("surplus: {{reason}}", { reason: overReason })] : []),
  ].join("; ");
}
