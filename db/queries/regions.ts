/** What of the programme lies in which regions. A hop lies in the regions of both its ends. */
import { remembered } from "../dataState";
import type { Db } from "../open";

/** Regions that sites stand in, by name. Sites without a region lie in none. */
export function siteRegions(db: Db): string[] {
  return db.$client
    .prepare("SELECT DISTINCT region FROM site WHERE region <> '' ORDER BY region")
    .pluck()
    .all() as string[];
}

export interface Within {
  sites: ReadonlySet<string>;
  hops: ReadonlySet<string>;
}

/** Codes of the sites in these regions, and of the hops with an end there. Shared between readers. */
export function within(db: Db, regions: readonly string[]): Within {
  const list = JSON.stringify([...regions].sort());
  return remembered(db, `within ${list}`, ["design"], () => {
    const codes = (sql: string) => db.$client.prepare(sql).pluck().all(list) as string[];
    return {
      sites: new Set(codes("SELECT code FROM site WHERE region IN (SELECT value FROM json_each(?))")),
      hops: new Set(
        codes(
          `SELECT DISTINCT e.hop_code FROM link_end e JOIN site s ON s.code = e.site_code
           WHERE s.region IN (SELECT value FROM json_each(?))`,
        ),
      ),
    };
  });
}
