import { serverWords } from "@/app/_server/language";
import { formatDate, formatShare } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { calendarDate } from "@/lib/time";

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** "Mar": of any year. */
const monthWords = (month: number, locale: string): string =>
  formatDate(calendarDate(`2026-${String(month + 1).padStart(2, "0")}-01`), "month", locale).replace(
    " 2026",
    "",
  );

export interface ClimateRow {
  code: string;
  name: string;
  /** 12 shares, NaN = not known; undefined = no past years brought in. */
  shares?: readonly number[];
}

/** Places down, months across: share of the daylight hours in the shift that meets the limits. */
export async function ClimateTable({ rows, thisMonth }: { rows: readonly ClimateRow[]; thisMonth: number }) {
  const { t, locale } = await serverWords();
  return (
    <ScrollRegion label={t("Monthly share of hours within limits, by place")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Place")}</th>
            {MONTHS.map((month, m) => (
              <th key={month} scope="col" data-align="end">
                {monthWords(m, locale)}
                {m === thisMonth ? <span className="sr-only"> {t("(this month)")}</span> : null}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.code}>
              <th scope="row">
                {row.code} {row.name}
              </th>
              {row.shares ? (
                MONTHS.map((month, m) => {
                  const share = row.shares?.[m] ?? Number.NaN;
                  return (
                    <td key={month} data-align="end">
                      {m === thisMonth ? (
                        <strong>{formatShare(share, 0, locale)}</strong>
                      ) : (
                        formatShare(share, 0, locale)
                      )}
                      <span
                        aria-hidden="true"
                        className="mt-1 block h-1"
                        style={{
                          background: `linear-gradient(to right, var(--moss) ${share * 100}%, var(--line) 0)`,
                        }}
                      />
                    </td>
                  );
                })
              ) : (
                <td colSpan={12}>{t("no past years brought in")}</td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
