import { serverWords } from "@/app/_server/language";
import { formatMoney, formatShare } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { StoredOrdering } from "@/db/queries/catalogue";
import type { LotComparison } from "@/db/queries/itemWhatIf";
import { lotRuleWords } from "./lotRuleWords";
import { OrderingDialog } from "./OrderingDialog";

export interface OrderingPanelProps {
  code: string;
  unit: string;
  currency: string;
  ordering: StoredOrdering;
  /** Absent when nothing has to be bought. */
  comparison?: LotComparison;
  /** Figures of the rules, used where the item has none. */
  standard: { orderCostMinor: number; holdingSharePerYear: number };
  mayEdit: boolean;
}

/** How much is ordered at a time, and what each rule would cost for the item's real needs. */
export async function OrderingPanel(props: OrderingPanelProps) {
  const words = await serverWords();
  const { t, locale, amount } = words;
  const { code, unit, currency, ordering, comparison, standard, mayEdit } = props;
  const money = (minor: number) => formatMoney(Math.round(minor), currency, locale);
  const least = comparison && Math.min(...comparison.rules.map((r) => r.total));
  const orderCost = ordering.orderCostMinor ?? standard.orderCostMinor;
  const share = ordering.holdingSharePerYear ?? standard.holdingSharePerYear;
  return (
    <Panel
      title={t("How much to order at a time")}
      id="ordering"
      note={`${t("By {{lotRule}}; multiples of {{orderMultiple}}, at least {{minimumOrder}}.", { lotRule: lotRuleWords(ordering.lotRule, words), orderMultiple: amount(ordering.orderMultiple, unit), minimumOrder: amount(ordering.minimumOrder, unit) })} ${ordering.orderCostMinor === null ? t("Placing an order costs {{money}} by the rules,", { money: money(orderCost) }) : t("Placing an order costs {{money}},", { money: money(orderCost) })} ${ordering.holdingSharePerYear === null ? t("a year on the shelf {{share}} of the price by the rules.", { share: formatShare(share, 0, locale) }) : t("a year on the shelf {{share}} of the price.", { share: formatShare(share, 0, locale) })}`}
      actions={
        mayEdit ? (
          <OrderingDialog
            code={code}
            unit={unit}
            currency={currency}
            ordering={{ ...ordering, priceBreaks: [...ordering.priceBreaks] }}
          />
        ) : undefined
      }
      foot={
        comparison
          ? t(
              "Each rule put to what is short to the end of the plan, {{need}} in all, shelf by shelf. What is left at the end has no value in this reckoning. Lot for lot knows no multiples: a supplier may not sell so little.",
              { need: amount(comparison.need, unit) },
            )
          : undefined
      }
      flush
    >
      {comparison ? (
        <ScrollRegion label={t("Lot rules side by side")}>
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">{t("Rule")}</th>
                <th scope="col" data-align="end">
                  {t("Orders")}
                </th>
                <th scope="col" data-align="end">
                  {t("Largest")}
                </th>
                <th scope="col" data-align="end">
                  {t("Left over")}
                </th>
                <th scope="col" data-align="end">
                  {t("Placing orders")}
                </th>
                <th scope="col" data-align="end">
                  {t("Holding")}
                </th>
                <th scope="col" data-align="end">
                  {t("Buying")}
                </th>
                <th scope="col" data-align="end">
                  {t("In all")}
                </th>
                <th scope="col" data-align="end">
                  {t("Over the least")}
                </th>
              </tr>
            </thead>
            <tbody>
              {comparison.rules.map((r) => (
                <tr key={r.kind}>
                  <th scope="row" data-label={t("Rule")}>
                    {lotRuleWords(r.kind, words)}{" "}
                    {r.kind === ordering.lotRule ? <StateMark state="met">{t("in use")}</StateMark> : null}
                  </th>
                  <td data-label={t("Orders")} data-align="end">
                    {r.orders}
                  </td>
                  <td data-label={t("Largest")} data-align="end">
                    {amount(r.largest, unit)}
                  </td>
                  <td data-label={t("Left over")} data-align="end">
                    {amount(r.left, unit)}
                  </td>
                  <td data-label={t("Placing orders")} data-align="end">
                    {money(r.orderCost)}
                  </td>
                  <td data-label={t("Holding")} data-align="end">
                    {money(r.holdingCost)}
                  </td>
                  <td data-label={t("Buying")} data-align="end">
                    {money(r.purchaseCost)}
                  </td>
                  <td data-label={t("In all")} data-align="end">
                    <strong>{money(r.total)}</strong>
                  </td>
                  <td data-label={t("Over the least")} data-align="end">
                    {r.total - least! < 0.5 ? t("least") : money(r.total - least!)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : (
        <p className="px-4 py-3">
          {t("Nothing has to be bought for the plan in force, so there is nothing to compare.")}
        </p>
      )}
    </Panel>
  );
}
