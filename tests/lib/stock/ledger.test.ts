import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Random } from "@/lib/random";
import {
  balanceOf,
  EMPTY_LEDGER,
  type Ledger,
  ledgerTotals,
  MOVEMENT_KINDS,
  type Movement,
  type MovementKind,
  postMovement,
  reversalOf,
} from "@/lib/stock";
import { addDays, calendarDate } from "@/lib/time";

const DAY0 = calendarDate("2026-03-02");

let count = 0;
function row(kind: MovementKind, quantity: number, more: Partial<Movement> = {}): Movement {
  count++;
  return {
    id: `m${count}`,
    key: `k${count}`,
    kind,
    itemCode: "EK-10",
    owner: "contractor",
    quantity,
    on: DAY0,
    by: "store",
    reason: "counted",
    ...more,
  };
}

function posted(...movements: Movement[]): Ledger {
  return movements.reduce((ledger, movement) => {
    const result = postMovement(ledger, movement);
    if (!result.ok) throw new Error(result.problems.map((problem) => problem.message).join(" "));
    return result.value;
  }, EMPTY_LEDGER);
}

function rules(ledger: Ledger, movement: Movement): string[] {
  const result = postMovement(ledger, movement);
  return result.ok ? [] : result.problems.map((problem) => problem.rule);
}

const on = (day: number) => addDays(DAY0, day);
const IN = { toPlaceId: "depot" };
const OUT = { fromPlaceId: "depot" };

describe("the ledger", () => {
  it("adds up every kind of movement by place", () => {
    const ledger = posted(
      row("receipt", 20, IN),
      row("transfer", 8, { ...OUT, toPlaceId: "van" }),
      row("issue", 5, { fromPlaceId: "van" }),
      row("return", 2, IN),
      row("scrap", 1, OUT),
      row("count adjustment", 3, OUT),
      row("count adjustment", 1, { toPlaceId: "van" }),
    );
    expect(balanceOf(ledger.movements).map((b) => [b.placeId, b.quantity])).toEqual([
      ["depot", 10],
      ["van", 4],
    ]);
    expect(ledgerTotals(ledger.movements)).toEqual({ in: 31, out: 17, onHand: 14 });
  });

  it("keeps owners and lots apart", () => {
    const ledger = posted(
      row("receipt", 4, { ...IN, lotId: "L1" }),
      row("receipt", 4, { ...IN, owner: "customer" }),
    );
    expect(rules(ledger, row("issue", 5, { ...OUT, lotId: "L1" }))).toEqual(["below-zero"]);
    expect(rules(ledger, row("issue", 1, OUT))).toEqual(["below-zero"]);
    expect(rules(ledger, row("issue", 4, { ...OUT, owner: "customer" }))).toEqual([]);
  });

  it("refuses what would take a balance below zero, and leaves the ledger as it was", () => {
    const ledger = posted(row("receipt", 3, IN));
    const result = postMovement(ledger, row("issue", 4, OUT));
    expect(result.ok).toBe(false);
    expect(ledger.movements).toHaveLength(1);
    expect(rules(ledger, row("issue", 3, OUT))).toEqual([]);
  });

  it("tries a backdated row against every later balance", () => {
    const ledger = posted(row("receipt", 5, { ...IN, on: on(0) }), row("issue", 4, { ...OUT, on: on(6) }));
    expect(rules(ledger, row("issue", 2, { ...OUT, on: on(3) }))).toEqual(["below-zero"]);
    expect(rules(ledger, row("issue", 1, { ...OUT, on: on(3) }))).toEqual([]);
    expect(rules(ledger, row("issue", 1, { ...OUT, on: on(-1) }))).toEqual(["below-zero"]);
  });

  it("gives the balance of any day", () => {
    const { movements } = posted(
      row("receipt", 5, { ...IN, on: on(2) }),
      row("issue", 4, { ...OUT, on: on(6) }),
    );
    expect(balanceOf(movements, on(1))).toEqual([]);
    expect(balanceOf(movements, on(5)).map((b) => b.quantity)).toEqual([5]);
    expect(balanceOf(movements).map((b) => b.quantity)).toEqual([1]);
  });

  it("moves nothing twice when one submission comes twice", () => {
    const first = row("receipt", 5, IN);
    const ledger = posted(first);
    const again = postMovement(ledger, { ...first, id: "another row" });
    expect(again.ok && again.value).toBe(ledger);
    expect(rules(ledger, { ...first, quantity: 6 })).toEqual(["key-reused"]);
    expect(rules(ledger, row("receipt", 1, { ...IN, id: first.id }))).toEqual(["id-reused"]);
  });

  it("checks the shape of every kind", () => {
    const cases: [Movement, string][] = [
      [row("receipt", 0, IN), "quantity"],
      [row("receipt", Number.NaN, IN), "quantity"],
      [row("receipt", 1, OUT), "places"],
      [row("issue", 1, IN), "places"],
      [row("transfer", 1, OUT), "places"],
      [row("transfer", 1, { ...OUT, toPlaceId: "depot" }), "same-place"],
      [row("count adjustment", 1, { ...OUT, toPlaceId: "van" }), "places"],
      [row("cut", 1, OUT), "cut-drum"],
      [row("receipt", 2, { ...IN, serial: "R-1" }), "serial-one"],
      [row("scrap", 1, { ...OUT, reason: " " }), "reason"],
      [row("receipt", 1, { ...IN, by: "" }), "by"],
      [row("reversal", 1, OUT), "reverses"],
      [row("issue", 1, { ...OUT, reverses: "m1" }), "reverses"],
    ];
    for (const [movement, rule] of cases) expect(rules(EMPTY_LEDGER, movement), rule).toContain(rule);
    expect(MOVEMENT_KINDS).toHaveLength(13);
  });
});

