import type { Db } from "../open";
import { site } from "../schema";

/** Name of each site by its code. */
export const siteNames = (db: Db): ReadonlyMap<string, string> =>
  new Map(
    db
      .select({ code: site.code, name: site.name })
      .from(site)
      .all()
      .map((s) => [s.code, s.name]),
  );

/** Time zones that sites lie in, by name. */
export const siteZones = (db: Db): string[] =>
  db
    .selectDistinct({ zone: site.zone })
    .from(site)
    .orderBy(site.zone)
    .all()
    .map((s) => s.zone);
