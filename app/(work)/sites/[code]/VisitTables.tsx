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
    <ScrollRegion label="Visits of the plan in force" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Visit</th>
            <th scope="col">Site</th>
            <th scope="col">When</th>
            <th scope="col">Crew</th>
            <th scope="col">Work</th>
            <th scope="col">Kit</th>
          </tr>
        </thead>
        <tbody>
          {visits.map((v) => (
            <tr key={v.visitId}>
              <th data-label="Visit" scope="row">
                <span>
                  <Link href={hopPath(v.hopCode)}>{v.hopCode}</Link> {v.side} {v.kind}
                </span>
              </th>
              <td data-label="Site">
                <Link href={sitePath(v.siteCode)}>{v.siteCode}</Link>
              </td>
              <td data-label="When">
                {v.startOn && v.endOn ? (
                  <span>
                    {formatDate(v.startOn, "weekday")} {formatClock(v.startMin)} to{" "}
                    {v.endOn === v.startOn ? "" : `${formatDate(v.endOn, "weekday")} `}
                    {formatClock(v.endMin)} {v.isPinned ? <StateMark state="pinned" /> : null}
                  </span>
                ) : (
                  <StateMark state="unplaced">
                    {`Not placed: ${v.unplacedDetail ?? v.unplacedRule ?? "no reason kept"}`}
                  </StateMark>
                )}
              </td>
              <td data-label="Crew">{v.crewCode ? `${v.crewCode} ${v.crewName ?? ""}` : "–"}</td>
              <td data-label="Work">{formatDuration(v.durationMin)}</td>
              <td data-label="Kit">
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
  if (!visit.kitState) return <>{visit.kind === "install" ? "no kit planned" : "no material"}</>;
  return (
    <span>
      <Link href={`/kits/${visit.visitId.split("/").map(encodeURIComponent).join("/")}`}>
        {visit.kitState}, pick {formatDate(visit.kitPickOn, "day")},{" "}
        {formatQuantity(visit.kitMassKg, "kg", 0)}
      </Link>{" "}
      {visit.shortLines > 0 ? <StateMark state="short">{visit.shortLines} short</StateMark> : null}
    </span>
  );
}

const OUTCOME = { done: "done", "part done": "under way", hold: "hold" } as const;

/** Reports from the field, newest first. */
export function ReportTable({ reports }: { reports: readonly StoredReport[] }) {
  return (
    <ScrollRegion label="Reports from the field" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col">Visit</th>
            <th scope="col">Outcome</th>
            <th scope="col">Crew</th>
            <th scope="col">Worked</th>
            <th scope="col">Note</th>
          </tr>
        </thead>
        <tbody>
          {reports.map((r) => (
            <tr key={r.id}>
              <th data-label="Day" scope="row">
                {formatDate(r.workedOn)}
              </th>
              <td data-label="Visit">{r.visitId.replaceAll("/", " ")}</td>
              <td data-label="Outcome">
                <StateMark state={OUTCOME[r.outcome]}>{r.outcome}</StateMark>
              </td>
              <td data-label="Crew">
                <Tag>{r.crewCode}</Tag>
              </td>
              <td data-label="Worked">
                {formatDuration(r.workedMin)}
                {r.leftMin !== null ? `, ${formatDuration(r.leftMin)} left` : ""}
              </td>
              <td data-label="Note" className="min-w-56">
                {[r.holdReason, r.note].filter(Boolean).join(": ") || "–"}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
