import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatNumber, formatShare } from "@/app/_ui/format";
import { LongTable } from "@/app/_ui/LongTable";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { OrderLineDue } from "@/db/queries/itemWhatIf";
import type { OrderView } from "@/db/queries/orderViews";
import type { SupplierRow } from "@/db/queries/suppliers";
import { costOf } from "@/lib/stock";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { OrderStateMark } from "./OrderStateMark";
import { SlipQuestion } from "./SlipQuestion";
import { isNamed, supplierWords } from "./supplierWords";
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
export const TITLES: Record<(typeof STATES)[number], string> = {
  proposed: "Proposed: wait for approval",
  approved: "Approved: to be sent",
  sent: "Sent: on the way",
  "partly received": "Partly received",
  closed: "Closed",
};

/** All orders, by what has to be done with them next. */
export async function OrdersTab({ orders, lines, suppliers, today, slip, days }: OrdersTabProps) {
  const words = await serverWords();
  const { t, locale, daysLate } = words;
  if (orders.length === 0) {
    return (
      <EmptyState title={t("No orders yet")}>
        {t("Propose orders from what is due in")} <Link href="/stock?tab=order">{t("Order today")}</Link>
        {t(", or bring in orders on the way.")}
      </EmptyState>
    );
  }
  return (
    <div className="grid grid-cols-1 gap-4">
      {STATES.map((state) => {
        const list = orders.filter((o) => o.state === state);
        return list.length === 0 ? null : (
          <Panel key={state} title={`${t(TITLES[state])} (${list.length})`} flush>
            <LongTable
              label={t(TITLES[state])}
              head={
                <tr>
                  <th scope="col">{t("Order")}</th>
                  <th scope="col">{t("State")}</th>
                  <th scope="col">{t("Supplier")}</th>
                  <th scope="col">{t("To")}</th>
                  <th scope="col">{t("Items")}</th>
                  <th scope="col">{t("Due")}</th>
                  <th scope="col" data-align="end">
                    {t("Value")}
                  </th>
                </tr>
              }
              rows={[...list]
                .sort((a, b) => dueOf(a).localeCompare(dueOf(b)))
                .map((o) => ({
                  key: o.code,
                  text: [
                    o.code,
                    supplierWords(o.supplier, t),
                    o.placeCode,
                    o.note,
                    ...o.lines.map((l) => `${l.itemCode} ${l.name}`),
                  ].join(" "),
                  cells: (
                    <>
                      <th scope="row" data-label={t("Order")}>
                        <Link href={orderPath(o.code)}>{o.code}</Link>
                      </th>
                      <td data-label={t("State")}>
                        <OrderStateMark state={o.state} />
                        {o.state === "proposed" && !isNamed(o.supplier) ? (
                          <small className="block">{t("name the supplier first")}</small>
                        ) : null}
                      </td>
                      <td data-label={t("Supplier")}>{supplierWords(o.supplier, t)}</td>
                      <td data-label={t("To")} className="whitespace-nowrap">
                        {o.placeCode}
                      </td>
                      <td data-label={t("Items")}>
                        {o.lines[0]?.itemCode}
                        {o.lines.length > 1
                          ? ` ${t("and {{count}} more lines", { count: o.lines.length - 1 })}`
                          : ""}
                      </td>
                      <td data-label={t("Due")}>
                        {formatDate(dueOf(o) as CalendarDate, "weekday", locale)}{" "}
                        {state !== "closed" && dueOf(o) < today ? (
                          <StateMark state="late">
                            {daysLate(daysBetween(dueOf(o) as CalendarDate, today))}
                          </StateMark>
                        ) : null}
                        {o.note ? <small> {o.note}</small> : null}
                      </td>
                      <td data-label={t("Value")} data-align="end">
                        {o.kind === "call-off"
                          ? t("customer's")
                          : moneyWords(
                              o.lines.map((l) => ({ minor: costOf(l), currency: l.currency })),
                              words,
                            )}
                      </td>
                    </>
                  ),
                }))}
            />
          </Panel>
        );
      })}
      <Suppliers rows={suppliers} />
      <SlipQuestion lines={lines} initialKey={slip} initialDays={days} />
    </div>
  );
}

