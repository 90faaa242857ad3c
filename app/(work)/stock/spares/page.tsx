import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatNumber, formatShare } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadSpares, type SpareRow, type SparesView } from "@/db/queries/spareViews";
import { poissonAtMost } from "@/lib/stock";
import { itemPath, STOCK_ROLES } from "../words";
import { DecideButton } from "./DecideButton";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Spares") };
}

/** How many spares of each radio variant each warehouse should keep, why, and what it has. */
export default async function SparesPage() {
  await requireRole(...STOCK_ROLES);
  const { t, locale } = await serverWords();
  const db = database();
  const view = loadSpares(db, homeToday(db));
  const { rates, repairDays } = view;
  // What is missing stands first; the rest by code.
  const rows = [...view.rows].sort((a, b) => b.missing - a.missing || b.wanted - a.wanted);
  const sum = (of: (r: SpareRow) => number) => rows.reduce((total, r) => total + of(r), 0);
  const missing = sum((r) => r.missing);
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={t("Spares")}
        lead={t(
          "Radio variants never stand in for each other, so each warehouse keeps its own spares of each: as many as last until what died is back, {{count}} days by the rules.",
          { count: repairDays },
        )}
        actions={
          <>
            <LinkButton href="/rules?tab=stock">{t("Rules of spares")}</LinkButton>
            <LinkButton href="/stock/faults">{t("Faulty pieces")}</LinkButton>
          </>
        }
      />
      {rows.length === 0 ? (
        <EmptyState title={t("No radios in the design yet")}>
          {t("Spares follow from the radios of the hops and the warehouses nearest to them.")}
        </EmptyState>
      ) : (
        <>
          <StatRow>
            <Stat
              label={t("Spares wanted")}
              figure={formatNumber(
                sum((r) => r.wanted),
                0,
                locale,
              )}
              limit={t("of all variants and warehouses")}
            />
            <Stat
              label={t("Missing")}
              figure={formatNumber(missing, 0, locale)}
              limit={t("not free on their shelf today; netting orders them")}
              tone={missing > 0 ? "warn" : "good"}
            />
            <Stat
              label={t("Dead on arrival")}
              figure={formatShare(rates.deadShare, 1, locale)}
              limit={t("{{dead}} of {{installed}}, drawn toward the rules' figure", {
                dead: formatNumber(rates.dead, 0, locale),
                installed: formatNumber(rates.installed + rates.dead, 0, locale),
              })}
            />
            <Stat
              label={t("Failing in a year")}
              figure={formatShare(rates.failuresPerYear, 1, locale)}
              limit={t("{{failed}} in {{unitYears}} unit years, drawn likewise", {
                failed: formatNumber(rates.failed, 0, locale),
                unitYears: formatNumber(rates.unitYears, 1, locale),
              })}
            />
          </StatRow>
          <div className="mt-4 grid grid-cols-1 gap-4">
            <Panel
              title={t("{{count}} variants", { count: new Set(rows.map((r) => r.itemCode)).size })}
              note={t(
                "A visit may take a spare when it lacks a unit: it does not stop, and the spare is ordered again. Free is what lies on the shelf beyond what kits of the plan want.",
              )}
              flush
            >
              <SpareTable rows={rows} view={view} />
            </Panel>
          </div>
        </>
      )}
    </>
  );
}

async function SpareTable({ rows, view }: { rows: readonly SpareRow[]; view: SparesView }) {
  const words = await serverWords();
  const { t } = words;
  return (
    <ScrollRegion label={t("Spares by variant and warehouse")}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Variant")}</th>
            <th scope="col">{t("At")}</th>
            {[t("In service"), t("To install"), t("Free"), t("On order"), t("Hold, repair"), t("Wanted")].map(
              (word) => (
                <th key={word} scope="col" data-align="end">
                  {word}
                </th>
              ),
            )}
            <th scope="col">{t("Why so many")}</th>
            <th scope="col">{t("Covered?")}</th>
            <th scope="col">
              <span className="sr-only">{t("Decide")}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={`${r.itemCode} ${r.placeCode}`}>
              <th scope="row" data-label={t("Variant")}>
                <span>
                  <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.itemName}</small>
                </span>
              </th>
              <td data-label={t("At")}>{r.placeCode}</td>
              <td data-label={t("In service")} data-align="end">
                {r.installed}
              </td>
              <td data-label={t("To install")} data-align="end">
                {r.planned}
              </td>
              <td data-label={t("Free")} data-align="end">
                <span>
                  {r.free} <small>{t("of {{onHand}}", { onHand: r.onHand })}</small>
                </span>
              </td>
              <td data-label={t("On order")} data-align="end">
                {r.onOrder}
              </td>
              <td data-label={t("Hold, repair")} data-align="end">
                {r.onHold}, {r.inRepair}
              </td>
              <td data-label={t("Wanted")} data-align="end">
                <strong>{r.wanted}</strong>
              </td>
              <td data-label={t("Why so many")}>{whyWords(r, view, words)}</td>
              <td data-label={t("Covered?")}>
                {r.wanted === 0 ? (
                  <StateMark state="none">{t("none wanted")}</StateMark>
                ) : r.missing === 0 ? (
                  <StateMark state="met">{t("on the shelf")}</StateMark>
                ) : (
                  <StateMark state={r.missing <= r.onOrder + r.inRepair ? "dated" : "warn"}>
                    {t("{{missing}} missing", { missing: r.missing })}
                  </StateMark>
                )}
              </td>
              <td>
                <DecideButton
                  itemCode={r.itemCode}
                  placeCode={r.placeCode}
                  byLevel={r.byLevel}
                  rule={r.rule && { fixed: r.rule.fixed, level: r.rule.level }}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** The sum behind the number, or who decided it and why. */
function whyWords(r: SpareRow, { rates, repairDays }: SparesView, { t, locale }: Words): string {
  if (r.rule?.fixed != null)
    return t("Fixed by {{by}}: {{reason}}. By the level {{byLevel}}.", {
      by: r.rule.by,
      reason: r.rule.reason,
      byLevel: r.byLevel,
    });
  if (r.level <= 0) return t("The rules keep no spares.");
  const level = r.rule
    ? t("{{level}} asked (level set by {{by}}: {{reason}})", {
        level: formatShare(r.level, 1, locale),
        by: r.rule.by,
        reason: r.rule.reason,
      })
    : t("{{level}} asked", { level: formatShare(r.level, 1, locale) });
  const inCases = formatShare(poissonAtMost(r.wanted, r.mean), 1, locale);
  const enough =
    r.wanted === 0
      ? t("none is enough in {{cases}} of cases, {{level}}.", { cases: inCases, level })
      : t("{{count}} are enough in {{cases}} of cases, {{level}}.", {
          count: r.wanted,
          cases: inCases,
          level,
        });
  const sum = t(
    "{{installed}} x {{failures}} a year x {{days}} days + {{toInstall}} within them x {{dead}} = {{mean}} expected to die",
    {
      installed: r.installed,
      failures: formatShare(rates.failuresPerYear, 1, locale),
      days: repairDays,
      toInstall: r.toInstall,
      dead: formatShare(rates.deadShare, 1, locale),
      mean: formatNumber(r.mean, 2, locale),
    },
  );
  return `${sum}; ${enough}`;
}
