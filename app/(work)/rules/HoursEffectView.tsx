import Link from "next/link";
import { FiguresTable } from "@/app/_ui/FiguresTable";
import { formatCount, formatDate, formatHours, formatNumber } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
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
      <FiguresTable
        figures={{
          caption: "Hours on site by crew",
          head: [
            { label: "Crew" },
            { label: "Visits", align: "end" },
            { label: "Now", align: "end" },
            { label: "Then", align: "end" },
            { label: "Change", align: "end" },
          ],
          rows: crews.map((c) => [
            c.code,
            formatNumber(c.visitCount),
            formatHours(c.beforeMin),
            formatHours(c.afterMin),
            change(c.beforeMin, c.afterMin),
          ]),
        }}
      />
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
