import type { Metadata } from "next";
import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { requireRoleInRegions } from "@/app/_server/session";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatInstant } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { database } from "@/db/open";
import { loadCounts } from "@/db/queries/counts";
import { loadPlaces } from "@/db/queries/stock";
import { STOCK_ROLES } from "../words";
import { CountStateMark } from "./CountStateMark";
import { StartCount } from "./StartCount";

export const metadata: Metadata = { title: "Counts" };

/** All counts, the newest first, and a new one. */
export default async function CountsPage() {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const db = database();
  const counts = loadCounts(db);
  const zone = homeZone(db);
  const open = new Set(
    counts.filter((c) => c.state === "counting" || c.state === "counted").map((c) => c.placeCode),
  );
  const places = loadPlaces(db).filter((p) => p.kind !== "site" && !open.has(p.code));
  const mayCount = visitor.role === "logistics" || visitor.role === "administrator";
  return (
    <>
      <PageHead
        crumbs={[{ label: "Stock", href: "/stock" }]}
        title="Counts"
        lead="A place is counted without the ledger's figures in sight. Somebody who did not count approves it; then the differences are posted at once."
      />
      <div className="grid grid-cols-1 gap-4">
        {mayCount ? <StartCount places={places.map((p) => ({ code: p.code, name: p.name }))} /> : null}
        {counts.length === 0 ? (
          <EmptyState title="Nothing counted yet">
            Begin with one warehouse. Receipts and kits may go on meanwhile: each line is held against the
            ledger of the moment in which it is counted.
          </EmptyState>
        ) : (
          <Panel title={formatCount(counts.length, "count")} flush>
            <ScrollRegion label="Counts">
              <table className="ui-facts ui-facts-stack">
                <thead>
                  <tr>
                    <th scope="col">Count</th>
                    <th scope="col">Place</th>
                    <th scope="col">State</th>
                    <th scope="col" data-align="end">
                      Counted
                    </th>
                    <th scope="col" data-align="end">
                      Differ
                    </th>
                    <th scope="col">Begun</th>
                    <th scope="col">Ended</th>
                  </tr>
                </thead>
                <tbody>
                  {counts.map((c) => (
                    <tr key={c.id}>
                      <th scope="row" data-label="Count">
                        <Link href={`/stock/counts/${c.id}`}>Count {c.id}</Link>
                      </th>
                      <td data-label="Place">
                        {c.placeCode} <small>{c.placeName}</small>
                      </td>
                      <td data-label="State">
                        <CountStateMark state={c.state} />
                      </td>
                      <td data-label="Counted" data-align="end">
                        {c.countedLines} of {formatCount(c.lines, "line")}
                      </td>
                      <td data-label="Differ" data-align="end">
                        {c.differing ?? "–"}
                      </td>
                      <td data-label="Begun">
                        {formatInstant(c.startedAt, zone)}, {c.startedBy}
                      </td>
                      <td data-label="Ended">
                        {c.endedAt ? `${formatInstant(c.endedAt, zone)}, ${c.endedBy}` : "–"}
                        {c.note ? <small> {c.note}</small> : null}
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </ScrollRegion>
          </Panel>
        )}
      </div>
    </>
  );
}
