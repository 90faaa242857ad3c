import { beforeEach, expect, test } from "vitest";
import { ledgerDifferences, loadLedger } from "@/db/queries/ledger";
import { confirmCut, takeBack } from "@/db/queries/movements";
import { cutByItem, loadOffcuts, loadRemnants, scrapRemnant } from "@/db/queries/offcuts";
import { loadBalances } from "@/db/queries/shelves";
import { reportUse, visitReport } from "@/db/schema";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays } from "@/lib/time";
import { loadCableHistory } from "@/seed/cableHistory";
import { BY, CABLE, DRUM_C, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
const PAST = addDays(TODAY, -30);
const offcuts = () => loadOffcuts(t.db, PAST, TODAY).map((o) => [o.reason, o.lengthC]);

function cut(): void {
  const made = confirmCut(
    t.db,
    {
      drumSerial: "D1",
      runId: t.runId,
      visitId: t.visitId,
      label: "run",
      lengthC: 9_000,
      plannedC: 9_000,
      sawAllowanceC: 20,
      on: TODAY,
      planId: t.plan.id,
    },
    BY,
  );
  if (!made.ok) throw new Error(made.problems[0]?.message);
}

const scrap = (over: object = {}) =>
  scrapRemnant(
    t.db,
    {
      serial: "D1",
      remainingC: 980,
      scrapReason: "too short",
      note: "",
      today: TODAY,
      key: "scrap D1",
      ...over,
    },
    BY,
  );

beforeEach(() => {
  t = testStock();
});

test("a drum becomes a remnant by its first cut; the saw allowance is an offcut, the run is not", () => {
  expect(loadRemnants(t.db)).toEqual([]);
  cut();
  expect(loadRemnants(t.db)).toMatchObject([
    { serial: "D1", itemCode: CABLE.code, placeCode: "WH-EAST", remainingC: DRUM_C - 9_020 },
  ]);
  expect(offcuts()).toEqual([["saw allowance", 20]]);
  expect(cutByItem(t.db, PAST, TODAY)).toEqual(new Map([[CABLE.code, 9_000]]));
});

test("a scrapped remnant leaves the rack with its reason, once, and comes back when its row is taken back", () => {
  cut();
  const made = scrap({ note: "wet end cut off" });
  expect(made.ok).toBe(true);
  expect(loadRemnants(t.db)).toEqual([]);
  expect(offcuts()).toContainEqual(["too short", 980]);
  const [row] = loadLedger(t.db, { drumSerial: "D1", limit: 1 });
  expect(row).toMatchObject({ kind: "scrap", reason: "too short: wet end cut off", quantityC: 980 });
  const again = scrap({ key: "another" });
  expect(again.ok ? "" : again.problems[0]?.rule).toBe("drum-empty");
  expect(ledgerDifferences(t.db)).toEqual([]);
  if (made.ok) takeBack(t.db, made.value.id, "wrong drum", TODAY, BY);
  expect(offcuts()).toEqual([["saw allowance", 20]]);
  expect(loadRemnants(t.db)).toMatchObject([{ serial: "D1", remainingC: 980 }]);
});

test("a drum that was cut meanwhile is not scrapped by an old figure", () => {
  const refusedScrap = scrap({ remainingC: DRUM_C - 1 });
  expect(refusedScrap.ok ? "" : refusedScrap.problems[0]).toMatchObject({ rule: "drum-changed" });
  expect(offcuts()).toEqual([]);
});

test("what crews report as left of a run counts, days outside do not", () => {
  cut();
  const report = t.db
    .insert(visitReport)
    .values({
      key: "r1",
      visitId: t.visitId,
      hopCode: t.visitId.split("/")[0]!,
      crewCode: "C1",
      workedOn: TODAY,
      outcome: "done",
      workedMin: 300,
      reportedBy: "Test",
      reportedAt: BY.at,
    })
    .returning({ id: visitReport.id })
    .get();
  t.db
    .insert(reportUse)
    .values({
      reportId: report.id,
      lineNo: 1,
      itemCode: CABLE.code,
      runId: t.runId,
      usedC: 8_700,
      leftC: 300,
    })
    .run();
  expect(offcuts()).toEqual(
    expect.arrayContaining([
      ["saw allowance", 20],
      ["left at the site", 300],
    ]),
  );
  expect(loadOffcuts(t.db, PAST, addDays(TODAY, -1))).toEqual([]);
});

test("the demonstration's past drums are used up whole, with every reason told and some runs longer than listed", () => {
  const before = loadBalances(t.db);
  const history = { random: new Random("cable"), today: TODAY, now: BY.at };
  loadCableHistory(t.db, DEFAULT_CATALOGUE, history);
  expect(loadBalances(t.db)).toEqual(before);
  expect(ledgerDifferences(t.db)).toEqual([]);
  const rests = loadOffcuts(t.db, addDays(TODAY, -365), TODAY).filter((o) => o.reason !== "saw allowance");
  expect(new Set(rests.map((o) => o.reason))).toEqual(
    new Set(["too short", "damaged", "wet inside", "cut wrong"]),
  );
  for (const rest of rests) expect(rest.lengthC).toBeLessThan(1_500);
  const cuts = loadLedger(t.db, { limit: 500 }).filter(
    (r) => r.kind === "cut" && r.drumSerial?.includes("-P"),
  );
  const longer = cuts.filter((r) => / m, listed /.test(r.reason));
  expect(longer.length).toBeGreaterThan(3);
  expect(longer.length).toBeLessThan(cuts.length / 2);
});
