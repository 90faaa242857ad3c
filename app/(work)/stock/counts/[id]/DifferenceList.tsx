import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatMoney } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { CountDifference } from "@/db/queries/countViews";
import { amountC, itemPath, moneyWords } from "../../words";

/** What was counted against the ledger, what differs first. */
export async function DifferenceList({ rows }: { rows: readonly CountDifference[] }) {
  const words = await serverWords();
  const { t } = words;
  const differing = rows.filter((r) => r.differenceC !== 0);
  const same = rows.filter((r) => r.differenceC === 0);
  return (
    <Panel
      title={
        differing.length === 0
          ? t("Everything is as the ledger has it")
          : t("{{count}} lines differ", { count: differing.length })
      }
      note={
        differing.length === 0
          ? undefined
          : t("{{money}} at catalogue prices, more counted than booked as plus.", {
              money: moneyWords(
                differing.map((r) => ({ minor: r.valueMinor, currency: r.currency })),
                words,
              ),
            })
      }
      flush
    >
      {differing.length > 0 ? <Rows label={t("Lines that differ")} rows={differing} /> : null}
      {same.length > 0 ? (
        <div className="px-4 py-2">
          <Disclosure
            summary={t("{{count}} lines as booked", { count: same.length })}
            open={differing.length === 0}
          >
            <Rows label={t("Lines as booked")} rows={same} />
          </Disclosure>
        </div>
      ) : null}
    </Panel>
  );
}

async function Rows({ label, rows }: { label: string; rows: readonly CountDifference[] }) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Item")}</th>
            <th scope="col">{t("Lot or drum")}</th>
            <th scope="col" data-align="end">
              {t("Counted")}
            </th>
            <th scope="col" data-align="end">
              {t("In the ledger")}
            </th>
            <th scope="col" data-align="end">
              {t("Difference")}
            </th>
            <th scope="col" data-align="end">
              {t("Worth")}
            </th>
            <th scope="col">{t("Counted by")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.lineNo}>
              <th scope="row" data-label={t("Item")}>
                <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
              </th>
              <td data-label={t("Lot or drum")}>{r.lotCode || r.drumSerial || "–"}</td>
              <td data-label={t("Counted")} data-align="end">
                {amountC(r.countedC ?? 0, r.unit, words)}
              </td>
              <td data-label={t("In the ledger")} data-align="end">
                {amountC(r.bookC, r.unit, words)}
              </td>
              <td data-label={t("Difference")} data-align="end">
                {r.differenceC === 0 ? (
                  <StateMark state="met">{t("none")}</StateMark>
                ) : (
                  <StateMark state={r.differenceC < 0 ? "short" : "warn"}>
                    {r.differenceC > 0 ? "+" : ""}
                    {amountC(r.differenceC, r.unit, words)}
                  </StateMark>
                )}
              </td>
              <td data-label={t("Worth")} data-align="end">
                {formatMoney(r.valueMinor, r.currency, locale)}
              </td>
              <td data-label={t("Counted by")}>{r.countedByName}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