describe("a reversal", () => {
  const original = row("receipt", 5, { ...IN, on: on(2) });
  const back = (more: Partial<Movement> = {}) => {
    count++;
    const r = { id: `m${count}`, key: `k${count}`, on: on(3), by: "store", reason: "wrong item" };
    return { ...reversalOf(original, r), ...more };
  };

  it("takes a row back exactly and points at it", () => {
    const ledger = posted(original, back());
    expect(balanceOf(ledger.movements)).toEqual([]);
    expect(ledger.movements[1]).toMatchObject({
      kind: "reversal",
      reverses: original.id,
      fromPlaceId: "depot",
    });
  });

  it("is refused for an unknown row, twice, of a reversal, before its row, or for another quantity", () => {
    const ledger = posted(original);
    expect(rules(ledger, back({ reverses: "nothing" }))).toEqual(["reverses-unknown"]);
    expect(rules(ledger, back({ on: on(1) }))).toEqual(["reversal-before"]);
    expect(rules(ledger, back({ quantity: 4 }))).toEqual(["reversal-mirror"]);
    const first = back();
    const done = posted(original, first);
    expect(rules(done, back())).toEqual(["reversed-already"]);
    const ofReversal = reversalOf(first, { id: "z", key: "z", on: on(4), by: "store", reason: "no" });
    expect(rules(done, ofReversal)).toEqual(["reverses-reversal"]);
  });

  it("is refused when what it takes back is already used", () => {
    const ledger = posted(original, row("issue", 1, { ...OUT, on: on(3) }));
    expect(rules(ledger, back())).toEqual(["below-zero"]);
  });
});

