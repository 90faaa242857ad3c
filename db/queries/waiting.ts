/** What waits for somebody's word before it goes on. */
import { count, eq } from "drizzle-orm";
import type { Db } from "../open";
import { countSession, purchaseOrder } from "../schema";

export interface Waiting {
  /** Orders proposed and not approved. */
  orders: number;
  /** Counts handed in and not approved. */
  counts: number;
}

export function loadWaiting(db: Db): Waiting {
  const orders = db
    .select({ n: count() })
    .from(purchaseOrder)
    .where(eq(purchaseOrder.state, "proposed"))
    .get();
  const counts = db.select({ n: count() }).from(countSession).where(eq(countSession.state, "counted")).get();
  return { orders: orders?.n ?? 0, counts: counts?.n ?? 0 };
}
