"use client";

import { useCallback, useMemo, useState } from "react";
import { Button } from "@/app/_ui/Button";
import { DataTable } from "@/app/_ui/DataTable";
import { EmptyState } from "@/app/_ui/EmptyState";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { type PackedRows, unpackRows } from "@/app/_ui/packRows";
import type { SiteListRow } from "@/db/queries/siteViews";
import { hopPath, sitePath } from "../hops/hopStates";
import { HOP_COLUMNS, type ListedHop } from "./hopColumns";
import { ListMap } from "./ListMap";
import { SITE_COLUMNS } from "./siteColumns";

export interface ListsProps {
  tab: "sites" | "hops";
  /** `{ sites, hops }`, packed, as JSON text: one string crosses to the browser many times faster than 10,000 objects. */
  rowsJson: string;
  startsWithMap: boolean;
}

/** The table of sites or of hops, and the map of what passes its filters. */
export function Lists({ tab, rowsJson, startsWithMap }: ListsProps) {
  const { t } = useWords();
  const { sites, hops } = useMemo(() => {
    const packed = JSON.parse(rowsJson) as { sites: PackedRows; hops: PackedRows };
    return { sites: unpackRows<SiteListRow>(packed.sites), hops: unpackRows<ListedHop>(packed.hops) };
  }, [rowsJson]);
  const [hasMap, setHasMap] = useState(startsWithMap);
  const [shownSites, setShownSites] = useState<readonly SiteListRow[]>(sites);
  const [shownHops, setShownHops] = useState<readonly ListedHop[]>(hops);
  const onSites = useCallback((rows: readonly SiteListRow[]) => setShownSites(rows), []);
  const onHops = useCallback((rows: readonly ListedHop[]) => setShownHops(rows), []);

  function toggleMap(): void {
    const params = new URLSearchParams(window.location.search);
    if (hasMap) params.delete("map");
    else params.set("map", "1");
    window.history.replaceState(null, "", `?${params}`);
    setHasMap(!hasMap);
  }

  const mapped = useMemo(() => {
    if (!hasMap) return undefined;
    if (tab === "sites") {
      const codes = new Set(shownSites.map((s) => s.code));
      const between = hops.filter(
        (h) => h.nearSite && h.farSite && codes.has(h.nearSite) && codes.has(h.farSite),
      );
      return { sites: shownSites, hops: between };
    }
    const codes = new Set(shownHops.flatMap((h) => [h.nearSite, h.farSite]));
    return { sites: sites.filter((s) => codes.has(s.code)), hops: shownHops };
  }, [hasMap, tab, shownSites, shownHops, sites, hops]);

  const tools = (
    <Button aria-pressed={hasMap} onClick={toggleMap}>
      {hasMap ? t("Hide map") : t("Show map")}
    </Button>
  );
  const empty = (
    <EmptyState title={tab === "sites" ? t("No sites yet") : t("No hops yet")}>
      {t("Bring in the sites and hops from a spreadsheet, then they are listed here.")}
    </EmptyState>
  );
  return (
    <div className="grid gap-4">
      {mapped ? <ListMap {...mapped} /> : null}
      {tab === "sites" ? (
        <DataTable
          key="sites"
          label={t("Sites")}
          rows={sites}
          columns={SITE_COLUMNS}
          rowId={codeOf}
          rowHref={siteHref}
          rowWord={SITE_WORD}
          exportName="sites"
          onRowsShown={onSites}
          tools={tools}
          empty={empty}
        />
      ) : (
        <DataTable
          key="hops"
          label={t("Hops")}
          rows={hops}
          columns={HOP_COLUMNS}
          rowId={codeOf}
          rowHref={hopHref}
          rowWord={HOP_WORD}
          exportName="hops"
          onRowsShown={onHops}
          tools={tools}
          empty={empty}
        />
      )}
    </div>
  );
}

const codeOf = (row: { code: string }): string => row.code;
const siteHref = (row: { code: string }): string => sitePath(row.code);
const hopHref = (row: { code: string }): string => hopPath(row.code);
const SITE_WORD = { one: "site", many: "sites" };
const HOP_WORD = { one: "hop", many: "hops" };