describe("drums and serials", () => {
  const drum = (kind: MovementKind, quantity: number, more: Partial<Movement>) =>
    row(kind, quantity, { itemCode: "C10", drumId: "D1", ...more });

  it("a drum is cut, moves whole, and is in one place", () => {
    const ledger = posted(
      drum("receipt", 50_000, IN),
      drum("cut", 4_720, { ...OUT, on: on(1) }),
      drum("transfer", 45_280, { ...OUT, toPlaceId: "van", on: on(2) }),
    );
    expect(rules(ledger, drum("cut", 100, { ...OUT, on: on(3) }))).toEqual(["below-zero"]);
    expect(rules(ledger, drum("cut", 100, { fromPlaceId: "van", on: on(3) }))).toEqual([]);
    expect(rules(ledger, drum("return", 10, { ...IN, on: on(3) }))).toEqual(["one-place"]);
    expect(rules(ledger, drum("transfer", 100, { fromPlaceId: "van", ...IN, on: on(3) }))).toEqual([
      "whole-drum",
    ]);
    // A backdated cut would leave the later transfer with less than it moved.
    expect(rules(ledger, drum("cut", 100, { ...OUT, on: on(1) }))).toEqual(["whole-drum"]);
  });

  it("a drum is received once, unless the receipt was taken back", () => {
    const first = drum("receipt", 50_000, IN);
    const ledger = posted(first);
    expect(rules(ledger, drum("receipt", 10, IN))).toEqual(["received-twice"]);
    const back = reversalOf(first, { id: "r", key: "r", on: on(0), by: "store", reason: "wrong drum" });
    expect(rules(posted(first, back), drum("receipt", 30_000, IN))).toEqual([]);
  });

  it("a serial number is one piece in one place", () => {
    const odu = (kind: MovementKind, more: Partial<Movement>) =>
      row(kind, 1, { itemCode: "ODU", serial: "S1", ...more });
    const ledger = posted(odu("receipt", IN), odu("issue", OUT));
    expect(rules(ledger, odu("issue", OUT))).toEqual(["below-zero"]);
    const returned = posted(...ledger.movements, odu("return", IN));
    expect(rules(returned, odu("return", IN))).toEqual(["serial-in-stock"]);
    expect(rules(returned, odu("return", { toPlaceId: "van" }))).toEqual(["serial-in-stock"]);
  });
});

describe("any sequence of movements", () => {
  it("keeps on hand at or above zero at every place on every day, and the sums whole", () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const random = new Random(seed);
        let ledger = EMPTY_LEDGER;
        let accepted = 0;
        for (let step = 0; step < 40; step++) {
          const movement = randomMovement(random, step, ledger);
          const before = ledger.movements.length;
          const result = postMovement(ledger, movement);
          if (!result.ok) {
            expect(result.problems.length).toBeGreaterThan(0);
            continue;
          }
          accepted++;
          ledger = result.value;
          expect(ledger.movements.length).toBeLessThanOrEqual(before + 1);
        }
        expect(accepted).toBeGreaterThan(0);
        for (let day = 0; day < 10; day++) {
          const balances = balanceOf(ledger.movements, on(day));
          for (const balance of balances) expect(balance.quantity).toBeGreaterThanOrEqual(0);
          for (const drumId of ["D1", "D2"]) {
            expect(balances.filter((b) => b.drumId === drumId).length).toBeLessThanOrEqual(1);
          }
        }
        const total = balanceOf(ledger.movements).reduce((sum, b) => sum + b.quantity, 0);
        expect(ledgerTotals(ledger.movements).onHand).toBe(total);
      }),
      { numRuns: 150, seed: 16 },
    );
  });

  function randomMovement(random: Random, step: number, ledger: Ledger): Movement {
    const base = { id: `s${step}`, key: `s${step}`, on: on(random.below(10)), by: "store", reason: "test" };
    if (random.below(6) === 0 && ledger.movements.length > 0) {
      return reversalOf(random.pick(ledger.movements), { ...base, on: on(9) });
    }
    const kind = step === 0 ? "receipt" : random.pick(MOVEMENT_KINDS.filter((k) => k !== "reversal"));
    const [a, b] = random.shuffle(["depot", "van", "site"]);
    const isDrum = kind === "cut" || random.below(3) === 0;
    const goesIn =
      kind === "receipt" || kind === "return" || (kind === "count adjustment" && random.below(2) === 0);
    return {
      ...base,
      kind,
      itemCode: isDrum ? "C10" : "EK-10",
      owner: "contractor",
      quantity: 1 + random.below(kind === "receipt" ? 30 : 8),
      ...(isDrum ? { drumId: random.pick(["D1", "D2"]) } : {}),
      ...(goesIn || kind === "transfer" ? { toPlaceId: b } : {}),
      ...(!goesIn ? { fromPlaceId: a } : {}),
    };
  }
});
