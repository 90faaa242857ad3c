/** A visit as somebody typed it: as it is shown, or by its id. */
import { sql } from "drizzle-orm";
import { parseVisitId, typedVisitParts } from "@/lib/visitIds";
import type { Db } from "../open";
import { hop } from "../schema";

/** Its parts, the hop written as the design writes it; a hop that the design lacks stays as typed. */
export function visitPartsOf(db: Db, typed: string): { parts: string[]; isHopKnown: boolean } {
  const [hopCode, ...rest] = typedVisitParts(typed);
  if (hopCode === undefined) return { parts: [], isHopKnown: false };
  const known = db
    .select({ code: hop.code })
    .from(hop)
    .where(sql`${hop.code} = ${hopCode} COLLATE NOCASE`)
    .get()?.code;
  return { parts: [known ?? hopCode, ...rest], isHopKnown: known !== undefined };
}

/** The visit's id; an end without its work is its install. undefined = that is no visit of a hop of the design. */
export function visitIdTyped(db: Db, typed: string): string | undefined {
  const { parts, isHopKnown } = visitPartsOf(db, typed);
  const id = (parts.length === 2 ? [...parts, "install"] : parts).join("/");
  return isHopKnown && parseVisitId(id) ? id : undefined;
}
