import { Disclosure } from "@/app/_ui/Disclosure";
import { formatNumber, formatShare } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { PlanHead } from "@/db/queries/plans";
import { COST_LINES } from "@/lib/programme";
import type { PlanWeights } from "@/lib/schedule";

/** What the plan costs in a manager's units, and how far a better plan could go at most. */
export function CostTable({
  plan,
  weights,
  settledHow,
}: {
  plan: PlanHead;
  weights: PlanWeights;
  settledHow?: string;
}) {
  const { cost, lowerBound } = plan;
  // A visit that no plan can place weighs as much as all others together: seen beside it every gap looks small.
  const fixed = cost.unplacedVisits * weights.unplacedVisit;
  const rest = cost.total - fixed;
  const bound = lowerBound - fixed;
  const isKnown = bound > 0 && rest > 0;
  return (
    <Panel
      title="What it costs"
      note="Most important first: a line outweighs any usual amount of those below it."
      flush
    >
      <ScrollRegion label="What the plan costs">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Term</th>
              <th scope="col" data-align="end">
                Amount
              </th>
              <th scope="col">Unit</th>
            </tr>
          </thead>
          <tbody>
            {COST_LINES.map((line) => (
              <tr key={line.key}>
                <th scope="row">{line.label}</th>
                <td data-align="end">{formatNumber(line.value(cost), line.unit === "h" ? 1 : 0)}</td>
                <td>{line.unit}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <div className="grid gap-2 px-4 py-3">
        <p>
          {isKnown
            ? `By the bound, a better plan could save at most ${formatShare((rest - bound) / rest, 1)} of what the placed work costs.`
            : "The bound says nothing useful here: visits are missing that it takes for placed."}
        </p>
        <Disclosure summary="What the bound covers">
          <p>
            Weighted sum {formatNumber(cost.total)}; no plan for the same data comes under{" "}
            {formatNumber(lowerBound)}.
            {cost.unplacedVisits > 0
              ? ` ${formatNumber(fixed)} of both stand for the ${formatNumber(cost.unplacedVisits)} visits without a place.`
              : ""}
          </p>
          <p>
            The bound lets every visit have its best day and its best crew as if it were alone, and lets crew
            days be filled without a gap. It does not see crews waiting for each other, for a site or for a
            kit. So the real room for improvement is smaller than the figure above, by how much nobody knows.
          </p>
          {settledHow ? <p>Plan and drums: {settledHow}.</p> : null}
        </Disclosure>
      </div>
    </Panel>
  );
}
