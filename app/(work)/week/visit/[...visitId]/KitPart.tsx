import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatCm, formatDate, formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { StoredKit } from "@/db/queries/plans";
import type { DrumCut } from "@/lib/drums";

/** What the crew takes along, short lines first. */
export async function KitPart({
  kit,
  cutting,
}: {
  kit: StoredKit;
  cutting: readonly (DrumCut & { serial: string })[];
}) {
  const { t, locale } = await serverWords();
  const cutOf = new Map(cutting.map((c) => [c.runId, c]));
  const shortCount = kit.lines.filter((l) => l.shortC > 0).length;
  const lines = [...kit.lines].sort((a, b) => Number(b.shortC > 0) - Number(a.shortC > 0));
  return (
    <Panel
      title={t("Kit")}
      note={t("Picked on {{day}} at {{place}}, {{mass}} kg.", {
        day: formatDate(kit.pickOn, "weekday", locale),
        place: kit.placeCode,
        mass: formatNumber(kit.massKg, 0, locale),
      })}
      actions={<Link href={`/kits/${kit.visitId}`}>{t("Pick list")}</Link>}
    >
      <Disclosure
        summary={`${t("{{count}} lines", { count: lines.length })}${shortCount > 0 ? t(", {{short}} short", { short: shortCount }) : ""}`}
        open={shortCount > 0}
      >
        <ScrollRegion label={t("Kit")}>
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">{t("Item")}</th>
                <th scope="col" data-align="end">
                  {t("Quantity")}
                </th>
                <th scope="col">{t("From")}</th>
              </tr>
            </thead>
            <tbody>
              {lines.map((l) => {
                const cut = l.runId ? cutOf.get(l.runId) : undefined;
                return (
                  <tr key={`${l.itemCode} ${l.runId ?? ""} ${l.reason}`}>
                    <th scope="row">
                      {l.name} <span className="text-quiet">{l.itemCode}</span>
                      {l.shortC > 0 ? (
                        <StateMark state="short">
                          {t("Short by {{quantity}}", { quantity: formatNumber(l.shortC / 100, 1, locale) })}
                        </StateMark>
                      ) : null}
                    </th>
                    <td data-align="end">
                      {l.runId
                        ? formatCm(l.neededC, locale)
                        : formatNumber(Math.ceil(l.neededC / 100 - 1e-9), 0, locale)}
                    </td>
                    <td>
                      {cut
                        ? `${cut.serial}, ${formatCm(cut.fromMarkCm, locale)} ${t("to")} ${formatCm(cut.toMarkCm, locale)}`
                        : (l.lotCode ?? "")}
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </ScrollRegion>
      </Disclosure>
    </Panel>
  );
}
