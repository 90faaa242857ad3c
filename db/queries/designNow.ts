/** How the design of hops stands now, for those that a plan keeps out by it or has not seen yet. */
import { and, eq, gt, inArray, isNull, or } from "drizzle-orm";
import { type DesignNow, designStops } from "@/lib/programme";
import type { Db } from "../open";
import { endEstimate, hop, hopEstimate, linkEnd, site } from "../schema";
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
  return designsOf(db, codes);
}

/**
 * The same, and of hops that have no visit among `visits` those whose design keeps them out of the next plan: a check
 * fails, a coordinate or an end is missing.
 *
 * @param only the hops that are asked about; undefined = all
 */
export function designsOfProgramme(
  db: Db,
  visits: readonly Stopped[],
  only?: readonly string[],
): Map<string, DesignNow> {
  const planned = new Set(visits.map((v) => v.hopCode));
  const asked = only && new Set(only);
  const isUnseen = (code: string) => !planned.has(code) && (asked?.has(code) ?? true);
  const ends = db
    .select({
      hopCode: linkEnd.hopCode,
      latDeg: site.latDeg,
      lonDeg: site.lonDeg,
      failCount: endEstimate.failCount,
    })
    .from(linkEnd)
    .innerJoin(site, eq(site.code, linkEnd.siteCode))
    .leftJoin(endEstimate, eq(endEstimate.endId, linkEnd.id))
    .all()
    .filter((end) => isUnseen(end.hopCode));
  const stopped = new Set(
    ends
      .filter((end) => end.latDeg === null || end.lonDeg === null || (end.failCount ?? 0) > 0)
      .map((end) => end.hopCode),
  );
  const joint = db
    .select({ hopCode: hopEstimate.hopCode })
    .from(hopEstimate)
    .where(gt(hopEstimate.failCount, 0))
    .all();
  for (const { hopCode } of joint) if (isUnseen(hopCode)) stopped.add(hopCode);
  const unseen = designsOf(db, [...stopped]);
  const endCount = new Map<string, number>();
  for (const { hopCode } of ends) endCount.set(hopCode, (endCount.get(hopCode) ?? 0) + 1);
  for (const { code } of db.select({ code: hop.code }).from(hop).all())
    if (isUnseen(code) && (endCount.get(code) ?? 0) < 2)
      unseen.set(code, { lacksEnd: true, withoutCoordinate: [] });
  return new Map([...designsNow(db, visits), ...unseen]);
}

function designsOf(db: Db, codes: readonly string[]): Map<string, DesignNow> {
  if (codes.length === 0) return new Map();
  const kept = loadKeptHops(db, codes);
  const stops = designStops(kept);
  const nowhere = db
    .select({ hopCode: linkEnd.hopCode, side: linkEnd.side, siteCode: linkEnd.siteCode })
    .from(linkEnd)
    .innerJoin(site, eq(site.code, linkEnd.siteCode))
    .where(and(inArray(linkEnd.hopCode, [...codes]), or(isNull(site.latDeg), isNull(site.lonDeg))))
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
