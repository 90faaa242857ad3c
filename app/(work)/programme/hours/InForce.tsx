import { serverWords } from "@/app/_server/language";
import { formatInstant } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { StoredRejection } from "@/db/queries/actuals";
import type { HourCalibration, ProposalLevel } from "@/lib/calibration";
import { figureOf, LEVEL_WORDS, subjectOf } from "./words";

/** Every accepted factor, with how many actuals stood behind it when it was accepted. */
export async function FactorsInForce({
  calibration: c,
  partName,
}: {
  calibration: HourCalibration;
  partName: (part: string) => string;
}) {
  const words = await serverWords();
  const { t } = words;
  const rows = [
    ...Object.entries(c.work).map(([key, f]) => ["work", key, f.factor, f.actuals] as const),
    ...Object.entries(c.crews).map(([key, f]) => ["crew", key, f.factor, f.actuals] as const),
    ...Object.entries(c.crewSchemes).flatMap(([crew, schemes]) =>
      Object.entries(schemes).map(
        ([scheme, f]) => ["crew and scheme", `${crew}|${scheme}`, f.factor, f.actuals] as const,
      ),
    ),
    ...Object.entries(c.parts).map(([key, f]) => ["part", key, f.factor, f.actuals] as const),
    ...(c.spread ? [["range", "all", c.spread.logSd, c.spread.actuals] as const] : []),
  ];
  if (rows.length === 0)
    return (
      <p className="px-4 py-3">
        {t("None: hours are the norms' alone. A factor enters only when a person accepts it.")}
      </p>
    );
  return (
    <ScrollRegion label={t("Factors in force")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("For")}</th>
            <th scope="col">{t("Factor")}</th>
            <th scope="col">{t("Accepted from")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([level, key, factor, actuals]) => (
            <tr key={`${level} ${key}`}>
              <th scope="row" data-label={t("For")}>
                {subjectOf({ level, key }, partName, words)}
              </th>
              <td data-label={t("Factor")}>{figureOf(level, factor, words)}</td>
              <td data-label={t("Accepted from")}>{t("{{count}} actuals", { count: actuals })}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** Who turned which proposal down and why, newest first. */
export async function Rejections({
  rows,
  zone,
  partName,
}: {
  rows: readonly StoredRejection[];
  zone: string;
  partName: (part: string) => string;
}) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={t("Rejected proposals")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("When")}</th>
            <th scope="col">{t("For")}</th>
            <th scope="col">{t("Proposed then")}</th>
            <th scope="col">{t("Actuals then")}</th>
            <th scope="col">{t("Who")}</th>
            <th scope="col">{t("Why")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => {
            const at = r.proposalId.indexOf(": ");
            const level = r.proposalId.slice(0, at) as ProposalLevel;
            const key = r.proposalId.slice(at + 2);
            return (
              <tr key={r.id}>
                <th scope="row" data-label={t("When")}>
                  {formatInstant(r.rejectedAt, zone, locale)}
                </th>
                <td data-label={t("For")}>
                  {subjectOf({ level, key }, partName, words)} ({t(LEVEL_WORDS[level])})
                </td>
                <td data-label={t("Proposed then")}>{figureOf(level, r.proposed, words)}</td>
                <td data-label={t("Actuals then")}>{r.actuals}</td>
                <td data-label={t("Who")}>{r.rejectedBy}</td>
                <td data-label={t("Why")}>{r.reason}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
