/**
 * The books of what crews used before today: received for them, issued to the vehicle of the visit's crew, and taken off
 * it by the report. All of it is used up, so shelves and vehicles of today are as the opening stock left them.
 */
import type { Db } from "@/db/open";
import { postMovement } from "@/db/queries/ledger";
import { ledgerReason } from "@/db/queries/ledgerReasons";
import { bookReportedUse } from "@/db/queries/reportedUse";
import type { ReportUse } from "@/db/queries/reports";
import type { CatalogueItem } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";

export interface VisitUse {
  visitId: string;
  /** 1 for C1 and its vehicle VAN-1. */
  crewNo: number;
  on: CalendarDate;
  uses: readonly ReportUse[];
}

const FROM = "WH-EAST";
/** Days before the first visit on which everything came in. */
const RECEIVED_DAYS = 14;

export function loadUseBooks(
  db: Db,
  visits: readonly VisitUse[],
  catalogue: readonly CatalogueItem[],
  now: number,
): void {
  const ownerOf = new Map(catalogue.map((i) => [i.code, i.owner]));
  const row = { postedAt: now - 86_400_000, postedBy: "Earlier work" };
  const first = visits.map((v) => v.on).reduce((a, b) => (b < a ? b : a));
  const sums = new Map<string, number>();
  for (const { uses } of visits)
    for (const u of uses) sums.set(u.itemCode, (sums.get(u.itemCode) ?? 0) + u.usedC);
  for (const [itemCode, quantityC] of sums)
    postMovement(db, {
      ...row,
      key: `earlier receipt ${itemCode}`,
      kind: "receipt",
      itemCode,
      owner: ownerOf.get(itemCode)!,
      toPlace: FROM,
      quantityC,
      effectiveOn: addDays(first, -RECEIVED_DAYS),
      reason: ledgerReason("stagesBefore"),
    });
  for (const { visitId, crewNo, on, uses } of [...visits].sort((a, b) => (a.on < b.on ? -1 : 1))) {
    const vehicle = `VAN-${crewNo}`;
    for (const { itemCode, usedC } of uses)
      postMovement(db, {
        ...row,
        key: `issue ${visitId} 0 ${itemCode}`,
        kind: "issue",
        itemCode,
        owner: ownerOf.get(itemCode)!,
        fromPlace: FROM,
        toPlace: vehicle,
        quantityC: usedC,
        effectiveOn: on,
        visitId,
        reason: ledgerReason("issued"),
      });
    const by = { name: `Crew C${crewNo}`, at: now - 86_400_000, today: on };
    const booked = bookReportedUse(
      db,
      { visitId, vehicles: [vehicle], key: `${visitId} report 1`, serials: new Map() },
      by,
    );
    if (!booked.ok || booked.value.notOnVehicle > 0)
      throw new Error(`${visitId}: its use is not in the books`);
  }
}
