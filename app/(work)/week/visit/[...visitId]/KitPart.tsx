import Link from "next/link";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatCm, formatDate, formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { StoredKit } from "@/db/queries/plans";
import type { DrumCut } from "@/lib/drums";

/** What the crew takes along, short lines first. */
export function KitPart({
  kit,
  cutting,
}: {
  kit: StoredKit;
  cutting: readonly (DrumCut & { serial: string })[];
}) {
  const cutOf = new Map(cutting.map((c) => [c.runId, c]));
  const shortCount = kit.lines.filter((l) => l.shortC > 0).length;
  const lines = [...kit.lines].sort((a, b) => Number(b.shortC > 0) - Number(a.shortC > 0));
  return (
    <Panel
      title="Kit"
      note={`Picked on ${formatDate(kit.pickOn, "weekday")} at ${kit.placeCode}, ${formatNumber(kit.massKg)} kg.`}
      actions={<Link href={`/kits/${kit.visitId}`}>Pick list</Link>}
    >
      <Disclosure
        summary={`${lines.length} lines${shortCount > 0 ? `, ${shortCount} short` : ""}`}
        open={shortCount > 0}
      >
        <ScrollRegion label="Kit">
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">Item</th>
                <th scope="col" data-align="end">
                  Quantity
                </th>
                <th scope="col">From</th>
              </tr>
            </thead>
            <tbody>
              {lines.map((l) => {
                const cut = l.runId ? cutOf.get(l.runId) : undefined;
                return (
                  <tr key={`${l.itemCode} ${l.runId ?? ""} ${l.reason}`}>
                    <th scope="row">
                      {l.name} <span className="text-quiet">{l.itemCode}</span>
                      {l.shortC > 0 ? (
                        <StateMark state="short">Short by {formatNumber(l.shortC / 100, 1)}</StateMark>
                      ) : null}
                    </th>
                    <td data-align="end">
                      {l.runId ? formatCm(l.neededC) : formatNumber(Math.ceil(l.neededC / 100 - 1e-9))}
                    </td>
                    <td>
                      {cut
                        ? `${cut.serial}, ${formatCm(cut.fromMarkCm)} to ${formatCm(cut.toMarkCm)}`
                        : (l.lotCode ?? "")}
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </ScrollRegion>
      </Disclosure>
    </Panel>
  );
}
