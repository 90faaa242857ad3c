import type { ReactNode } from "react";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Tag } from "@/app/_ui/StateMark";
import type { SessionRow } from "./sessionWords";

/** Where somebody is signed in. `actionOf` puts what can be done at the end of a row. */
export function SessionTable({
  rows,
  actionOf,
}: {
  rows: readonly SessionRow[];
  actionOf?: (row: SessionRow) => ReactNode;
}) {
  return (
    <ScrollRegion label="Sessions" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Device</th>
            <th scope="col">Signed in</th>
            <th scope="col">Last renewed</th>
            <th scope="col">From</th>
            {actionOf ? (
              <th scope="col">
                <span className="sr-only">End</span>
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id}>
              <th scope="row" data-label="Device">
                <div>
                  {row.device} {row.isThis ? <Tag>This one</Tag> : null}
                  <span className="text-quiet block font-normal [overflow-wrap:anywhere]">{row.browser}</span>
                </div>
              </th>
              <td data-label="Signed in">{row.startedAt}</td>
              <td data-label="Last renewed">{row.renewedAt}</td>
              <td data-label="From">{row.address}</td>
              {actionOf ? <td>{actionOf(row)}</td> : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
