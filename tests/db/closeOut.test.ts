/** A hop's material from the drum and the shelf to the tower and back: what went out is accounted for, or said not to be. */
import { beforeEach, expect, test } from "vitest";
import { loadCloseOut, loadSerialAccounts, loadUnbookedUse } from "@/db/queries/closeOut";
import { loadHop } from "@/db/queries/design";
import { recordFault } from "@/db/queries/faultRecord";
import { loadFaults } from "@/db/queries/faultViews";
import { hangUnit, loadHung, takeDownUnit } from "@/db/queries/hung";
import { issueKit } from "@/db/queries/kitIssue";
import { pickLine } from "@/db/queries/kitPicking";
import { returnFromKit } from "@/db/queries/kitReturn";
import { loadKitView } from "@/db/queries/kitView";
import { askedOfLedger, countLedger, loadLedger, postMovement } from "@/db/queries/ledger";
import { confirmCut, recordMovement, takeBack } from "@/db/queries/movements";
import { loadReports } from "@/db/queries/reports";
import { BY, CABLE, PIECE, sendReport, TAPE, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;

/** A run of 23.50 m is cut, six pieces and three rolls go onto the vehicle. */
beforeEach(() => {
  t = testStock();
  confirmCut(
    t.db,
    {
      drumSerial: "D1",
      runId: t.runId,
      visitId: t.visitId,
      label: "Run",
      lengthC: 2_350,
      plannedC: 2_350,
      sawAllowanceC: 20,
      on: TODAY,
      planId: t.plan.id,
    },
    BY,
  );
  for (const l of loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines)
    if (!l.runId) pickLine(t.db, t.plan.id, t.visitId, l.lineNo, l.boxC, BY);
  const issued = issueKit(
    t.db,
    t.plan,
    { visitId: t.visitId, vehiclePlace: "VAN-1", counted: 10, countedBy: "Second", today: TODAY },
    BY,
  );
  expect(issued.ok).toBe(true);
});

const open = () => {
  const [hop, ...others] = loadCloseOut(t.db);
  expect(others).toEqual([]);
  return Object.fromEntries(hop!.lines.map((l) => [l.itemCode, l.openC]));
};

function report(
  pieces: number,
  rolls: number,
  metres: number,
  left: number,
  faults: { itemCode: string; cause: "dead on arrival"; symptom: string }[] = [],
): number[] {
  const use = (itemCode: string, used: number, part: object = {}) => ({
    itemCode,
    runId: null,
    drumSerial: null,
    used,
    left: 0,
    ...part,
  });
  const made = sendReport(t, {
    workedMin: 400,
    faults,
    // More metres than were cut are asked about, and dead pieces on top of the kit.
    sureOf: ["uses.2.used", "faults.0.itemCode"],
    uses: [
      use(PIECE.code, pieces),
      use(TAPE.code, rolls),
      use(CABLE.code, metres, { runId: t.runId, drumSerial: "D1", left }),
    ],
  });
  expect(made.ok).toBe(true);
  return made.ok ? made.value.faults : [];
}

test("a dead piece that the crew reports goes from the vehicle onto the hold of its kit's warehouse", () => {
  const dead = { itemCode: PIECE.code, cause: "dead on arrival" as const, symptom: "bent thread" };
  const faults = report(4, 3, 22.5, 1, [dead, dead]);
  expect(faults).toHaveLength(2);
  expect(open()).toEqual({ [CABLE.code]: 0, [PIECE.code]: 0, [TAPE.code]: 0 });
  expect(loadFaults(t.db)).toMatchObject([
    { state: "on hold", placeCode: "WH-EAST HOLD", visitId: t.visitId },
    { state: "on hold", placeCode: "WH-EAST HOLD", visitId: t.visitId },
  ]);
  // One more than the vehicle has left: it was installed, so its hop is not charged twice.
  expect(report(4, 3, 22.5, 1, [dead])).toHaveLength(1);
  expect(loadFaults(t.db)[0]!.rows[0]!.fromPlace).toBeNull();
  expect(open()[PIECE.code]).toBe(0);
});

test("the piece that a kit took because its need was rounded up is carried on the vehicle, not open", () => {
  t.db.$client
    .prepare("UPDATE kit_line SET needed_c = 510 WHERE visit_id = ? AND item_code = ?")
    .run(t.visitId, PIECE.code);
  const line = () => loadCloseOut(t.db)[0]!.lines.find((l) => l.itemCode === PIECE.code);
  report(5, 3, 22.5, 1);
  expect(line()).toMatchObject({ openC: 0, carriedC: 100, vehicles: ["VAN-1"] });
  expect(loadCloseOut(t.db)[0]!.openLines).toBe(0);
  report(4, 3, 22.5, 1);
  expect(line()).toMatchObject({ openC: 100, carriedC: 100, vehicles: ["VAN-1"] });
});

test("a report after a done one stands in its place: nothing is booked twice, and too much is put back", () => {
  report(4, 3, 22.5, 1);
  const rows = () => loadLedger(t.db, { limit: 200 }).length;
  const before = rows();
  // The hours were wrong: the material is as it was.
  report(4, 3, 22.5, 1);
  expect(rows()).toBe(before);
  expect(open()).toEqual({ [CABLE.code]: 0, [PIECE.code]: 200, [TAPE.code]: 0 });
  report(3, 3, 20, 3.5);
  expect(open()).toEqual({ [CABLE.code]: 0, [PIECE.code]: 300, [TAPE.code]: 0 });
  report(5, 2, 22.5, 1);
  expect(open()).toEqual({ [CABLE.code]: 0, [PIECE.code]: 100, [TAPE.code]: 100 });
});

test("a report on top of a done one adds to it, and one after that stands in its place alone", () => {
  report(4, 3, 22.5, 1);
  const use = (used: number) => [{ itemCode: PIECE.code, runId: null, drumSerial: null, used, left: 0 }];
  const onTop = (used: number, isOnTop: boolean) =>
    sendReport(t, { workedMin: 60, uses: use(used), isOnTop }).ok;
  expect(onTop(2, true)).toBe(true);
  expect(open()[PIECE.code]).toBe(0);
  const worked = () => loadReports(t.db).map((r) => r.workedMin);
  expect(worked()).toEqual([400, 60]);
  // Only one piece was fitted on the second day.
  expect(onTop(1, false)).toBe(true);
  expect(open()[PIECE.code]).toBe(100);
  expect(worked()).toEqual([400, 60]);
});

test("what was reported used and is not on the vehicle by the books is listed until it is booked", () => {
  expect(loadUnbookedUse(t.db)).toEqual([]);
  // Six pieces and three rolls went out; the run is cut by the books, the other one is not.
  report(8, 3, 22.5, 1);
  expect(loadUnbookedUse(t.db)).toEqual([{ visitId: t.visitId, itemCode: PIECE.code, quantityC: 200 }]);
  report(6, 3, 22.5, 1);
  expect(loadUnbookedUse(t.db)).toEqual([]);
  const other = { itemCode: CABLE.code, runId: "no such run", drumSerial: null, used: 25.5, left: 0 };
  sendReport(t, { uses: [other], isOnTop: true });
  expect(loadUnbookedUse(t.db)).toEqual([{ visitId: t.visitId, itemCode: CABLE.code, quantityC: 2_550 }]);
});

test("the ledger is asked with what a page shows: a code in any case, a hop, an end, or a visit's id", () => {
  report(4, 3, 22.5, 1);
  const [hopCode, side] = t.visitId.split("/") as [string, string];
  const found = (asked: { item?: string; visit?: string }) =>
    loadLedger(t.db, { ...askedOfLedger(t.db, asked), limit: 200 }).length;
  const all = found({ visit: t.visitId });
  expect(all).toBeGreaterThan(0);
  expect(found({ visit: `${hopCode.toLowerCase()} ${side}` })).toBe(all);
  expect(found({ visit: `${hopCode} ${side} end` })).toBe(all);
  expect(found({ visit: `${hopCode} ${side} install` })).toBe(all);
  expect(found({ visit: hopCode })).toBe(all);
  expect(found({ visit: `${hopCode}0` })).toBe(0);
  expect(found({ item: PIECE.code.toLowerCase(), visit: hopCode })).toBeLessThan(all);
  expect(found({ item: PIECE.code.toLowerCase() })).toBe(found({ item: PIECE.code }));
  expect(found({})).toBe(loadLedger(t.db, { limit: 200 }).length);
});

test("the ledger is asked for a place with every row from it or to it", () => {
  report(4, 3, 22.5, 1);
  const found = (place: string) =>
    loadLedger(t.db, { ...askedOfLedger(t.db, { place }), limit: 200 }).map((r) => r.id);
  const all = loadLedger(t.db, { limit: 200 });
  const touching = all.filter((r) => r.fromPlace === "VAN-1" || r.toPlace === "VAN-1");
  expect(touching.some((r) => r.fromPlace === "VAN-1")).toBe(true);
  expect(touching.some((r) => r.toPlace === "VAN-1")).toBe(true);
  expect(touching.length).toBeLessThan(all.length);
  expect(found("VAN-1")).toEqual(touching.map((r) => r.id));
  expect(found(" van-1 ")).toEqual(found("VAN-1"));
  expect(countLedger(t.db, { placeCode: "VAN-1" })).toBe(touching.length);
  expect(found("NOWHERE")).toEqual([]);
});

test("what somebody booked by hand for the visit is no report's to put back", () => {
  postMovement(t.db, {
    key: "by hand",
    kind: "installed",
    itemCode: PIECE.code,
    owner: "contractor",
    fromPlace: "VAN-1",
    quantityC: 100,
    effectiveOn: TODAY,
    postedAt: BY.at,
    visitId: t.visitId,
    reason: "told by telephone",
    postedBy: BY.name,
  });
  report(4, 3, 22.5, 1);
  expect(open()[PIECE.code]).toBe(100);
  report(0, 3, 22.5, 1);
  expect(open()[PIECE.code]).toBe(500);
});

test("what went out is open until it is reported, returned or scrapped; the saw allowance is the drum's", () => {
  expect(open()).toEqual({ [CABLE.code]: 2_350, [PIECE.code]: 600, [TAPE.code]: 300 });
  report(4, 3, 22.5, 1);
  expect(open()).toEqual({ [CABLE.code]: 0, [PIECE.code]: 200, [TAPE.code]: 0 });
  returnFromKit(
    t.db,
    {
      visitId: t.visitId,
      toPlace: "WH-EAST",
      lines: [{ itemCode: PIECE.code, lotCode: "", owner: "contractor", quantityC: 100 }],
      today: TODAY,
      key: "one back",
    },
    BY,
  );
  const scrap = { kind: "scrap" as const, itemCode: PIECE.code, quantity: 1, on: TODAY, today: TODAY };
  const note = {
    ...scrap,
    fromPlace: "VAN-1",
    reason: "dead on arrival",
    visitId: t.visitId,
    key: "one is dead",
  };
  const thrown = recordMovement(t.db, note, BY);
  expect(thrown.ok).toBe(true);
  expect(open()).toEqual({ [CABLE.code]: 0, [PIECE.code]: 0, [TAPE.code]: 0 });
  expect(loadCloseOut(t.db)[0]!.openLines).toBe(0);
  takeBack(
    t.db,
    loadLedger(t.db, { itemCode: PIECE.code, limit: 1 })[0]!.id,
    "not dead after all",
    TODAY,
    BY,
  );
  expect(open()[PIECE.code]).toBe(100);
});

test("a report of more than was cut shows as more than went out", () => {
  report(6, 3, 25, 0);
  expect(open()).toEqual({ [CABLE.code]: -150, [PIECE.code]: 0, [TAPE.code]: 0 });
});

test("only scrap and returns may name a visit, and it must be one", () => {
  const base = {
    itemCode: PIECE.code,
    on: TODAY,
    today: TODAY,
    reason: "for the test",
    quantity: 1,
    key: "named",
  };
  const rules = (part: object) => {
    const answer = recordMovement(t.db, { ...base, ...part } as never, BY);
    return answer.ok ? [] : answer.problems.map((p) => p.rule);
  };
  expect(rules({ kind: "transfer", fromPlace: "WH-EAST", toPlace: "WH-WEST", visitId: t.visitId })).toEqual([
    "visit-kind",
  ]);
  expect(rules({ kind: "scrap", fromPlace: "WH-EAST", visitId: "nonsense" })).toEqual(["visit-unknown"]);
});

test("each radio of a hop is told by its serial: hanging, back on hold, or missing once it was taken down", () => {
  const hopCode = t.visitId.split("/")[0]!;
  const radio = loadHop(t.db, hopCode)!.near.odus[0]!;
  const hang = (serial: string, key: string) =>
    hangUnit(
      t.db,
      { key, serial, hopCode, side: "near", oduLabel: radio.label, on: TODAY, today: TODAY },
      BY,
    );
  const states = () =>
    Object.fromEntries((loadSerialAccounts(t.db).get(hopCode) ?? []).map((s) => [s.serial, s.state]));
  expect(states()).toEqual({});
  expect(hang("RU-1", "first").ok).toBe(true);
  expect(states()).toEqual({ "RU-1": "hangs" });
  // Another takes its place: the first must be somewhere.
  expect(hang("RU-2", "second").ok).toBe(true);
  expect(states()).toEqual({ "RU-1": "missing", "RU-2": "hangs" });
  const itemCode = loadHung(t.db, { serial: "RU-1" })[0]!.itemCode;
  const found = recordFault(
    t.db,
    {
      key: "found later",
      itemCode,
      serial: "RU-1",
      quantity: 1,
      cause: "failed in service",
      symptom: "no power",
      warehouseCode: "WH-EAST",
      foundOn: TODAY,
      today: TODAY,
    },
    BY,
  );
  expect(found.ok).toBe(true);
  expect(states()).toEqual({ "RU-1": "back", "RU-2": "hangs" });
  const hung = loadHung(t.db, { serial: "RU-2", onlyStanding: true })[0]!;
  takeDownUnit(t.db, { id: hung.id, hopCode, on: TODAY, why: "written wrong", today: TODAY }, BY);
  expect(states()).toEqual({ "RU-1": "back" });
});
