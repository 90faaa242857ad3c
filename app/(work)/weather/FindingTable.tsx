import Link from "next/link";
import { formatClock, formatDate, formatNumber } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import { hopPath, sitePath } from "../hops/hopStates";
import type { VisitFinding } from "./planAgainstForecast";

const WORDS = {
  lost: { state: "late", word: "Window lost" },
  holds: { state: "pass", word: "Holds" },
  "not checked": { state: "open", word: "Not checked" },
} as const;

const CHANGE = { lost: "window lost", "open again": "open again", "as before": "as before" } as const;

/** Planned visits of the forecast's days, those that lost their window first. */
export function FindingTable({ findings }: { findings: readonly VisitFinding[] }) {
  const hasMembers = findings.some((f) => f.members);
  const hasChange = findings.some((f) => f.sincePlan);
  const order = ["lost", "not checked", "holds"];
  const sorted = [...findings].sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state));
  return (
    <ScrollRegion label="Planned visits against the forecast" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Visit</th>
            <th scope="col">Forecast</th>
            <th scope="col">Site</th>
            <th scope="col">Crew</th>
            <th scope="col">Planned</th>
            <th scope="col">By the forecast it ends</th>
            {hasMembers ? <th scope="col">Ends on its day in</th> : null}
            {hasChange ? <th scope="col">Since the plan was made</th> : null}
            <th scope="col">What takes the hours of the first day</th>
          </tr>
        </thead>
        <tbody>
          {sorted.map((f) => (
            <tr key={f.visit.visitId}>
              <th data-label="Visit" scope="row">
                <span>
                  <Link href={hopPath(f.visit.hopCode)}>{f.visit.hopCode}</Link> {f.visit.side} {f.visit.kind}
                </span>
              </th>
              <td data-label="Forecast">
                <StateMark state={WORDS[f.state].state}>{WORDS[f.state].word}</StateMark>
              </td>
              <td data-label="Site">
                <Link href={`${sitePath(f.visit.siteCode)}?tab=weather`}>{f.visit.siteCode}</Link>
              </td>
              <td data-label="Crew">{f.visit.crewCode}</td>
              <td data-label="Planned">
                {formatDate(f.visit.startOn, "weekday")} {formatClock(f.visit.startMin)} to{" "}
                {f.visit.endOn === f.visit.startOn ? "" : `${formatDate(f.visit.endOn, "weekday")} `}
                {formatClock(f.visit.endMin)}
              </td>
              <td data-label="By the forecast it ends">{finishWords(f)}</td>
              {hasMembers ? (
                <td data-label="Ends on its day in">
                  {f.members ? `${f.members.holds} of ${f.members.of} members` : "–"}
                </td>
              ) : null}
              {hasChange ? (
                <td data-label="Since the plan was made">{CHANGE[f.sincePlan ?? "as before"]}</td>
              ) : null}
              <td data-label="What takes the hours of the first day">{f.why ?? dayWords(f)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function finishWords(f: VisitFinding): string {
  if (f.state === "not checked") return "–";
  if (!f.finishOn) return "not within the forecast";
  if (f.state === "holds") return "on its planned day";
  return `${formatDate(f.finishOn, "weekday")}, ${f.daysLost} ${f.daysLost === 1 ? "day" : "days"} later`;
}

function dayWords(f: VisitFinding): string {
  if (!f.day || !f.workClass) return f.state === "lost" ? "the site is closed on a planned day" : "";
  const hours = `${formatNumber(f.day.metH, 1)} of ${formatNumber(f.day.ofH, 1)} h met`;
  return `${CLASS_WORDS[f.workClass]} at ${f.siteCode}: ${hours}${f.day.text ? `, ${f.day.text}` : ""}`;
}
