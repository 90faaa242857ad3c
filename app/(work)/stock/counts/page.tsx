import type { Metadata } from "next";
import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatInstant } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { database } from "@/db/open";
import { loadCounts } from "@/db/queries/countViews";
import { loadPlaces } from "@/db/queries/places";
import { STOCK_ROLES } from "../words";
import { CountStateMark } from "./CountStateMark";
import { StartCount } from "./StartCount";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Counts") };
}

/** All counts, the newest first, and a new one. */
export default async function CountsPage() {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const { t, locale } = await serverWords();
  const db = database();
  const counts = loadCounts(db);
  const zone = homeZone(db);
  const open = new Set(
    counts.filter((c) => c.state === "counting" || c.state === "counted").map((c) => c.placeCode),
  );
  // Warehouses first: a list chooses its first entry by itself.
  const places = loadPlaces(db)
    .filter((p) => p.kind !== "site" && !open.has(p.code))
    .sort((a, b) => Number(b.kind === "warehouse") - Number(a.kind === "warehouse"));
  const mayCount = visitor.role === "logistics" || visitor.role === "administrator";
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={t("Counts")}
        lead={t(
          "A place is counted without the ledger's figures in sight. Somebody who did not count approves it; then the differences are posted at once.",
        )}
      />
      <div className="grid grid-cols-1 gap-4">
        {mayCount ? <StartCount places={places.map((p) => ({ code: p.code, name: p.name }))} /> : null}
        {counts.length === 0 ? (
          <EmptyState title={t("Nothing counted yet")}>
            {t(
              "Begin with one warehouse. Receipts and kits may go on meanwhile: each line is held against the ledger of the moment in which it is counted.",
            )}
          </EmptyState>
        ) : (
          <Panel title={t("{{count}} counts", { count: counts.length })} flush>
            <ScrollRegion label={t("Counts")}>
              <table className="ui-facts ui-facts-stack">
                <thead>
                  <tr>
                    <th scope="col">{t("Count")}</th>
                    <th scope="col">{t("Place")}</th>
                    <th scope="col">{t("State")}</th>
                    <th scope="col" data-align="end">
                      {t("Counted")}
                    </th>
                    <th scope="col" data-align="end">
                      {t("Differ")}
                    </th>
                    <th scope="col">{t("Begun")}</th>
                    <th scope="col">{t("Ended")}</th>
                  </tr>
                </thead>
                <tbody>
                  {counts.map((c) => (
                    <tr key={c.id}>
                      <th scope="row" data-label={t("Count")}>
                        <Link href={`/stock/counts/${c.id}`}>{t("Count {{id}}", { id: String(c.id) })}</Link>
                      </th>
                      <td data-label={t("Place")}>
                        {c.placeCode} <small>{c.placeName}</small>
                      </td>
                      <td data-label={t("State")}>
                        <CountStateMark state={c.state} />
                      </td>
                      <td data-label={t("Counted")} data-align="end">
                        {t("{{countedLines}} of {{count}} lines", {
                          countedLines: c.countedLines,
                          count: c.lines,
                        })}
                      </td>
                      <td data-label={t("Differ")} data-align="end">
                        {c.differing ?? "–"}
                      </td>
                      <td data-label={t("Begun")}>
                        {formatInstant(c.startedAt, zone, locale)}, {c.startedBy}
                      </td>
                      <td data-label={t("Ended")}>
                        {c.endedAt ? `${formatInstant(c.endedAt, zone, locale)}, ${c.endedBy}` : "–"}
                        {c.note ? <small> {c.note}</small> : null}
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </ScrollRegion>
          </Panel>
        )}
      </div>
    </>
  );
}
