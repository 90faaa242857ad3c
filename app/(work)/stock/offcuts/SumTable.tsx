import type { ReactNode } from "react";
import { serverWords } from "@/app/_server/language";
import { formatCm, formatMoney, formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";

export interface SumRow {
  key: string;
  /** The first is the row's name. */
  words: readonly ReactNode[];
  count: number;
  lengthC: number;
  valueMinor: number;
  currency: string;
  /** After the figures. */
  more?: ReactNode;
}

export interface SumTableProps {
  title: string;
  note?: string;
  /** Heads of `words`. */
  heads: readonly string[];
  countHead: string;
  moreHead?: string;
  rows: readonly SumRow[];
}

/** Metres and money by one thing or several. */
export async function SumTable({ title, note, heads, countHead, moreHead, rows }: SumTableProps) {
  const { t, locale } = await serverWords();
  return (
    <Panel title={title} note={note} flush>
      <ScrollRegion label={title} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              {heads.map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
              {[countHead, t("Length"), t("Value"), ...(moreHead ? [moreHead] : [])].map((head) => (
                <th key={head} scope="col" data-align="end">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                {row.words.map((words, i) =>
                  i === 0 ? (
                    <th key={heads[i]} scope="row" data-label={heads[i]}>
                      {words}
                    </th>
                  ) : (
                    <td key={heads[i]} data-label={heads[i]}>
                      {words}
                    </td>
                  ),
                )}
                <td data-label={countHead} data-align="end">
                  {formatNumber(row.count, 0, locale)}
                </td>
                <td data-label={t("Length")} data-align="end">
                  {formatCm(row.lengthC, locale)}
                </td>
                <td data-label={t("Value")} data-align="end">
                  {formatMoney(row.valueMinor, row.currency, locale)}
                </td>
                {moreHead ? (
                  <td data-label={moreHead} data-align="end">
                    {row.more}
                  </td>
                ) : null}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}
