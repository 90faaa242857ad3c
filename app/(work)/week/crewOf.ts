/** Whose week is shown: a crew lead's own, a planner's choice. */
import type { Visitor } from "@/app/_server/session";
import type { Db } from "@/db/open";
import { crewCodes } from "@/db/queries/week";

export function crewOf(db: Db, visitor: Visitor, wanted: string | undefined): string | undefined {
  if (visitor.role === "crew lead") return visitor.crewId ?? undefined;
  const codes = crewCodes(db).map((c) => c.code);
  return wanted && codes.includes(wanted) ? wanted : codes[0];
}
