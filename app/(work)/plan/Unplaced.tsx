import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { BoardVisitRow } from "@/db/queries/planViews";
import { WhyUnplaced } from "./WhyUnplaced";
import { whyWords } from "./why";

/** Visits without a place, together by what stops them: one remedy may free many. */
export async function Unplaced({ visits }: { visits: readonly BoardVisitRow[] }) {
  const words = await serverWords();
  const { t, locale } = words;
  const groups = new Map<string, { rule: string; detail: string; hops: Set<string>; count: number }>();
  for (const v of visits) {
    const rule = v.unplacedRule ?? "not placed";
    const detail = v.unplacedDetail ?? "";
    const group = groups.get(`${rule} ${detail}`) ?? { rule, detail, hops: new Set<string>(), count: 0 };
    group.hops.add(v.hopCode);
    group.count++;
    groups.set(`${rule} ${detail}`, group);
  }
  const rows = [...groups.values()].sort((a, b) => b.count - a.count);
  return (
    <Panel
      id="not-placed"
      title={t("Not placed, by what stops it")}
      note={t("{{count}} visits", { count: visits.length })}
      flush
    >
      <ScrollRegion label={t("What stops visits")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("Rule")}</th>
              <th scope="col">{t("Why, and what would do")}</th>
              <th scope="col" data-align="end">
                {t("Visits")}
              </th>
              <th scope="col">{t("Hops")}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((g) => (
              <tr key={`${g.rule} ${g.detail}`}>
                <th scope="row">{whyWords(g.rule, words)}</th>
                <td>
                  <WhyUnplaced reason={g.detail} words={words} />
                </td>
                <td data-align="end">{formatNumber(g.count, 0, locale)}</td>
                <td>
                  {[...g.hops].map((code, i) => (
                    <span key={code}>
                      {i > 0 ? ", " : ""}
                      {/* Not fetched ahead: each such link is watched with every frame of a scroll, and there may be hundreds. */}
                      <Link href={`/hops/${encodeURIComponent(code)}`} prefetch={false}>
                        {code}
                      </Link>
                    </span>
                  ))}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}
