/**
 * Half a year of made-up purchases and use before today: what suppliers promised and when they came, and how much went
 * out each week. What came in went out again, so the shelves of today are as the opening stock left them.
 */
import type { Db } from "@/db/open";
import { postMovement } from "@/db/queries/ledger";
import { ledgerReason } from "@/db/queries/ledgerReasons";
import { saveOrder } from "@/db/queries/orderLines";
import type { Random } from "@/lib/random";
import type { CatalogueItem } from "@/lib/site";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";

/** Invented suppliers: the lead time they name, how it scatters, and what they deliver. */
const SUPPLIERS = [
  { name: "Fellgate Supplies", leadDays: 14, sdDays: 2, items: ["CON-06", "GLD-06", "CAP-CON"], perWeek: 22 },
  { name: "Marrow and Pike Fixings", leadDays: 21, sdDays: 6, items: ["LUG-16", "GRP-06"], perWeek: 30 },
  { name: "Tern Bay Labels", leadDays: 10, sdDays: 1, items: ["LBL-CABLE", "LBL-OUTDOOR"], perWeek: 40 },
] as const;

const WEEKS = 26;
/** An order covers so many weeks. */
const COVER_WEEKS = 4;

export function loadHistory(
  db: Db,
  catalogue: readonly CatalogueItem[],
  { random, today, now }: { random: Random; today: CalendarDate; now: number },
): void {
  const thisMonday = addDays(today, 1 - weekdayOf(today));
  let orderNo = 300;
  for (const supplier of SUPPLIERS) {
    const draw = random.fork(supplier.name);
    const items = catalogue.filter((i) => (supplier.items as readonly string[]).includes(i.code));
    for (let week = WEEKS; week > 0; week -= COVER_WEEKS) {
      const weeks = Math.min(COVER_WEEKS, week);
      const receivedOn = addDays(thisMonday, -7 * week);
      const leadDays = Math.max(2, Math.round(supplier.leadDays + supplier.sdDays * draw.normal()));
      const sentOn = addDays(receivedOn, -leadDays);
      const promisedOn = addDays(sentOn, supplier.leadDays);
      const code = `PO-${++orderNo}`;
      const lines = items.map((item) => ({
        item,
        uses: Array.from({ length: weeks }, () =>
          Math.max(0, Math.round(supplier.perWeek * (1 + 0.35 * draw.normal()))),
        ),
      }));
      const sum = (uses: readonly number[]) => uses.reduce((a, b) => a + b, 0);
      saveOrder(db, {
        code,
        kind: "purchase",
        supplier: supplier.name,
        state: "closed",
        placeCode: "WH-EAST",
        createdAt: now - 86_400_000 * (7 * week + leadDays),
        createdBy: "Earlier orders",
        sentOn,
        lines: lines.map(({ item, uses }) => ({
          itemCode: item.code,
          quantityC: 100 * sum(uses),
          receivedC: 100 * sum(uses),
          dueOn: promisedOn,
          promisedOn,
          price: { minor: item.priceMinor, currency: item.currency },
        })),
      });
      for (const { item, uses } of lines) {
        const row = {
          itemCode: item.code,
          owner: item.owner,
          postedAt: now - 86_400_000,
          postedBy: "Earlier work",
        };
        postMovement(db, {
          ...row,
          key: `earlier ${code} ${item.code}`,
          kind: "receipt",
          toPlace: "WH-EAST",
          quantityC: 100 * sum(uses),
          effectiveOn: receivedOn,
          orderCode: code,
          reason: ledgerReason("received", { supplier: supplier.name }),
        });
        for (const [k, quantity] of uses.entries()) {
          if (quantity === 0) continue;
          postMovement(db, {
            ...row,
            key: `earlier use ${code} ${item.code} ${k}`,
            kind: "issue",
            fromPlace: "WH-EAST",
            quantityC: 100 * quantity,
            effectiveOn: addDays(receivedOn, 7 * k + 2),
            reason: ledgerReason("usedBefore"),
          });
        }
      }
    }
  }
}
