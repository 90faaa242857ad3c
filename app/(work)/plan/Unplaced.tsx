import Link from "next/link";
import { formatCount } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { BoardVisitRow } from "@/db/queries/planViews";

/** Visits without a place, together by what stops them: one remedy may free many. */
export function Unplaced({ visits }: { visits: readonly BoardVisitRow[] }) {
  const groups = new Map<string, { rule: string; detail: string; hops: Set<string>; count: number }>();
  for (const v of visits) {
    const rule = v.unplacedRule ?? "not placed";
    const detail = v.unplacedDetail ?? "";
    const group = groups.get(`${rule} ${detail}`) ?? { rule, detail, hops: new Set<string>(), count: 0 };
    group.hops.add(v.hopCode);
    group.count++;
    groups.set(`${rule} ${detail}`, group);
  }
  const rows = [...groups.values()].sort((a, b) => b.count - a.count);
  return (
    <Panel
      id="not-placed"
      title="Not placed, by what stops it"
      note={formatCount(visits.length, "visit")}
      flush
    >
      <ScrollRegion label="What stops visits">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Rule</th>
              <th scope="col">Why, and what would do</th>
              <th scope="col" data-align="end">
                Visits
              </th>
              <th scope="col">Hops</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((g) => (
              <tr key={`${g.rule} ${g.detail}`}>
                <th scope="row">{g.rule}</th>
                <td>{g.detail}</td>
                <td data-align="end">{g.count}</td>
                <td>
                  {[...g.hops].map((code, i) => (
                    <span key={code}>
                      {i > 0 ? ", " : ""}
                      <Link href={`/hops/${encodeURIComponent(code)}`}>{code}</Link>
                    </span>
                  ))}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}
