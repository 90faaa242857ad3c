import type { ReactNode } from "react";
import { formatDate } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { Gate } from "@/lib/site";

export const gateKey = (g: Gate): string => `${g.hopId} ${g.side ?? "both"} ${g.kind}`;

/** Gates with owner, state and date. `change` draws what stands at the end of a row. */
export function GateTable({ gates, change }: { gates: readonly Gate[]; change?: (gate: Gate) => ReactNode }) {
  if (gates.length === 0) return <p className="px-4 py-3">No gate holds it.</p>;
  const order = ["open", "dated", "met"];
  const sorted = [...gates].sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state));
  return (
    <ScrollRegion label="Gates" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Gate</th>
            <th scope="col">Holds</th>
            <th scope="col">State</th>
            <th scope="col">Date</th>
            <th scope="col">Owner</th>
            {change ? (
              <th scope="col">
                <span className="sr-only">Change</span>
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {sorted.map((g) => (
            <tr key={gateKey(g)}>
              <th data-label="Gate" scope="row">
                {g.kind}
              </th>
              <td data-label="Holds">{g.side ? `${g.side} end` : "both ends"}</td>
              <td data-label="State">
                <StateMark state={g.state}>
                  {g.state === "open" ? "Open, no date" : g.state === "dated" ? "Expected" : "Met"}
                </StateMark>
              </td>
              <td data-label="Date">{formatDate(g.dueOn)}</td>
              <td data-label="Owner">{g.owner}</td>
              {change ? <td data-label="Change">{change(g)}</td> : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
