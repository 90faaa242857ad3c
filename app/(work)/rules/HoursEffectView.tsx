"use client";

import Link from "next/link";
import { FiguresTable } from "@/app/_ui/FiguresTable";
import { formatDate, formatHours, formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import type { HoursEffect } from "@/lib/programme";

/** Percentage with its sign, of the hours before. */
function change(beforeMin: number, afterMin: number, words: Words): string {
  const { locale } = words;
  if (beforeMin === 0) return "\u2013";
  const percent = (afterMin / beforeMin - 1) * 100;
  const digits = formatNumber(Math.abs(percent), 1, locale, true);
  return `${percent > 0 ? "+" : percent < 0 ? "\u2212" : ""}${digits} %`;
}

const spread = (logSd: number | undefined, words: Words) =>
  logSd === undefined
    ? words.t("the tasks' own ranges")
    : words.t("{{share}} % spread", { share: formatNumber(logSd * 100, 0, words.locale) });

/** What factors do to the hours of the plan in force, by crew and for the visits that change most. */
export function HoursEffectView({ effect }: { effect: HoursEffect }) {
  const words = useWords();
  const { t, locale } = words;
  const { beforeMin, afterMin, crews, most, visitCount } = effect;
  return (
    <section aria-label={t("Effect on the plan in force")} className="grid gap-3">
      <Notice
        kind={afterMin > beforeMin * 1.05 ? "warn" : "info"}
        announce
        title={t("{{before}} on site become {{after}}, {{change}}", {
          before: formatHours(beforeMin, locale),
          after: formatHours(afterMin, locale),
          change: change(beforeMin, afterMin, words),
        })}
      >
        {t("Over {{visits}} still to do in the plan in force, without weather and travel.", {
          visits: t("{{count}} visits", { count: visitCount }),
        })}
        {effect.spreadBefore !== effect.spreadAfter
          ? ` ${t("P10 to P90: {{before}} before, {{after}} after.", {
              before: spread(effect.spreadBefore, words),
              after: spread(effect.spreadAfter, words),
            })}`
          : ""}{" "}
        {t("Dates follow with a new plan.")}
      </Notice>
      <FiguresTable
        figures={{
          caption: t("Hours on site by crew"),
          head: [
            { label: t("Crew") },
            { label: t("Visits"), align: "end" },
            { label: t("Now"), align: "end" },
            { label: t("Then"), align: "end" },
            { label: t("Change"), align: "end" },
          ],
          rows: crews.map((c) => [
            c.code,
            formatNumber(c.visitCount, 0, locale),
            formatHours(c.beforeMin, locale),
            formatHours(c.afterMin, locale),
            change(c.beforeMin, c.afterMin, words),
          ]),
        }}
      />
      {most.length > 0 ? (
        <div>
          <h3>{t("Visits that change most")}</h3>
          <ul className="list-disc pl-5">
            {most.map((v) => (
              <li key={v.visitId}>
                <Link href={`/hops/${encodeURIComponent(v.visitId.split("/")[0]!)}`} target="_blank">
                  {v.visitId
                    .split("/")
                    .map((part) => t(part))
                    .join(" ")}
                  <span className="sr-only"> {t("(opens in a new tab)")}</span>
                </Link>
                {`, ${t("crew {{crew}}, {{day}}: {{before}} become {{after}}", {
                  crew: v.crewCode,
                  day: formatDate(v.startOn, "day", locale),
                  before: formatHours(v.beforeMin, locale),
                  after: formatHours(v.afterMin, locale),
                })}`}
              </li>
            ))}
          </ul>
        </div>
      ) : null}
    </section>
  );
}
