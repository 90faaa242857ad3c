import Link from "next/link";
import { formatClock, formatDate, formatDuration, formatQuantity } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark, Tag } from "@/app/_ui/StateMark";
import { hopPath, sitePath } from "@/app/(work)/hops/hopStates";
import type { StoredReport } from "@/db/queries/reports";
import type { VisitView } from "@/db/queries/siteViews";

/** Visits of the plan in force with crew, time and kit; what stops those that have none. */
export function VisitTable({ visits }: { visits: readonly VisitView[] }) {
  return (
    <ScrollRegion label="Visits of the plan in force">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Visit</th>
            <th scope="col">Site</th>
            <th scope="col">When</th>
            <th scope="col">Crew</th>
            <th scope="col" data-align="end">
              Work
            </th>
            <th scope="col">Kit</th>
          </tr>
        </thead>
        <tbody>
          {visits.map((v) => (
            <tr key={v.visitId}>
              <th scope="row">
                <Link href={hopPath(v.hopCode)}>{v.hopCode}</Link> {v.side} {v.kind}
              </th>
              <td>
                <Link href={sitePath(v.siteCode)}>{v.siteCode}</Link>
              </td>
              <td>
                {v.startOn && v.endOn ? (
                  <>
                    {formatDate(v.startOn, "weekday")} {formatClock(v.startMin)} to{" "}
                    {v.endOn === v.startOn ? "" : `${formatDate(v.endOn, "weekday")} `}
                    {formatClock(v.endMin)} {v.isPinned ? <StateMark state="pinned" /> : null}
                  </>
                ) : (
                  <StateMark state="unplaced">
                    {`Not placed: ${v.unplacedDetail ?? v.unplacedRule ?? "no reason kept"}`}
                  </StateMark>
                )}
              </td>
              <td>{v.crewCode ? `${v.crewCode} ${v.crewName ?? ""}` : "–"}</td>
              <td data-align="end">{formatDuration(v.durationMin)}</td>
              <td>
                <KitCell visit={v} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function KitCell({ visit }: { visit: VisitView }) {
  if (!visit.kitState) return <>{visit.kind === "alignment" ? "no material" : "no kit planned"}</>;
  return (
    <>
      <Link href={`/kits/${encodeURIComponent(visit.visitId)}`}>
        {visit.kitState}, pick {formatDate(visit.kitPickOn, "day")},{" "}
        {formatQuantity(visit.kitMassKg, "kg", 0)}
      </Link>{" "}
      {visit.shortLines > 0 ? <StateMark state="short">{visit.shortLines} short</StateMark> : null}
    </>
  );
}

const OUTCOME = { done: "done", "part done": "under way", hold: "hold" } as const;

/** Reports from the field, newest first. */
export function ReportTable({ reports }: { reports: readonly StoredReport[] }) {
  return (
    <ScrollRegion label="Reports from the field">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col">Visit</th>
            <th scope="col">Outcome</th>
            <th scope="col">Crew</th>
            <th scope="col" data-align="end">
              Worked
            </th>
            <th scope="col">Note</th>
          </tr>
        </thead>
        <tbody>
          {reports.map((r) => (
            <tr key={r.id}>
              <th scope="row">{formatDate(r.workedOn)}</th>
              <td>{r.visitId.replaceAll("/", " ")}</td>
              <td>
                <StateMark state={OUTCOME[r.outcome]}>{r.outcome}</StateMark>
              </td>
              <td>
                <Tag>{r.crewCode}</Tag>
              </td>
              <td data-align="end">{formatDuration(r.workedMin)}</td>
              <td className="min-w-56">{[r.holdReason, r.note].filter(Boolean).join(": ") || "–"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
