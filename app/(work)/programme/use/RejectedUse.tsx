import { formatInstant, formatShare } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { StoredRejection } from "@/db/queries/actuals";

export interface RejectedUseProps {
  rows: readonly StoredRejection[];
  zone: string;
  nameOf: (ruleId: string) => string;
}

/** Who turned which allowance down and why, newest first. */
export function RejectedUse({ rows, zone, nameOf }: RejectedUseProps) {
  return (
    <ScrollRegion label="Rejected allowances" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Row</th>
            <th scope="col">Proposed then</th>
            <th scope="col">Ends then</th>
            <th scope="col">Who</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.id}>
              <th scope="row" data-label="When">
                {formatInstant(r.rejectedAt, zone)}
              </th>
              <td data-label="Row">{nameOf(r.proposalId.replace(/^use: /, ""))}</td>
              <td data-label="Proposed then">{formatShare(r.proposed - 1, 1)}</td>
              <td data-label="Ends then">{r.actuals}</td>
              <td data-label="Who">{r.rejectedBy}</td>
              <td data-label="Why">{r.reason}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