/** Promised against received, supplier by supplier; feeds the safety stock on the items' pages. */
async function Suppliers({ rows }: { rows: readonly SupplierRow[] }) {
  const { t, locale, daysLate } = await serverWords();
  return (
    <Panel
      title={t("How suppliers deliver")}
      note={t(
        "Complete lines against the day first promised. Mean and scatter of the lead time feed the safety stock of what comes from them.",
      )}
      flush
    >
      <ScrollRegion label={t("Suppliers")}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Supplier")}</th>
              <th scope="col" data-align="end">
                {t("Complete lines")}
              </th>
              <th scope="col">{t("Lead time, mean and scatter")}</th>
              <th scope="col">{t("Late")}</th>
              <th scope="col">{t("By how much")}</th>
              <th scope="col">{t("On the way")}</th>
              <th scope="col">{t("Dead on arrival")}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((s) => (
              <tr key={s.supplier}>
                <th scope="row" data-label={t("Supplier")}>
                  {s.supplier || t("not named")}
                </th>
                <td data-label={t("Complete lines")} data-align="end">
                  {Math.max(s.count, s.promised)}
                </td>
                <td data-label={t("Lead time")}>
                  {s.count === 0
                    ? t("not known yet")
                    : s.count > 1
                      ? t("{{meanDays}} days, ± {{sdDays}}", {
                          meanDays: formatNumber(s.meanDays, 1, locale),
                          sdDays: formatNumber(s.sdDays, 1, locale),
                        })
                      : t("{{meanDays}} days", { meanDays: formatNumber(s.meanDays, 1, locale) })}
                </td>
                <td data-label={t("Late")}>
                  {s.promised === 0
                    ? "–"
                    : t("{{lateShare}} of {{promised}}", {
                        lateShare: formatShare(s.lateShare, 0, locale),
                        promised: s.promised,
                      })}
                </td>
                <td data-label={t("By how much")}>
                  {s.lateShare > 0
                    ? t("{{meanDaysLate}} days on average", {
                        meanDaysLate: formatNumber(s.meanDaysLate, 1, locale),
                      })
                    : "–"}
                </td>
                <td data-label={t("On the way")}>
                  {t("{{count}} lines", { count: s.open })}
                  {s.overdue > 0 ? (
                    <>
                      {" "}
                      <StateMark state="late">
                        {t("{{overdue}} overdue, {{worstDays}} at most", {
                          overdue: s.overdue,
                          worstDays: daysLate(s.worstDays),
                        })}
                      </StateMark>
                    </>
                  ) : null}
                </td>
                <td data-label={t("Dead on arrival")}>
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
async function DeadOnArrival({ row: { dead, pieces, deadShare } }: { row: SupplierRow }) {
  const { t, locale } = await serverWords();
  if (deadShare.share === null)
    return dead === 0 ? "–" : t("{{count}} pieces, none received on an order yet", { count: dead });
  return (
    <>
      {dead === 0 ? t("none") : <Link href="/stock/faults">{t("{{count}} pieces", { count: dead })}</Link>}{" "}
      {t("of {{pieces}} ({{share}})", { pieces, share: formatShare(deadShare.share, 1, locale) })}
      <small>
        {" "}
        {t("four in five between {{low}} and {{high}}", {
          low: formatShare(deadShare.low, 1, locale),
          high: formatShare(deadShare.high, 1, locale),
        })}
      </small>
    </>
  );
}

/** The first day on which something of it is still to come; of a closed order its last. */
function dueOf(o: OrderView): string {
  const open = o.lines.filter((l) => l.receivedC < l.quantityC);
  return (open.length > 0 ? open : o.lines).map((l) => l.dueOn).sort()[0] ?? "";
}
