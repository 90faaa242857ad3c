/** Which serial hangs where: by a crew's report or at the desk, once, until it is exchanged, faulty or taken down. */
import { beforeEach, expect, it } from "vitest";
import german from "@/app/_ui/language/catalogue/de/common.json";
import { messageOf } from "@/app/_ui/language/problemWords";
import { makeWords } from "@/app/_ui/language/words";
import { radiosOf } from "@/app/(work)/week/visit/[...visitId]/radios";
import { loadHop } from "@/db/queries/design";
import { recordFault } from "@/db/queries/faultRecord";
import { hangUnit, loadHung, takeDownUnit, variantOfPosition } from "@/db/queries/hung";
import { ledgerDifferences, loadLedger, postMovement } from "@/db/queries/ledger";
import { loadBalances } from "@/db/queries/shelves";
import type { VisitReportInput } from "@/db/queries/visitReport";
import { loadCrewFacts } from "@/db/queries/week";
import type { Result } from "@/lib/result";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays } from "@/lib/time";
import { BY, sendReport, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
let hopCode: string;
let label: string;
let itemCode: string;
const rule = (r: Result<unknown>) => (r.ok ? "ok" : r.problems.map((p) => p.rule).join(", "));

beforeEach(() => {
  t = testStock();
  hopCode = t.visitId.split("/")[0]!;
  label = loadHop(t.db, hopCode)!.near.odus[0]!.label;
  itemCode = variantOfPosition(t.db, { hopCode, side: "near", oduLabel: label })!;
});

let forms = 0;
const hang = (serial: string, more: Partial<Parameters<typeof hangUnit>[1]> = {}) =>
  hangUnit(
    t.db,
    {
      key: `form ${forms++}`,
      serial,
      hopCode,
      side: "near",
      oduLabel: label,
      on: TODAY,
      today: TODAY,
      ...more,
    },
    BY,
  );
const standing = () => loadHung(t.db, { hopCodes: [hopCode], onlyStanding: true }).map((h) => h.serial);

/** Radios of the end from the customer, by way of the warehouse. */
function putOnVehicle(vehicle: string, quantityC: number): void {
  const row = {
    itemCode,
    owner: "customer" as const,
    quantityC,
    effectiveOn: TODAY,
    postedAt: BY.at,
    reason: "test",
    postedBy: "T",
  };
  postMovement(t.db, { ...row, key: "in", kind: "receipt", toPlace: "WH-EAST" });
  postMovement(t.db, { ...row, key: "out", kind: "transfer", fromPlace: "WH-EAST", toPlace: vehicle });
}

const send = (used: number, hung: VisitReportInput["hung"]) =>
  sendReport(t, { hung, uses: [{ itemCode, runId: null, drumSerial: null, used, left: 0 }] });

it("hangs once however often it is said, and is exchanged by the next", () => {
  expect(rule(hang("RU-1", { key: "the same form" }))).toBe("ok");
  expect(hang("RU-1", { key: "the same form" })).toMatchObject({ ok: true, value: { isNew: false } });
  expect(hang("RU-1")).toMatchObject({ ok: true, value: { isNew: false } });
  expect(standing()).toEqual(["RU-1"]);
  expect(rule(hang("RU-2", { on: addDays(TODAY, -1) }))).toBe("before");
  expect(rule(hang("RU-2"))).toBe("ok");
  expect(standing()).toEqual(["RU-2"]);
  expect(loadHung(t.db, { serial: "RU-1" })[0]).toMatchObject({ endedOn: TODAY, endedWhy: "exchanged" });
});

it("is one radio however its serial is typed, as the ledger spelled it before", () => {
  expect(rule(hang(" ru-1 "))).toBe("ok");
  expect(standing()).toEqual(["RU-1"]);
  expect(hang("Ru-1")).toMatchObject({ ok: true, value: { isNew: false } });
  const far = loadHop(t.db, hopCode)!.far.odus[0]!.label;
  expect(rule(hang("ru-1", { side: "far", oduLabel: far }))).toBe("hangs-elsewhere");
  // A row of before capitals: what is written from now on follows it.
  const row = { itemCode, owner: "customer" as const, toPlace: "WH-EAST", quantityC: 100, serial: "ru-8" };
  const when = { effectiveOn: TODAY, postedAt: BY.at, reason: "test", postedBy: "T" };
  postMovement(t.db, { ...row, ...when, key: "old", kind: "receipt" });
  expect(rule(hang("RU-8"))).toBe("ok");
  expect(standing()).toEqual(["ru-8"]);
  expect(loadLedger(t.db, { serial: "RU-8", limit: 5 }).map((r) => r.serial)).toEqual(["ru-8"]);
  // Another variant: said without an article before its code.
  const other = DEFAULT_CATALOGUE.find((i) => i.category === "ODU" && i.code !== itemCode)!;
  const wrong = { ...row, itemCode: other.code, owner: other.owner, serial: "RU-T" };
  postMovement(t.db, { ...wrong, ...when, key: "wrong", kind: "receipt" });
  const refusal = hang("ru-t");
  expect(refusal.ok ? "" : refusal.problems[0]!.message).toBe(
    `RU-T is ${other.code} by the ledger; the design wants ${itemCode} there.`,
  );
});

it("refuses what cannot be: elsewhere, unknown positions, days to come, the wrong variant, what is on hold", () => {
  hang("RU-1");
  const far = loadHop(t.db, hopCode)!.far.odus[0]!.label;
  expect(rule(hang("RU-1", { side: "far", oduLabel: far }))).toBe("hangs-elsewhere");
  expect(rule(hang("RU-3", { oduLabel: "no such" }))).toBe("position-unknown");
  expect(rule(hang("RU-3", { on: addDays(TODAY, 1) }))).toBe("future");
  const fault = (serial: string, item: string) =>
    recordFault(
      t.db,
      {
        key: `fault of ${serial}`,
        itemCode: item,
        serial,
        quantity: 1,
        cause: "failed in service",
        symptom: "no power",
        warehouseCode: "WH-EAST",
        foundOn: TODAY,
        today: TODAY,
      },
      BY,
    );
  expect(rule(fault("RU-9", itemCode))).toBe("ok");
  const refusal = hang("RU-9");
  expect(rule(refusal)).toBe("not-there");
  // What a phone has of the language is enough to say it.
  expect(refusal.ok ? "" : messageOf(refusal.problems[0]!, makeWords("de", german))).toBe(
    "RU-9 ist laut Lagerbuch gesperrt.",
  );
  expect(standing()).toEqual(["RU-1"]);
  // Found faulty, it hangs nowhere any more.
  expect(rule(fault("RU-1", itemCode))).toBe("ok");
  expect(standing()).toEqual([]);
  expect(loadHung(t.db, { serial: "RU-1" })[0]!.endedWhy).toBe("faulty");
});

it("is taken down on a day since it hangs, of its own hop, once", () => {
  const made = hang("RU-1", { on: addDays(TODAY, -3) });
  const id = made.ok ? made.value.id : 0;
  const down = (more: object) =>
    takeDownUnit(t.db, { id, hopCode, on: TODAY, why: "moved", today: TODAY, ...more }, BY);
  expect(rule(down({ hopCode: "OTHER" }))).toBe("not-hanging");
  expect(rule(down({ on: addDays(TODAY, -4) }))).toBe("day");
  expect(rule(down({}))).toBe("ok");
  expect(rule(down({}))).toBe("not-hanging");
  expect(rule(hang("RU-1"))).toBe("ok");
});

it("comes with a crew's report: the serial hangs, and the ledger's row of its use names it", () => {
  const vehicle = loadCrewFacts(t.db, "C1")!.vehiclePlace!;
  putOnVehicle(vehicle, 200);
  expect(rule(send(2, [{ oduLabel: label, serial: "RU-5" }]))).toBe("ok");
  expect(loadHung(t.db, { serial: "RU-5" })[0]).toMatchObject({
    hopCode,
    side: "near",
    visitId: t.visitId,
    recordedBy: "Lead",
  });
  const installed = loadLedger(t.db, { itemCode, limit: 10 }).filter((r) => r.kind === "installed");
  expect(installed.map((r) => [r.serial, r.quantityC]).sort()).toEqual([
    [null, 100],
    ["RU-5", 100],
  ]);
  const onVehicle = () =>
    loadBalances(t.db, itemCode)
      .filter((b) => b.placeCode === vehicle)
      .reduce((sum, b) => sum + b.quantityC, 0);
  // A second report that says it again changes nothing of what hangs.
  expect(rule(send(0, [{ oduLabel: label, serial: "RU-5" }]))).toBe("ok");
  expect(loadHung(t.db, { serial: "RU-5" })).toHaveLength(1);
  // With nothing used the pieces are back on the vehicle by the books, the one with the serial too.
  expect(onVehicle()).toBe(200);
  expect(rule(send(2, [{ oduLabel: label, serial: "RU-5" }]))).toBe("ok");
  expect(onVehicle()).toBe(0);
  expect(ledgerDifferences(t.db)).toEqual([]);
});

it("refuses a correction that would put a unit back which was found faulty since", () => {
  putOnVehicle(loadCrewFacts(t.db, "C1")!.vehiclePlace!, 100);
  expect(rule(send(1, [{ oduLabel: label, serial: "RU-6" }]))).toBe("ok");
  const fault = recordFault(
    t.db,
    {
      key: "fault of RU-6",
      itemCode,
      serial: "RU-6",
      quantity: 1,
      cause: "failed in service",
      symptom: "no power",
      warehouseCode: "WH-EAST",
      foundOn: TODAY,
      today: TODAY,
    },
    BY,
  );
  expect(rule(fault)).toBe("ok");
  expect(rule(send(0, []))).toBe("ledger");
  expect(rule(send(1, []))).toBe("ok");
});

it("offers the crew the serials of the position's variant that left with the kit", () => {
  putOnVehicle("VAN-1", 200);
  const row = {
    itemCode,
    owner: "customer" as const,
    quantityC: 100,
    effectiveOn: TODAY,
    visitId: t.visitId,
  };
  const by = { postedAt: BY.at, reason: "test", postedBy: "T" };
  postMovement(t.db, { ...row, ...by, key: "r", kind: "receipt", toPlace: "WH-EAST", visitId: undefined });
  const out = { kind: "issue" as const, fromPlace: "WH-EAST", toPlace: "VAN-1", serial: "RU-77" };
  postMovement(t.db, { ...row, ...by, ...out, key: "i" });
  const hop = loadHop(t.db, hopCode)!;
  const end = hop.near;
  const radios = (kind: "install" | "alignment") =>
    radiosOf(t.db, { visit: { visitId: t.visitId, kind } as never, hop, end });
  expect(radios("install").find((r) => r.label === label)).toMatchObject({ serial: "", inKit: ["RU-77"] });
  expect(radios("alignment")).toEqual([]);
});
