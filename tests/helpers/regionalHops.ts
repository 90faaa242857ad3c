import type { Db } from "@/db/open";
import { saveItem } from "@/db/queries/catalogue";
import { saveHop, saveSite } from "@/db/queries/design";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { makeHops, makeSites } from "@/seed/vellmark";

/** Writes some hops; gives a region, a hop that lies in it at one end at least and one that does not touch it. */
export function regionalHops(db: Db): { region: string; own: string; other: string } {
  const sites = makeSites(new Random("sites"), 40);
  for (const item of DEFAULT_CATALOGUE) saveItem(db, item);
  for (const site of sites) saveSite(db, site);
  const hops = makeHops(new Random("hops"), sites, DEFAULT_CATALOGUE, calendarDate("2026-03-16"), 12);
  for (const h of hops) saveHop(db, h);
  const regionsOf = (h: (typeof hops)[number]) =>
    [h.near, h.far].map((end) => sites.find((s) => s.code === end.siteId)?.region ?? "");
  const [first] = hops;
  const region = first ? (regionsOf(first)[0] ?? "") : "";
  return {
    region,
    own: first?.code ?? "",
    other: hops.find((h) => !regionsOf(h).includes(region))?.code ?? "",
  };
}
