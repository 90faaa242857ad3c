/** Work that rows ask for once they are stored, whether files brought them in or a person typed them. */
import type { Db } from "@/db/open";
import { planInForce } from "@/db/queries/plans";
import type { StoredCounts } from "@/db/queries/storeRows";
import type { KindName } from "@/lib/exchange";
import { startJob } from "./jobs";

/** Design and catalogue: when one of them changes, take-off and hours do. */
const ESTIMATED: readonly KindName[] = ["sites", "items", "hops", "ends", "antennas", "radios"];
const NETTED: readonly KindName[] = [...ESTIMATED, "stock", "orders", "places", "actual hours"];

export function startAfterStored(db: Db, counts: StoredCounts, userId: string | null): void {
  const has = (kinds: readonly KindName[]) => kinds.some((k) => (counts[k] ?? 0) > 0);
  if (has(ESTIMATED)) startJob(db, "estimate", {}, userId);
  if (has(NETTED) && planInForce(db)) startJob(db, "net", {}, userId);
}
