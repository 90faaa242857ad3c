import { serverWords } from "@/app/_server/language";
import { formatInstant, formatShare } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { StoredRejection } from "@/db/queries/actuals";

export interface RejectedUseProps {
  rows: readonly StoredRejection[];
  zone: string;
  nameOf: (ruleId: string) => string;
}

/** Who turned which allowance down and why, newest first. */
export async function RejectedUse({ rows, zone, nameOf }: RejectedUseProps) {
  const { t, locale } = await serverWords();
  return (
    <ScrollRegion label={t("Rejected allowances")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("When")}</th>
            <th scope="col">{t("Row")}</th>
            <th scope="col">{t("Proposed then")}</th>
            <th scope="col">{t("Ends then")}</th>
            <th scope="col">{t("Who")}</th>
            <th scope="col">{t("Why")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.id}>
              <th scope="row" data-label={t("When")}>
                {formatInstant(r.rejectedAt, zone, locale)}
              </th>
              <td data-label={t("Row")}>{nameOf(r.proposalId.replace(/^use: /, ""))}</td>
              <td data-label={t("Proposed then")}>{formatShare(r.proposed - 1, 1, locale)}</td>
              <td data-label={t("Ends then")}>{r.actuals}</td>
              <td data-label={t("Who")}>{r.rejectedBy}</td>
              <td data-label={t("Why")}>{r.reason}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
