import type { Db } from "@/db/open";
import { activeJobOfKind } from "@/db/queries/jobs";
import { planInForce } from "@/db/queries/plans";
import type { Result } from "@/lib/result";
import type { Visitor } from "./carryOut";
import { startJob } from "./jobs";

/** Nets again after a change of stock; one that waits in the queue will see the change as well. */
export function netAgain(db: Db, visitor: Visitor): string | undefined {
  if (!planInForce(db)) return undefined;
  const active = activeJobOfKind(db, "net");
  return active?.state === "queued" ? active.id : startJob(db, "net", {}, visitor.userId);
}

/** The result as it is; when it is a success, needs are netted again. */
export function andNet<T>(result: Result<T>, db: Db, visitor: Visitor): Result<T> {
  if (result.ok) netAgain(db, visitor);
  return result;
}
