import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate, formatInstant } from "@/app/_ui/format";
import { English } from "@/app/_ui/language/English";
import { places, withParts } from "@/app/_ui/language/parts";
import { visitName } from "@/app/_ui/language/visitName";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { LedgerRow } from "@/db/queries/ledger";
import { bookedByWords, ledgerReasonWords } from "./ledgerWords";
import { TakeBackButton } from "./TakeBackButton";
import { amountC, faultPath, itemPath, kitPath, ledgerPath, orderPath } from "./words";

export interface LedgerRowsProps {
  rows: readonly LedgerRow[];
  /** Rows taken back, with the row that did it. */
  reversed: ReadonlyMap<number, number>;
  zone: string;
  mayPost: boolean;
}

export async function LedgerRows({ rows, reversed, zone, mayPost }: LedgerRowsProps) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={t("Ledger, newest first")}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col" data-align="end">
              {t("Row")}
            </th>
            <th scope="col">{t("What")}</th>
            <th scope="col">{t("Item")}</th>
            <th scope="col" data-align="end">
              {t("Quantity")}
            </th>
            <th scope="col">{t("From, to")}</th>
            <th scope="col">{t("Counts on")}</th>
            <th scope="col">{t("For")}</th>
            <th scope="col">{t("Why, who, when")}</th>
            <th scope="col">{t("Taken back")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => {
            const from = r.fromPlace ?? t("outside");
            const to = r.toPlace ?? t("outside");
            const by = reversed.get(r.id);
            // A report's row names its crew lead in the reason: once is enough.
            const isNamed = r.reason.endsWith(` by ${r.postedBy}`);
            return (
              <tr key={r.id} id={`row-${r.id}`}>
                <th scope="row" data-label={t("Row")} data-align="end">
                  {r.id}
                </th>
                <td data-label={t("What")}>
                  {t(r.kind)}
                  {r.correctsId ? (
                    <small> {t("of row {{correctsId}}", { correctsId: String(r.correctsId) })}</small>
                  ) : null}
                </td>
                <td data-label={t("Item")}>
                  <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link>
                  {r.drumSerial ? (
                    <>
                      {" "}
                      <Link href={ledgerPath({ drum: r.drumSerial })}>{r.drumSerial}</Link>
                    </>
                  ) : null}
                  {r.serial ? <small> {t("serial {{serial}}", { serial: r.serial })}</small> : null}
                  {r.lotCode ? <small> {t("lot {{lot}}", { lot: r.lotCode })}</small> : null}
                  {r.owner === "customer" ? <small> {t("customer's")}</small> : null}
                </td>
                <td data-label={t("Quantity")} data-align="end">
                  {amountC(r.quantityC, r.unit, words)}
                </td>
                <td data-label={t("From, to")}>
                  {withParts(t("{{from}} to {{to}}", places("from", "to")), {
                    from: <span className="whitespace-nowrap">{from}</span>,
                    to: <span className="whitespace-nowrap">{to}</span>,
                  })}
                </td>
                <td data-label={t("Counts on")}>{formatDate(r.effectiveOn, "full", locale)}</td>
                <td data-label={t("For")}>
                  {r.visitId ? <Link href={kitPath(r.visitId)}>{visitName(r.visitId, t)}</Link> : null}
                  {r.orderCode ? <Link href={orderPath(r.orderCode)}>{r.orderCode}</Link> : null}{" "}
                  {r.faultId ? (
                    <Link href={faultPath(r.faultId)}>
                      {t("fault {{faultId}}", { faultId: String(r.faultId) })}
                    </Link>
                  ) : null}
                </td>
                <td data-label={t("Why, who, when")}>
                  {ledgerReasonWords(r.reason, words) ?? <English>{r.reason}</English>}
                  {isNamed ? ", " : " "}
                  <small>
                    {isNamed ? "" : `${bookedByWords(r.postedBy, words)}, `}
                    {formatInstant(r.postedAt, zone, locale)}
                  </small>
                </td>
                <td data-label={t("Taken back")}>
                  {by ? (
                    <StateMark state="none">{t("by row {{by}}", { by: String(by) })}</StateMark>
                  ) : mayPost && r.kind !== "reversal" ? (
                    <TakeBackButton
                      id={r.id}
                      isOfCut={r.isOfCut}
                      what={t("{{kind}} of {{quantity}} {{item}}", {
                        kind: t(r.kind),
                        quantity: amountC(r.quantityC, r.unit, words),
                        item: r.itemCode,
                      })}
                    />
                  ) : null}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
