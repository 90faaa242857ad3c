import Link from "next/link";
import { formatCount, formatDate, formatHours, formatNumber } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { HoursEffect } from "@/lib/programme";

/** Percentage with its sign, of the hours before. */
function change(beforeMin: number, afterMin: number): string {
  if (beforeMin === 0) return "\u2013";
  const percent = (afterMin / beforeMin - 1) * 100;
  const digits = formatNumber(Math.abs(percent), 1, undefined, true);
  return `${percent > 0 ? "+" : percent < 0 ? "\u2212" : ""}${digits} %`;
}

const spread = (logSd: number | undefined) =>
  logSd === undefined ? "the tasks' own ranges" : `${formatNumber(logSd * 100, 0)} % spread`;

/** What factors do to the hours of the plan in force, by crew and for the visits that change most. */
export function HoursEffectView({ effect }: { effect: HoursEffect }) {
  const { beforeMin, afterMin, crews, most, visitCount } = effect;
  return (
    <section aria-label="Effect on the plan in force" className="grid gap-3">
      <Notice
        kind={afterMin > beforeMin * 1.05 ? "warn" : "info"}
        announce
        title={`${formatHours(beforeMin)} on site become ${formatHours(afterMin)}, ${change(beforeMin, afterMin)}`}
      >
        Over {formatCount(visitCount, "visit")} still to do in the plan in force, without weather and travel.
        {effect.spreadBefore !== effect.spreadAfter
          ? ` P10 to P90: ${spread(effect.spreadBefore)} before, ${spread(effect.spreadAfter)} after.`
          : ""}{" "}
        Dates follow with a new plan.
      </Notice>
      <ScrollRegion label="Hours on site by crew">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Crew</th>
              <th scope="col" data-align="end">
                Visits
              </th>
              <th scope="col" data-align="end">
                Now
              </th>
              <th scope="col" data-align="end">
                Then
              </th>
              <th scope="col" data-align="end">
                Change
              </th>
            </tr>
          </thead>
          <tbody>
            {crews.map((c) => (
              <tr key={c.code}>
                <th scope="row">{c.code}</th>
                <td data-align="end">{c.visitCount}</td>
                <td data-align="end">{formatHours(c.beforeMin)}</td>
                <td data-align="end">{formatHours(c.afterMin)}</td>
                <td data-align="end">{change(c.beforeMin, c.afterMin)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {most.length > 0 ? (
        <div>
          <h3>Visits that change most</h3>
          <ul className="list-disc pl-5">
            {most.map((v) => (
              <li key={v.visitId}>
                <Link href={`/hops/${encodeURIComponent(v.visitId.split("/")[0]!)}`} target="_blank">
                  {v.visitId.replaceAll("/", " ")}
                  <span className="sr-only"> (opens in a new tab)</span>
                </Link>
                , crew {v.crewCode}, {formatDate(v.startOn, "day")}: {formatHours(v.beforeMin)} become{" "}
                {formatHours(v.afterMin)}
              </li>
            ))}
          </ul>
        </div>
      ) : null}
    </section>
  );
}
