import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatClock, formatDate, formatNumber } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import { hopPath, sitePath } from "../hops/hopStates";
import type { VisitFinding } from "./planAgainstForecast";
import { dayTextWords } from "./siteHours";

export const FINDING_WORDS = {
  lost: { state: "late", word: "Window lost" },
  holds: { state: "pass", word: "Holds (window)" },
  "not checked": { state: "open", word: "Not checked" },
  "on hold": { state: "hold", word: "On hold" },
} as const;

export const CHANGE_WORDS = {
  lost: "window lost",
  "open again": "open again",
  "as before": "as before",
} as const;

/** Planned visits of the forecast's days, those that lost their window first. */
export async function FindingTable({ findings }: { findings: readonly VisitFinding[] }) {
  const words = await serverWords();
  const { t, say, locale } = words;
  const hasMembers = findings.some((f) => f.members);
  const hasChange = findings.some((f) => f.sincePlan);
  const order = ["lost", "on hold", "not checked", "holds"];
  const sorted = [...findings].sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state));
  return (
    <ScrollRegion label={t("Planned visits against the forecast")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Visit")}</th>
            <th scope="col">{t("Forecast")}</th>
            <th scope="col">{t("Site")}</th>
            <th scope="col">{t("Crew")}</th>
            <th scope="col">{t("Planned")}</th>
            <th scope="col">{t("By the forecast it ends")}</th>
            {hasMembers ? <th scope="col">{t("Ends on its day in")}</th> : null}
            {hasChange ? <th scope="col">{t("Since the plan was made")}</th> : null}
            <th scope="col">{t("What takes the hours of the first day")}</th>
          </tr>
        </thead>
        <tbody>
          {sorted.map((f) => (
            <tr key={f.visit.visitId}>
              <th data-label={t("Visit")} scope="row">
                <span>
                  <Link href={hopPath(f.visit.hopCode)}>{f.visit.hopCode}</Link>{" "}
                  {t("{{side}} {{kind}}", { side: t(f.visit.side), kind: t(f.visit.kind) })}
                </span>
              </th>
              <td data-label={t("Forecast")}>
                <StateMark state={FINDING_WORDS[f.state].state}>{t(FINDING_WORDS[f.state].word)}</StateMark>
              </td>
              <td data-label={t("Site")}>
                <Link href={`${sitePath(f.visit.siteCode)}?tab=weather`}>{f.visit.siteCode}</Link>
              </td>
              <td data-label={t("Crew")}>{f.visit.crewCode}</td>
              <td data-label={t("Planned")}>
                {t("{{day}} {{start}} to {{end}}", {
                  day: formatDate(f.visit.startOn, "weekday", locale),
                  start: formatClock(f.visit.startMin),
                  end:
                    f.visit.endOn === f.visit.startOn
                      ? formatClock(f.visit.endMin)
                      : `${formatDate(f.visit.endOn, "weekday", locale)} ${formatClock(f.visit.endMin)}`,
                })}
              </td>
              <td data-label={t("By the forecast it ends")}>{finishWords(f, words)}</td>
              {hasMembers ? (
                <td data-label={t("Ends on its day in")}>
                  {f.members ? t("{{holds}} of {{of}} members", f.members) : "–"}
                </td>
              ) : null}
              {hasChange ? (
                <td data-label={t("Since the plan was made")}>
                  {t(CHANGE_WORDS[f.sincePlan ?? "as before"])}
                </td>
              ) : null}
              <td data-label={t("What takes the hours of the first day")}>
                {f.why ? say(f.why) : dayWords(f, words)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function finishWords(f: VisitFinding, { t, locale }: Words): string {
  if (f.state === "not checked" || f.state === "on hold") return "–";
  if (!f.finishOn) return t("not within the forecast");
  if (f.state === "holds") return t("on its planned day");
  return t("{{day}}, {{count}} days later", {
    day: formatDate(f.finishOn, "weekday", locale),
    count: f.daysLost ?? 0,
  });
}

function dayWords(f: VisitFinding, words: Words): string {
  const { t, locale } = words;
  if (!f.day || !f.workClass) return f.state === "lost" ? t("the site is closed on a planned day") : "";
  const met = t("{{work}} at {{site}}: {{met}} of {{of}} h met", {
    work: t(CLASS_WORDS[f.workClass]),
    site: f.siteCode ?? "",
    met: formatNumber(f.day.metH, 1, locale),
    of: formatNumber(f.day.ofH, 1, locale),
  });
  return f.day.text ? `${met}, ${dayTextWords(f.day.text, words)}` : met;
}
