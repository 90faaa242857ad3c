/** What lies where, page by page, and balances held against the ledger. */
import fc from "fast-check";
import { beforeEach, expect, it } from "vitest";
import { lastReconciled, reconcile, reconcileJob } from "@/app/_server/reconcile";
import { claimNextJob, endJob } from "@/db/queries/jobs";
import { countLedger, ledgerDifferences, loadLedger } from "@/db/queries/ledger";
import {
  countOnHand,
  loadOnHandPage,
  loadOnHandRows,
  type OnHandFilter,
  type OnHandRow,
} from "@/db/queries/onHand";
import type { InstantMillis } from "@/lib/time";
import { PIECE, TAPE, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
beforeEach(() => {
  t = testStock();
});

const keyOf = (r: OnHandRow) => JSON.stringify([r.itemCode, r.placeCode, r.lotCode, r.drumSerial, r.owner]);

function allPages(filter: OnHandFilter, limit: number): string[] {
  const keys: string[] = [];
  for (let after: string | undefined; ; ) {
    const page = loadOnHandPage(t.db, TODAY, filter, limit, after);
    expect(page.rows.length).toBeLessThanOrEqual(limit);
    keys.push(...page.rows.map(keyOf));
    if (page.next === null) return keys;
    after = page.next;
  }
}

it("gives every row once, in pages of any size, and what a filter asks for", () => {
  const all = loadOnHandRows(t.db, TODAY);
  expect(all.length).toBeGreaterThan(4);
  expect(countOnHand(t.db, TODAY)).toEqual({
    rows: all.length,
    expired: all.filter((r) => r.isExpired).length,
  });
  const inOrder = (rows: readonly OnHandRow[]) => rows.map(keyOf).sort();
  fc.assert(
    fc.property(
      fc.constantFrom("", TAPE.code.slice(0, 3).toLowerCase(), TAPE.name.slice(2, 6), "%", "_"),
      fc.constantFrom("", "WH-EAST", "VAN-1"),
      fc.boolean(),
      fc.integer({ min: 1, max: 5 }),
      (text, placeCode, onlyExpired, limit) => {
        const fits = (r: OnHandRow) =>
          [r.itemCode, r.name].some((words) => words.toLowerCase().includes(text.toLowerCase())) &&
          (placeCode === "" || r.placeCode === placeCode) &&
          (!onlyExpired || r.isExpired);
        const keys = allPages({ text, placeCode, onlyExpired }, limit);
        expect(new Set(keys).size).toBe(keys.length);
        expect(keys.sort()).toEqual(inOrder(all.filter(fits)));
      },
    ),
    { numRuns: 60, seed: 17 },
  );
  // What nobody's link says begins at the beginning.
  expect(loadOnHandPage(t.db, TODAY, {}, 2, "no key").rows).toEqual(loadOnHandPage(t.db, TODAY, {}, 2).rows);
});

it("turns the pages of the ledger by the last row's number", () => {
  const all = loadLedger(t.db, { limit: 1000 });
  const first = loadLedger(t.db, { limit: 3 });
  const second = loadLedger(t.db, { limit: 3, before: first.at(-1)!.id });
  expect([...first, ...second].map((r) => r.id)).toEqual(all.slice(0, 6).map((r) => r.id));
  expect(countLedger(t.db, {})).toBe(all.length);
});

it("finds a balance that somebody changed past the ledger, lot by lot, and says so until it is mended", () => {
  const run = () => {
    const id = reconcile(t.db, null);
    expect(reconcile(t.db, null)).toBe(id); // one that waits is enough
    const at = 1 as InstantMillis;
    expect(claimNextJob(t.db, 1, at)?.id).toBe(id);
    endJob(t.db, id, { state: "done", result: reconcileJob({}, { db: t.db }), now: at });
    return lastReconciled(t.db);
  };
  expect(lastReconciled(t.db)).toEqual({ done: null, activeJobId: null });
  expect(run().done?.result).toEqual({ rows: countLedger(t.db, {}), differences: 0, first: [] });
  // The sum over the lots stays, so that only a look at each lot finds it.
  const shift = (lot: string, by: number) =>
    t.db.$client
      .prepare("UPDATE balance SET quantity_c = quantity_c + ? WHERE item_code = ? AND lot_code = ?")
      .run(by, TAPE.code, lot);
  shift("SOON", 100);
  shift("LONG", -100);
  const found = run().done!.result;
  expect(found.differences).toBe(2);
  expect(found.first.map((d) => [d.lotCode, d.balanceC - d.ledgerC]).sort()).toEqual([
    ["LONG", -100],
    ["SOON", 100],
  ]);
  expect(ledgerDifferences(t.db).every((d) => d.itemCode !== PIECE.code)).toBe(true);
});
