import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatNumber, formatShare } from "@/app/_ui/format";
import { sayKept } from "@/app/_ui/language/kept";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { PlanHead } from "@/db/queries/plans";
import { costLinesOf, SETTLED } from "@/lib/programme";
import type { PlanWeights } from "@/lib/schedule";

/** What the plan costs in a manager's units, and how far a better plan could go at most. */
export async function CostTable({
  plan,
  weights,
  isMovedByHand,
  settledHow,
}: {
  plan: PlanHead;
  weights: PlanWeights;
  /** Its cost is then of another day's data than the bound of its search. */
  isMovedByHand: boolean;
  settledHow?: string;
}) {
  const words = await serverWords();
  const { t, locale } = words;
  const { cost } = plan;
  return (
    <Panel
      title={t("What it costs")}
      note={t("Most important first: a line outweighs any usual amount of those below it.")}
      flush
    >
      <ScrollRegion label={t("What the plan costs")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("Term")}</th>
              <th scope="col" data-align="end">
                {t("Amount")}
              </th>
              <th scope="col">{t("Unit")}</th>
            </tr>
          </thead>
          <tbody>
            {costLinesOf(plan.state).map((line) => (
              <tr key={line.key}>
                <th scope="row">{t(line.label)}</th>
                <td data-align="end">{formatNumber(line.value(cost), line.unit === "h" ? 1 : 0, locale)}</td>
                <td>{t(line.unit)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <div className="grid gap-2 px-4 py-3">
        <p>
          {isMovedByHand
            ? t(
                "Priced when a visit was last moved by hand, with the data of that moment. Compare prices both plans from today on with the data as they are now.",
              )
            : t(
                "Priced when the plan was made, with the data of that moment. Compare prices both plans from today on with the data as they are now.",
              )}
        </p>
        {isMovedByHand ? (
          <p>
            {t(
              "No bound: visits were moved by hand since the search, and the plan was priced anew with the data of that day.",
            )}
          </p>
        ) : (
          <Bound plan={plan} weights={weights} />
        )}
        {settledHow ? (
          <p>{t("Plan, stock and drums: {{how}}.", { how: sayKept(settledHow, SETTLED, words) })}</p>
        ) : null}
      </div>
    </Panel>
  );
}

async function Bound({ plan, weights }: { plan: PlanHead; weights: PlanWeights }) {
  const { t, locale } = await serverWords();
  const { cost, lowerBound } = plan;
  // A visit that no plan can place weighs as much as all others together: seen beside it every gap looks small.
  const fixed = cost.unplacedVisits * weights.unplacedVisit;
  const rest = cost.total - fixed;
  const bound = lowerBound - fixed;
  return (
    <>
      <p>
        {bound > 0 && rest > 0
          ? t("By the bound, a better plan could save at most {{share}} of what the placed work costs.", {
              share: formatShare((rest - bound) / rest, 1, locale),
            })
          : t("The bound says nothing useful here: visits are missing that it takes for placed.")}
      </p>
      <Disclosure summary={t("What the bound covers")}>
        <p>
          {t("Weighted sum {{sum}}; no plan for the same data comes under {{bound}}.", {
            sum: formatNumber(cost.total, 0, locale),
            bound: formatNumber(lowerBound, 0, locale),
          })}
          {cost.unplacedVisits > 0
            ? ` ${t("{{part}} of both stand for the {{visits}} visits without a place.", {
                part: formatNumber(fixed, 0, locale),
                visits: cost.unplacedVisits,
              })}`
            : ""}
        </p>
        <p>
          {t(
            "The bound lets every visit have its best day and its best crew as if it were alone, and lets crew days be filled without a gap. It does not see crews waiting for each other, for a site or for a kit. So the real room for improvement is smaller than the figure above, by how much nobody knows.",
          )}
        </p>
      </Disclosure>
    </>
  );
}
