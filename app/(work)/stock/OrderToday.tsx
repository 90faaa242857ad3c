import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatDate, formatMoney } from "@/app/_ui/format";
import { LongTable } from "@/app/_ui/LongTable";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { StateMark } from "@/app/_ui/StateMark";
import type { GatheredOrder } from "@/db/queries/ordersToPlace";
import type { CalendarDate } from "@/lib/time";
import { neededDay } from "./neededDay";
import { ProposeButton } from "./ProposeButton";
import { supplierWords } from "./supplierWords";
import { itemPath, moneyWords } from "./words";

/** What to order today: ours by purchase, the customer's by call-off; then what comes up. */
export async function OrderToday({
  rows,
  today,
  waiting,
}: {
  rows: readonly GatheredOrder[];
  today: CalendarDate;
  /** Orders that are proposed and wait for approval. */
  waiting: number;
}) {
  const words = await serverWords();
  const { t, locale, amount } = words;
  const due = rows.filter((r) => r.isDue);
  const later = rows.filter((r) => !r.isDue);
  const groups = [
    { kind: "purchase", title: t("Buy"), label: t("To buy today"), note: t("Our own material: a purchase.") },
    {
      kind: "call-off",
      title: t("Call off"),
      label: t("To call off today"),
      note: t("The customer's material: asked for, not bought."),
    },
  ] as const;
  return (
    <div className="grid grid-cols-1 gap-4">
      {waiting > 0 ? (
        <Notice
          kind="warn"
          title={t("{{count}} orders wait for approval", { count: waiting })}
          action={<LinkButton href="/stock?tab=orders">{t("Orders")}</LinkButton>}
        >
          {t("What is on them is not listed here again. It is on the way only once it is approved and sent.")}
        </Notice>
      ) : null}
      {due.length === 0 ? (
        <Notice
          kind="good"
          title={t("Nothing has to be ordered today")}
          action={<LinkButton href="/stock?tab=orders">{t("Orders")}</LinkButton>}
        >
          {later[0]
            ? t("Next: {{item}} on {{release}}. What is proposed or approved already is not listed again.", {
                item: later[0].itemCode,
                release: formatDate(later[0].releaseOn, "weekday", locale),
              })
            : t("Stock, orders on the way and proposed orders cover the plan.")}
        </Notice>
      ) : null}
      {rows.length > 0 ? (
        <div className="ui-toolbar ui-no-print">
          <ProposeButton
            lines={rows.map((r) => ({
              itemCode: r.itemCode,
              placeCode: r.placeCode,
              isDue: r.isDue,
              words: t("{{item}} {{name}}: {{quantity}} for {{place}}, needed on {{day}}", {
                item: r.itemCode,
                name: r.name,
                quantity: amount(r.quantity, r.unit),
                place: r.placeCode,
                day: formatDate(neededDay(r), "weekday", locale),
              }),
            }))}
          />
        </div>
      ) : null}
      {groups.map((g) => {
        const list = due.filter((r) => r.kind === g.kind);
        return list.length === 0 ? null : (
          <Panel
            key={g.kind}
            title={`${g.title}: ${t("{{count}} lines", { count: list.length })}`}
            note={
              g.kind === "purchase"
                ? t("{{note}} {{money}} at catalogue prices.", {
                    note: g.note,
                    money: moneyWords(
                      list.map((r) => ({ minor: r.costMinor, currency: r.currency })),
                      words,
                    ),
                  })
                : g.note
            }
            flush
          >
            <OrderRows label={g.label} rows={list} today={today} />
          </Panel>
        );
      })}
      {later.length > 0 ? (
        <Panel title={t("Comes up later")}>
          <Disclosure summary={t("{{count}} lines", { count: later.length })} open={due.length === 0}>
            <OrderRows label={t("To order later")} rows={later} today={today} />
          </Disclosure>
        </Panel>
      ) : null}
    </div>
  );
}

async function OrderRows({
  label,
  rows,
  today,
}: {
  label: string;
  rows: readonly GatheredOrder[];
  today: CalendarDate;
}) {
  const { t, locale, amount } = await serverWords();
  return (
    <LongTable
      label={label}
      head={
        <tr>
          <th scope="col">{t("Item")}</th>
          <th scope="col" data-align="end">
            {t("Quantity")}
          </th>
          <th scope="col">{t("Send by")}</th>
          <th scope="col">{t("Needed on")}</th>
          <th scope="col">{t("Comes on")}</th>
          <th scope="col">{t("In time?")}</th>
          <th scope="col" data-align="end">
            {t("Cost")}
          </th>
          <th scope="col">{t("Supplier")}</th>
          <th scope="col">{t("To")}</th>
        </tr>
      }
      rows={rows.map((r) => ({
        key: `${r.itemCode} ${r.placeCode} ${r.neededOn} ${r.releaseOn}`,
        text: `${r.itemCode} ${r.name} ${supplierWords(r.supplier, t)} ${r.placeCode}`,
        cells: (
          <>
            <th scope="row" data-label={t("Item")}>
              <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
              {r.spares > 0 ? (
                <small>
                  {" "}
                  <Link href="/stock/spares">{t("{{count}} spares kept", { count: r.spares })}</Link>
                </small>
              ) : null}
            </th>
            <td data-label={t("Quantity")} data-align="end">
              {amount(r.quantity, r.unit)}
              {r.unsent > 0 ? (
                <small className="block">
                  {t("besides {{quantity}} on orders not sent yet", { quantity: amount(r.unsent, r.unit) })}
                </small>
              ) : null}
              {r.parts.length > 1 ? (
                <details>
                  <summary className="text-quiet">
                    {t("needed on {{count}} days", { count: r.parts.length })}
                  </summary>
                  <ul>
                    {r.parts.map((part) => (
                      <li key={part.neededOn}>
                        {formatDate(neededDay(part), "weekday", locale)}: {amount(part.quantity, r.unit)}
                        {part.firstKitOn === undefined ? `, ${t("for the shelf")}` : null}
                      </li>
                    ))}
                  </ul>
                  {r.isDue ? null : (
                    <Link href={itemPath(r.itemCode)}>{t("How much to order at a time")}</Link>
                  )}
                </details>
              ) : null}
            </td>
            <td data-label={t("Send by")}>
              {r.releaseOn <= today ? t("today") : formatDate(r.releaseOn, "weekday", locale)}
            </td>
            <td data-label={t("Needed on")}>
              {formatDate(neededDay(r), "weekday", locale)}
              {r.firstKitOn !== undefined && r.neededOn < r.firstKitOn ? (
                <small className="block">
                  {t("by the shelf from {{day}}", { day: formatDate(r.neededOn, "weekday", locale) })}
                </small>
              ) : null}
            </td>
            <td data-label={t("Comes on")}>{formatDate(r.arrivesOn, "weekday", locale)}</td>
            <td data-label={t("In time?")}>
              {r.firstKitOn === undefined ? (
                t("for the shelf: no visit waits")
              ) : r.pastDueDays > 0 ? (
                <StateMark state="late">{t("{{count}} days past due", { count: r.pastDueDays })}</StateMark>
              ) : (
                <StateMark state="met">{t("In time")}</StateMark>
              )}
            </td>
            <td data-label={t("Cost")} data-align="end">
              {r.kind === "purchase" ? formatMoney(r.costMinor, r.currency, locale) : t("customer's")}
            </td>
            <td data-label={t("Supplier")}>{supplierWords(r.supplier, t)}</td>
            <td data-label={t("To")} className="whitespace-nowrap">
              {r.placeCode}
            </td>
          </>
        ),
      }))}
    />
  );
}
