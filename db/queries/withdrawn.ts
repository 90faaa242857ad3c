/** Revisits that were taken back: a plan made before keeps their rows until the next one, but nothing of them is left to do. */
import { isNotNull } from "drizzle-orm";
import type { Db } from "../open";
import { revisit } from "../schema";
import { doneVisits } from "./reports";

/** Ids of visits that are not needed any more; one whose work was reported done all the same is done, not withdrawn. */
export function withdrawnVisits(db: Db): ReadonlySet<string> {
  const ids = db
    .select({ visitId: revisit.visitId })
    .from(revisit)
    .where(isNotNull(revisit.withdrawnAt))
    .all()
    .map((r) => r.visitId);
  if (ids.length === 0) return new Set();
  const done = doneVisits(db);
  return new Set(ids.filter((id) => !done.has(id)));
}
