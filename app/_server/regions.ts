/**
 * Accounts that work with some regions only. What is not said to be within reach of such an account is refused to it:
 * an action or page that was forgotten refuses too much, never too little.
 */

import type { Db } from "@/db/open";
import { within } from "@/db/queries/regions";
import { phrase } from "@/lib/phrase";
import { parseVisitId } from "@/lib/programme";
import { type Problem, sentences } from "@/lib/result";
import type { Visitor } from "./carryOut";

/** Hops that a call is about; "any" when it is about nothing that lies in a region. */
export type Reach = "any" | readonly string[];

const listed = (regions: readonly string[]) =>
  regions.length === 0 ? phrase("no region") : regions.join(", ");

/** Why a limited account may not do what reaches this far; undefined when it may. Without `reach`: the whole programme. */
export function regionRefusal(db: Db, visitor: Visitor, reach: Reach | undefined): Problem | undefined {
  const { regions } = visitor;
  if (regions === null || reach === "any") return undefined;
  const mine = within(db, regions).hops;
  const outside = reach?.find((hop) => !mine.has(hop));
  if (reach && outside === undefined) return undefined;
  return {
    path: "",
    rule: "region",
    value: outside,
    ...sentences(
      outside === undefined
        ? phrase("This concerns the whole programme; your account is for {{regions}}.", {
            regions: listed(regions),
          })
        : phrase("{{outside}} is not in your regions; your account is for {{regions}}.", {
            outside,
            regions: listed(regions),
          }),
      phrase("Ask somebody whose account has all regions, or an administrator to change yours."),
    ),
  };
}

/** The hop of a visit, as a reach; a text that is no visit id reaches nothing that anybody may touch. */
export function reachOfVisit(visitId: string): readonly string[] {
  return [parseVisitId(visitId)?.hopCode ?? visitId];
}

/** Why a limited account may not do what moves these visits: one of them lies elsewhere. */
export function shiftRefusal(
  db: Db,
  visitor: Visitor,
  shifts: readonly { visitId: string }[],
): Problem | undefined {
  const { regions } = visitor;
  if (regions === null) return undefined;
  const mine = within(db, regions).hops;
  const outside = shifts.find(({ visitId }) => !reachOfVisit(visitId).every((hop) => mine.has(hop)));
  if (!outside) return undefined;
  return {
    path: "",
    rule: "region",
    value: outside.visitId,
    ...sentences(
      phrase(
        "This would also move {{visitId}}, which is not in your regions; your account is for {{regions}}.",
        { visitId: outside.visitId, regions: listed(regions) },
      ),
      phrase("Choose a place that leaves it where it is, or ask somebody whose account has all regions."),
    ),
  };
}

export function seesHop(db: Db, { regions }: Visitor, hopCode: string): boolean {
  return regions === null || within(db, regions).hops.has(hopCode);
}

export function seesSite(db: Db, { regions }: Visitor, siteCode: string): boolean {
  return regions === null || within(db, regions).sites.has(siteCode);
}

/** Rows of hops in the visitor's regions. */
export function ofSeenHops<R extends { hopCode: string }>(
  db: Db,
  { regions }: Visitor,
  rows: readonly R[],
): readonly R[] {
  if (regions === null) return rows;
  const { hops } = within(db, regions);
  return rows.filter((row) => hops.has(row.hopCode));
}

/** Edits by hand that touch the visitor's regions. */
export function ofSeenEdits<E extends { changes: readonly { after: { visitId: string } }[] }>(
  db: Db,
  { regions }: Visitor,
  edits: readonly E[],
): readonly E[] {
  if (regions === null) return edits;
  const { hops } = within(db, regions);
  return edits.filter((e) =>
    e.changes.some(({ after }) => reachOfVisit(after.visitId).some((hop) => hops.has(hop))),
  );
}
