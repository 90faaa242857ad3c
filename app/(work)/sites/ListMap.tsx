"use client";

import { useMemo } from "react";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { MapSketch } from "@/app/_ui/MapSketch";
import { Panel } from "@/app/_ui/Panel";
import type { HopListRow, SiteListRow } from "@/db/queries/siteViews";
import { HOP_STATE, HOP_WORDS, hopPath, sitePath } from "../hops/hopStates";

/** Beyond this the drawing is a blot and its list thousands of lines: filter first. */
const DRAWN_MOST = 1_000;

interface ListMapProps {
  sites: readonly SiteListRow[];
  hops: readonly HopListRow[];
}

/** The rows that pass the table's filters, where they lie. */
export function ListMap({ sites, hops }: ListMapProps) {
  const { t, locale } = useWords();
  const mapSites = useMemo(
    () =>
      sites.map((s) => ({
        id: s.code,
        code: s.code,
        name: s.name,
        latDeg: s.latDeg ?? undefined,
        lonDeg: s.lonDeg ?? undefined,
        structure: s.structure,
        href: sitePath(s.code),
      })),
    [sites],
  );
  const mapHops = useMemo(
    () =>
      hops.flatMap((h) =>
        h.nearSite && h.farSite
          ? {
              id: h.code,
              code: h.code,
              nearSiteId: h.nearSite,
              farSiteId: h.farSite,
              state: HOP_STATE[h.state].state,
              href: hopPath(h.code),
            }
          : [],
      ),
    [hops],
  );
  if (sites.length > DRAWN_MOST || hops.length > DRAWN_MOST) {
    return (
      <Panel title={t("Map")} tone="quiet">
        <p>
          {t(
            "{{sites}} sites and {{hops}} hops pass the filters. The map draws up to {{most}} of each: narrow the table to one region or state.",
            {
              sites: formatNumber(sites.length, 0, locale),
              hops: formatNumber(hops.length, 0, locale),
              most: formatNumber(DRAWN_MOST, 0, locale),
            },
          )}
        </p>
      </Panel>
    );
  }
  return (
    <Panel title={t("Map")} note={t("Follows the search and the filters of the table.")} flush>
      <MapSketch label={t("Sites and hops")} sites={mapSites} hops={mapHops} words={HOP_WORDS} height={380} />
    </Panel>
  );
}
