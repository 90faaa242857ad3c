/** What is known already and may be chosen in a form: regions and zones of sites, bands and cables of the catalogue. */
import type { Db } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { siteRegions } from "@/db/queries/regions";
import { siteZones } from "@/db/queries/siteNames";
import type { DecimalMark } from "@/lib/exchange";
import type { CatalogueItem } from "@/lib/site";
import type { Suggestion } from "./ColumnField";

export type Suggestions = Readonly<Record<string, readonly Suggestion[]>>;

export function siteSuggestions(db: Db): Suggestions {
  return {
    region: siteRegions(db).map((value) => ({ value })),
    zone: siteZones(db).map((value) => ({ value })),
  };
}

/** By kind and column: "radios.bandGhz". */
export function hopSuggestions(db: Db, decimal: DecimalMark): Suggestions {
  const items = loadCatalogue(db);
  const numbers = (of: readonly CatalogueItem[], key: "bandGhz" | "diameterM" | "duplexSpacingMhz") =>
    [...new Set(of.flatMap((i) => i.attributes[key] ?? []))]
      .sort((a, b) => a - b)
      .map((n) => ({ value: decimal === "comma" ? String(n).replace(".", ",") : String(n) }));
  const antennas = items.filter((i) => i.category === "antenna");
  const radios = items.filter((i) => i.category === "ODU");
  const bands = numbers(radios, "bandGhz");
  const subBands = [...new Set(radios.flatMap((i) => i.attributes.subBand ?? []))].sort();
  return {
    "hops.bandGhz": bands,
    "ends.cableCode": items
      .filter((i) => i.category === "IF cable")
      .map((i) => ({ value: i.code, label: `${i.code} ${i.name}` })),
    "antennas.bandGhz": numbers(antennas, "bandGhz"),
    "antennas.diameterM": numbers(antennas, "diameterM"),
    "radios.bandGhz": bands,
    "radios.subBand": subBands.map((value) => ({ value })),
    "radios.duplexSpacingMhz": numbers(radios, "duplexSpacingMhz"),
  };
}
