"use client";

import type { ReactNode } from "react";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { Gate } from "@/lib/site";

export const gateKey = (g: Gate): string => `${g.hopId} ${g.side ?? "both"} ${g.kind}`;

/** Gates with owner, state and date. `change` draws what stands at the end of a row. */
export function GateTable({ gates, change }: { gates: readonly Gate[]; change?: (gate: Gate) => ReactNode }) {
  const { t, locale } = useWords();
  if (gates.length === 0) return <p className="px-4 py-3">{t("No gate holds it.")}</p>;
  const order = ["open", "dated", "met"];
  const sorted = [...gates].sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state));
  return (
    <ScrollRegion label={t("Gates")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Gate")}</th>
            <th scope="col">{t("Holds")}</th>
            <th scope="col">{t("State")}</th>
            <th scope="col">{t("Date")}</th>
            <th scope="col">{t("Owner")}</th>
            {change ? (
              <th scope="col">
                <span className="sr-only">{t("Change (verb)")}</span>
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {sorted.map((g) => (
            <tr key={gateKey(g)}>
              <th data-label={t("Gate")} scope="row">
                {t(g.kind)}
              </th>
              <td data-label={t("Holds")}>{g.side ? t(`${g.side} end`) : t("both ends")}</td>
              <td data-label={t("State")}>
                <StateMark state={g.state}>
                  {g.state === "open" ? t("Open, no date") : g.state === "dated" ? t("Expected") : t("Met")}
                </StateMark>
              </td>
              <td data-label={t("Date")}>{formatDate(g.dueOn, "full", locale)}</td>
              <td data-label={t("Owner")}>{t(g.owner)}</td>
              {change ? <td data-label={t("Change (verb)")}>{change(g)}</td> : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
