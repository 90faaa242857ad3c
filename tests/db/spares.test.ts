/** Spares of radio variants by warehouse: what is installed and planned nearby, what is wanted, and what netting makes of it. */
import { beforeEach, expect, test } from "vitest";
import type { Db } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadHops } from "@/db/queries/design";
import { recordFault } from "@/db/queries/faultRecord";
import { loadSupplies, rulesInForce } from "@/db/queries/programme";
import { addReport } from "@/db/queries/reports";
import { loadSpareDemand, setSpareRule, sparesWanted } from "@/db/queries/spares";
import { DEFAULT_ROADS, netPlaces, sparesKept } from "@/lib/programme";
import { sparesFor } from "@/lib/stock";
import { addDays } from "@/lib/time";
import { BY, TODAY, testStock } from "./make";

let db: Db;
beforeEach(() => {
  db = testStock().db;
});

const view = () => sparesWanted(db, TODAY, loadCatalogue(db), rulesInForce(db).stockPolicy);
const total = (of: (w: ReturnType<typeof view>["wants"][number]) => number) =>
  view().wants.reduce((sum, w) => sum + of(w), 0);
const radios = () => loadHops(db).reduce((n, h) => n + h.near.odus.length + h.far.odus.length, 0);

function install(visitId: string, daysAgo: number): void {
  addReport(db, {
    key: visitId,
    visitId,
    hopCode: visitId.split("/")[0]!,
    crewCode: "C1",
    workedOn: addDays(TODAY, -daysAgo),
    outcome: "done",
    workedMin: 300,
    note: "",
    reportedBy: "Test",
    reportedAt: 0,
    uses: [],
  });
}

test("every radio of the design stands in one line, as planned until its end is installed", () => {
  expect(radios()).toBeGreaterThan(0);
  expect(total((w) => w.planned)).toBe(radios());
  expect(total((w) => w.installed)).toBe(0);
  const hop = loadHops(db)[0]!;
  install(`${hop.code}/near/install`, 100);
  expect(total((w) => w.installed)).toBe(hop.near.odus.length);
  expect(total((w) => w.planned)).toBe(radios() - hop.near.odus.length);
  for (const w of view().wants) {
    expect(w.wanted).toBe(sparesFor(w.mean, 0.95));
    expect(w.rule).toBeNull();
  }
});

test("what fails raises the rates, what was released does not", () => {
  const before = view().rates;
  expect(before.deadShare).toBeCloseTo(0.02, 12);
  const variant = view().wants[0]!.itemCode;
  for (const n of [1, 2])
    recordFault(
      db,
      {
        key: `fault no ${n}`,
        itemCode: variant,
        serial: `S${n}`,
        quantity: 1,
        cause: n === 1 ? "dead on arrival" : "failed in service",
        symptom: "silent",
        warehouseCode: "WH-EAST",
        foundOn: TODAY,
        today: TODAY,
      },
      BY,
    );
  const after = view().rates;
  expect(after.deadShare).toBeCloseTo((1 + 2) / 101, 12);
  expect(after.failuresPerYear).toBeCloseTo((1 + 2) / 100, 12);
});

test("a fixed number or a level of its own counts before the rules', until it is dropped", () => {
  const { itemCode, placeCode } = view().wants[0]!;
  const of = () => view().wants.find((w) => w.itemCode === itemCode && w.placeCode === placeCode)!;
  const set = (rule: Parameters<typeof setSpareRule>[1]["rule"]) =>
    setSpareRule(db, { itemCode, placeCode, rule, reason: "far from the repairer" }, BY);
  expect(set({ fixed: 3 }).ok).toBe(true);
  expect(of()).toMatchObject({ wanted: 3, rule: { fixed: 3, reason: "far from the repairer", by: "Test" } });
  set({ level: 0.999 });
  expect(of()).toMatchObject({ level: 0.999, wanted: sparesFor(of().mean, 0.999) });
  set(null);
  expect(of().rule).toBeNull();
  const refusals = [
    setSpareRule(db, { itemCode: "LUG-16", placeCode, rule: { fixed: 1 }, reason: "no radio" }, BY),
    setSpareRule(db, { itemCode, placeCode: "VAN-1", rule: { fixed: 1 }, reason: "no warehouse" }, BY),
  ];
  expect(refusals.map((r) => (r.ok ? "" : r.problems[0]!.rule))).toEqual(["no-variant", "place"]);
});

test("spares are ordered, kept from other warehouses, and stop no visit", () => {
  const { itemCode, placeCode } = view().wants[0]!;
  setSpareRule(db, { itemCode, placeCode, rule: { fixed: 2 }, reason: "test" }, BY);
  const catalogue = loadCatalogue(db).filter((i) => i.code === itemCode);
  const { stockPolicy } = rulesInForce(db);
  const net = (onHand: number, needed: number) => {
    const supplies = loadSupplies(db, TODAY, catalogue, stockPolicy);
    const spareDemand = loadSpareDemand(db, TODAY, catalogue, stockPolicy);
    return netPlaces(
      needed > 0
        ? [{ itemCode, placeCode, day: 5, quantity: needed, visitId: "H/near/install", siteCode: "S" }]
        : [],
      {
        today: TODAY,
        dayCount: 60,
        catalogue: catalogue.map((i) => ({ ...i, safetyStock: 0 })),
        ...supplies,
        spares: sparesKept({ today: TODAY, spareDemand }, new Map()).filter(
          (s) => s.itemCode === itemCode && s.placeCode === placeCode,
        ),
        stock: [{ itemCode, lotRule: { kind: "lot for lot" }, shelves: [{ placeCode, onHand, lots: [] }] }],
        orders: [],
        transfers: [],
        depots: [],
        stockPolicy,
        roads: DEFAULT_ROADS,
      },
    ).rows.find((r) => r.placeCode === placeCode)!;
  };
  // Nothing needs it, nothing lies there: two are ordered for the shelf.
  expect(net(0, 0)).toMatchObject({ spares: 2 });
  expect(net(0, 0).withTransfers.orders.reduce((sum, o) => sum + o.quantity, 0)).toBe(2);
  expect(net(2, 0).withTransfers.orders).toEqual([]);
  // A visit may take them: it does not stop, and what it took is ordered again.
  const taken = net(2, 1);
  expect(taken.withTransfers.stops).toEqual([]);
  expect(taken.withTransfers.orders.map((o) => o.quantity)).toEqual([1]);
});
