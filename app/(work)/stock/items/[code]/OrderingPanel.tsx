import { formatAmount, formatMoney, formatShare } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { StoredOrdering } from "@/db/queries/catalogue";
import type { LotComparison } from "@/db/queries/stockViews";
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
export function OrderingPanel(props: OrderingPanelProps) {
  const { code, unit, currency, ordering, comparison, standard, mayEdit } = props;
  const money = (minor: number) => formatMoney(Math.round(minor), currency);
  const least = comparison && Math.min(...comparison.rules.map((r) => r.total));
  const orderCost = ordering.orderCostMinor ?? standard.orderCostMinor;
  const share = ordering.holdingSharePerYear ?? standard.holdingSharePerYear;
  return (
    <Panel
      title="How much to order at a time"
      id="ordering"
      note={`By ${lotRuleWords(ordering.lotRule)}; multiples of ${formatAmount(ordering.orderMultiple, unit)}, at least ${formatAmount(ordering.minimumOrder, unit)}. Placing an order costs ${money(orderCost)}${ordering.orderCostMinor === null ? " by the rules" : ""}, a year on the shelf ${formatShare(share)} of the price${ordering.holdingSharePerYear === null ? " by the rules" : ""}.`}
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
          ? `Each rule put to what is short to the end of the plan, ${formatAmount(comparison.need, unit)} in all, shelf by shelf. What is left at the end has no value in this reckoning. Lot for lot knows no multiples: a supplier may not sell so little.`
          : undefined
      }
      flush
    >
      {comparison ? (
        <ScrollRegion label="Lot rules side by side">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">Rule</th>
                <th scope="col" data-align="end">
                  Orders
                </th>
                <th scope="col" data-align="end">
                  Largest
                </th>
                <th scope="col" data-align="end">
                  Left over
                </th>
                <th scope="col" data-align="end">
                  Placing orders
                </th>
                <th scope="col" data-align="end">
                  Holding
                </th>
                <th scope="col" data-align="end">
                  Buying
                </th>
                <th scope="col" data-align="end">
                  In all
                </th>
                <th scope="col" data-align="end">
                  Over the least
                </th>
              </tr>
            </thead>
            <tbody>
              {comparison.rules.map((r) => (
                <tr key={r.kind}>
                  <th scope="row" data-label="Rule">
                    {lotRuleWords(r.kind)}{" "}
                    {r.kind === ordering.lotRule ? <StateMark state="met">in use</StateMark> : null}
                  </th>
                  <td data-label="Orders" data-align="end">
                    {r.orders}
                  </td>
                  <td data-label="Largest" data-align="end">
                    {formatAmount(r.largest, unit)}
                  </td>
                  <td data-label="Left over" data-align="end">
                    {formatAmount(r.left, unit)}
                  </td>
                  <td data-label="Placing orders" data-align="end">
                    {money(r.orderCost)}
                  </td>
                  <td data-label="Holding" data-align="end">
                    {money(r.holdingCost)}
                  </td>
                  <td data-label="Buying" data-align="end">
                    {money(r.purchaseCost)}
                  </td>
                  <td data-label="In all" data-align="end">
                    <strong>{money(r.total)}</strong>
                  </td>
                  <td data-label="Over the least" data-align="end">
                    {r.total - least! < 0.5 ? "least" : money(r.total - least!)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : (
        <p className="px-4 py-3">
          Nothing has to be bought for the plan in force, so there is nothing to compare.
        </p>
      )}
    </Panel>
  );
}
