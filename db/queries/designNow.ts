/** How the design of hops stands now, for those that a plan keeps out by it. */
import { and, eq, inArray, isNull, or } from "drizzle-orm";
import { type DesignNow, designStops } from "@/lib/programme";
import type { Db } from "../open";
import { linkEnd, site } from "../schema";
import { loadKeptHops } from "./estimates";

interface Stopped {
  hopCode: string;
  unplacedRule: string | null;
}

/**
 * By hop code, of those of `visits` that a failed check or a missing coordinate keeps out. A hop that was never taken
 * off has no entry: nothing newer is known of it than what the plan says.
 */
export function designsNow(db: Db, visits: readonly Stopped[]): Map<string, DesignNow> {
  const codes = [
    ...new Set(
      visits
        .filter((v) => v.unplacedRule === "design check" || v.unplacedRule === "coordinate")
        .map((v) => v.hopCode),
    ),
  ];
  if (codes.length === 0) return new Map();
  const kept = loadKeptHops(db, codes);
  const stops = designStops(kept);
  const nowhere = db
    .select({ hopCode: linkEnd.hopCode, side: linkEnd.side, siteCode: linkEnd.siteCode })
    .from(linkEnd)
    .innerJoin(site, eq(site.code, linkEnd.siteCode))
    .where(and(inArray(linkEnd.hopCode, codes), or(isNull(site.latDeg), isNull(site.lonDeg))))
    .all();
  return new Map(
    [...kept.keys()].map((code) => [
      code,
      {
        stop: stops.get(code),
        withoutCoordinate: nowhere.filter((end) => end.hopCode === code),
      },
    ]),
  );
}
