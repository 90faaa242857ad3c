/**
 * Drums of the past months, cut up for the programme before this one: some runs longer than listed, and remnants thrown
 * away for different reasons. All of it is used up, so the racks of today are as the opening stock left them; the offcut
 * report has something to tell.
 */
import type { Db } from "@/db/open";
import { saveDrum } from "@/db/queries/drums";
import { postMovement } from "@/db/queries/ledger";
import { ledgerReason } from "@/db/queries/ledgerReasons";
import type { Random } from "@/lib/random";
import type { CatalogueItem } from "@/lib/site";
import type { ScrapReason } from "@/lib/stock";
import { addDays, type CalendarDate } from "@/lib/time";

/** What became of the end of each drum, the latest last; their words are the store's. */
const ENDS: readonly { weeksAgo: number; reason: ScrapReason; words: string }[] = [
  { weeksAgo: 21, reason: "too short", words: "no run is as short" },
  { weeksAgo: 17, reason: "damaged", words: "jacket crushed under a pallet" },
  { weeksAgo: 13, reason: "too short", words: "no run is as short" },
  { weeksAgo: 9, reason: "wet inside", words: "end left open in the rain" },
  { weeksAgo: 5, reason: "cut wrong", words: "cut from the wrong end, kinked" },
  { weeksAgo: 2, reason: "too short", words: "no run is as short" },
];

/** Saw allowance of a cut, as the rules have it at the start. */
const SAW_C = 20;
/** Every so many-th run came out longer than listed. */
const LONGER_EVERY = 4;

export function loadCableHistory(
  db: Db,
  catalogue: readonly CatalogueItem[],
  { random, today, now }: { random: Random; today: CalendarDate; now: number },
): void {
  const cables = catalogue.filter((i) => i.category === "IF cable").slice(0, 2);
  ENDS.forEach((end, n) => {
    const item = cables[n % cables.length]!;
    const serial = `${item.code}-P${String(n + 1).padStart(2, "0")}`;
    const receivedC = item.orderMultiple * 100;
    const on = addDays(today, -7 * end.weeksAgo);
    saveDrum(db, { serial, itemCode: item.code, receivedC });
    const row = {
      itemCode: item.code,
      drumSerial: serial,
      owner: item.owner,
      effectiveOn: on,
      postedAt: now - 86_400_000 * 7 * end.weeksAgo,
      postedBy: "Earlier work",
    };
    const from = { ...row, fromPlace: "WH-EAST" };
    postMovement(db, {
      ...row,
      key: `earlier drum ${serial}`,
      kind: "receipt",
      toPlace: "WH-EAST",
      quantityC: receivedC,
      effectiveOn: addDays(on, -20),
      reason: ledgerReason("drumBefore"),
    });
    let leftC = receivedC;
    const restC = 100 * (4 + random.below(9));
    for (let k = 1; leftC > restC; k++) {
      // The last run takes the drum to its rest.
      const listedC = leftC > 9_000 ? 100 * (25 + random.below(30)) : leftC - SAW_C - restC;
      const lengthC =
        k % LONGER_EVERY === 0 && leftC > 9_000 ? listedC + 10 * (5 + random.below(20)) : listedC;
      const label = `P${n + 1} run ${k}`;
      const runId = `earlier/${serial}/R${k}`;
      const figures = { label, n: String(lengthC / 100), m: String(listedC / 100) };
      const reason = ledgerReason(lengthC === listedC ? "cutAsListed" : "cutOtherwise", figures);
      postMovement(db, {
        ...from,
        key: `earlier cut ${runId}`,
        kind: "cut",
        quantityC: lengthC,
        runId,
        reason,
      });
      postMovement(db, {
        ...from,
        key: `earlier saw ${runId}`,
        kind: "scrap",
        quantityC: SAW_C,
        runId,
        reason: ledgerReason("saw", { label }),
      });
      leftC -= lengthC + SAW_C;
    }
    postMovement(db, {
      ...from,
      key: `earlier rest ${serial}`,
      kind: "scrap",
      quantityC: leftC,
      effectiveOn: addDays(on, 1),
      scrapReason: end.reason,
      reason: ledgerReason("scrapped", { why: end.words }),
    });
  });
}
