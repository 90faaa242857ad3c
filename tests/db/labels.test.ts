import { beforeEach, expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { visitName } from "@/app/_ui/language/visitName";
import { makeWords } from "@/app/_ui/language/words";
import { kitName } from "@/app/(work)/kits/kitName";
import { marksByRun } from "@/db/queries/drumMarks";
import { begunRuns, cutsMoved, listedCuts } from "@/db/queries/drumViews";
import { recordFault } from "@/db/queries/faultRecord";
import { loadKitRows } from "@/db/queries/kitRows";
import { loadKitView } from "@/db/queries/kitView";
import { type LabelWish, labelRows, whatIsScanned } from "@/db/queries/labels";
import { postMovement } from "@/db/queries/ledger";
import { confirmCut } from "@/db/queries/movements";
import { saveOrder } from "@/db/queries/orderLines";
import { savePlanStock } from "@/db/queries/plans";
import { hungUnit, revisit } from "@/db/schema";
import type { CuttingPlan } from "@/lib/drums";
import { labelText } from "@/lib/labels";
import { english, type Phrase } from "@/lib/phrase";
import { addDays } from "@/lib/time";
import { BY, CABLE, DRUM_C, PIECE, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
const textOf = (text: string | Phrase) => (typeof text === "string" ? text : english(text));
const rowsOf = (wish: LabelWish) => labelRows(t.db, t.plan, wish, (day, style) => `${style} ${day}`);
beforeEach(() => {
  t = testStock();
});

test("every kind of label is printed for what there is, and every label finds its thing again", () => {
  for (const [kind, least] of [
    ["drum", 1],
    ["place", 7],
    ["kit", 2],
    ["item", 10],
  ] as const) {
    const rows = rowsOf({ kind });
    expect(rows.length, kind).toBeGreaterThanOrEqual(least);
    for (const row of rows.slice(0, 20)) {
      expect(whatIsScanned(t.db, t.plan, labelText(row))).toMatchObject({ kind, code: row.code });
      expect(textOf(row.title)).not.toBe("");
    }
  }
});

test("labels are chosen by place, by pick day, one alone", () => {
  expect(rowsOf({ kind: "drum", placeCode: "WH-WEST" })).toEqual([]);
  expect(rowsOf({ kind: "drum", placeCode: "WH-EAST" }).map((r) => r.code)).toEqual(["D1"]);
  expect(rowsOf({ kind: "kit", to: TODAY }).map((r) => r.code)).toEqual([t.visitId]);
  expect(rowsOf({ kind: "kit", from: addDays(TODAY, 1) }).map((r) => r.code)).toEqual([t.laterId]);
  expect(rowsOf({ kind: "place", code: "VAN-2" }).map((r) => r.code)).toEqual(["VAN-2"]);
});

test("a kit's label says its days in the words of whoever prints it", () => {
  const [row] = rowsOf({ kind: "kit", to: TODAY });
  const lines = row?.lines.map(textOf);
  expect(lines?.slice(1, 3)).toEqual([`Needed full ${addDays(TODAY, 1)}`, `Picked weekday ${TODAY}`]);
});

test("the kit of a revisit says what it is for, on its label, in the list and on its page", () => {
  const again = t.visitId.replace(/[^/]+$/, "revisit");
  const [hopCode, side] = t.visitId.split("/");
  t.db.$client.pragma("foreign_keys = OFF");
  for (const table of ["kit", "kit_line", "plan_visit"])
    t.db.$client.prepare(`UPDATE ${table} SET visit_id = ? WHERE visit_id = ?`).run(again, t.visitId);
  t.db.$client.prepare("UPDATE plan_visit SET kind = 'revisit' WHERE visit_id = ?").run(again);
  t.db
    .insert(revisit)
    .values({
      ...{
        visitId: again,
        hopCode: hopCode!,
        side: side as "near",
        no: 1,
        remedy: "earthing",
        isJoint: false,
      },
      ...{ cause: "near end, earth resistance: 40 Ohm", openedBy: "Ana Vell", openedAt: BY.at },
    })
    .run();
  const [row] = rowsOf({ kind: "kit", to: TODAY });
  expect([row?.code, textOf(row!.lines[0]!)]).toEqual([again, "Revisit (earthing)"]);
  const en = makeWords("en", wholeCatalogueOf("en"));
  const listed = loadKitRows(t.db, t.plan.id).find((k) => k.visitId === again)!;
  const name = `${hopCode} ${side} end, Revisit (earthing)`;
  expect(kitName(listed, en.t)).toBe(name);
  expect(kitName(loadKitView(t.db, t.plan, again, TODAY)!, en.t)).toBe(name);
  expect(visitName(again, en.t)).toBe(`${hopCode} ${side} revisit`);
});

test("a drum that is used up has no label, and its scan says that nothing is left", () => {
  postMovement(t.db, {
    key: "gone",
    kind: "scrap",
    itemCode: CABLE.code,
    owner: CABLE.owner,
    drumSerial: "D1",
    fromPlace: "WH-EAST",
    quantityC: DRUM_C,
    effectiveOn: TODAY,
    postedAt: BY.at,
    reason: "test",
    postedBy: BY.name,
  });
  expect(rowsOf({ kind: "drum" })).toEqual([]);
  expect(whatIsScanned(t.db, t.plan, "D1")).toMatchObject({ kind: "drum", placeCode: null, remainingC: 0 });
});

test("bare codes are found among serials, places, items and lots, in any case; anything else is unknown", () => {
  expect(whatIsScanned(t.db, t.plan, "d1")).toMatchObject({ kind: "drum", code: "D1" });
  expect(whatIsScanned(t.db, t.plan, "wh-east")).toMatchObject({ kind: "place", code: "WH-EAST" });
  expect(whatIsScanned(t.db, t.plan, PIECE.code)).toMatchObject({ kind: "item", code: PIECE.code });
  expect(whatIsScanned(t.db, t.plan, "SOON")).toMatchObject({ kind: "lot", code: "SOON" });
  expect(whatIsScanned(t.db, t.plan, t.visitId)).toMatchObject({ kind: "kit", code: t.visitId });
  expect(whatIsScanned(t.db, t.plan, "BTH:PLACE:D1")).toEqual({ kind: "unknown", code: "D1" });
  expect(whatIsScanned(t.db, undefined, "'; DROP TABLE drum")).toMatchObject({ kind: "unknown" });
});

test("a serial leads to its story among the faulty pieces, else to its ledger rows; an order to its page", () => {
  saveOrder(t.db, {
    code: "PO-447",
    kind: "purchase",
    supplier: "Acorn",
    state: "sent",
    placeCode: "WH-EAST",
    createdAt: 0,
    createdBy: "Test",
    lines: [],
  });
  const serial = (value: string, key: string) =>
    postMovement(t.db, {
      key,
      kind: "receipt",
      itemCode: PIECE.code,
      owner: PIECE.owner,
      serial: value,
      toPlace: "WH-EAST",
      quantityC: 100,
      effectiveOn: TODAY,
      postedAt: BY.at,
      reason: "test",
      postedBy: BY.name,
    });
  serial("RU-1", "one");
  expect(whatIsScanned(t.db, t.plan, "po-447")).toEqual({ kind: "order", code: "PO-447" });
  expect(whatIsScanned(t.db, t.plan, "ru-1")).toEqual({ kind: "serial", code: "RU-1", faultId: null });
  // Hung by a crew's report, never booked.
  t.db
    .insert(hungUnit)
    .values({
      key: "hung",
      serial: "SN-TEST-0002",
      itemCode: PIECE.code,
      hopCode: "H1",
      side: "near",
      oduLabel: "R1",
      hungOn: TODAY,
      recordedBy: BY.name,
      recordedAt: BY.at,
    })
    .run();
  expect(whatIsScanned(t.db, t.plan, "sn-test-0002")).toEqual({
    kind: "serial",
    code: "SN-TEST-0002",
    faultId: null,
  });
  const made = recordFault(
    t.db,
    {
      key: "fault",
      itemCode: PIECE.code,
      serial: "RU-1",
      quantity: 1,
      cause: "dead on arrival",
      symptom: "dark",
      fromPlace: "WH-EAST",
      warehouseCode: "WH-EAST",
      foundOn: TODAY,
      today: TODAY,
    },
    BY,
  );
  expect(whatIsScanned(t.db, t.plan, "RU-1")).toEqual({
    kind: "serial",
    code: "RU-1",
    faultId: made.ok && made.value.id,
  });
});

test("a scanned drum shows the cuts that the list still wants of it, in cutting order", () => {
  const cut = (runId: string, fromMarkCm: number) => ({
    runId,
    lengthCm: 2_350,
    fromMarkCm,
    toMarkCm: fromMarkCm + 2_350,
    cutOn: TODAY,
  });
  const drum = {
    id: "D1",
    serial: "D1",
    cableCode: CABLE.code,
    placeId: "WH-EAST",
    remainingCm: DRUM_C,
    availableOn: TODAY,
    isNew: false,
  };
  savePlanStock(
    t.db,
    t.plan.id,
    [
      {
        cableCode: CABLE.code,
        drums: [
          {
            drum: { ...drum, receivedCm: DRUM_C },
            cuts: [cut(t.runId, 0), cut("H-9/far/R2", 2_370)],
            allowanceCm: 40,
            leftCm: DRUM_C - 4_740,
            leftIs: "remnant",
          },
        ],
        newDrums: [],
        uncut: [],
        late: [],
        cutCm: 4_700,
        allowanceCm: 40,
        scrapCm: 0,
        remnantCm: DRUM_C - 4_740,
        newDrumLowerBound: 0,
        newDrumCount: 0,
      } satisfies CuttingPlan,
    ],
    { netting: [], transfers: [] },
  );
  const wanted = () => {
    const scanned = whatIsScanned(t.db, t.plan, "BTH:DRUM:D1");
    return scanned.kind === "drum" ? scanned.cuts.map((c) => [c.runId, c.visitId, c.kitPlace]) : undefined;
  };
  expect(wanted()).toEqual([
    [t.runId, t.visitId, "WH-EAST"],
    ["H-9/far/R2", undefined, undefined],
  ]);
  const made = confirmCut(
    t.db,
    {
      drumSerial: "D1",
      runId: t.runId,
      visitId: t.visitId,
      label: "run",
      lengthC: 2_350,
      plannedC: 2_350,
      sawAllowanceC: 20,
      on: TODAY,
      planId: t.plan.id,
    },
    BY,
  );
  expect(made.ok).toBe(true);
  expect(wanted()).toEqual([["H-9/far/R2", undefined, undefined]]);
});

test("a cut of another length says which listed cuts it moved; netting is told to leave the others", () => {
  // The run of this test, one due tomorrow, a long one due today, one of next week.
  const listed = (runId: string, fromMarkCm: number, lengthCm: number, day: number) => ({
    runId,
    lengthCm,
    fromMarkCm,
    toMarkCm: fromMarkCm + lengthCm,
    cutOn: addDays(TODAY, day),
  });
  const rest = DRUM_C - 2_370 - 1_020 - 20;
  const cuts = [
    listed(t.runId, 0, 2_350, 0),
    listed("H-9/far/R2", 2_370, 1_000, 0),
    listed("H-9/far/R3", 3_390, rest, 0),
    listed("H-9/far/R4", 3_390, 500, 7),
  ];
  savePlanStock(
    t.db,
    t.plan.id,
    [
      {
        cableCode: CABLE.code,
        drums: [
          {
            drum: {
              id: "D1",
              serial: "D1",
              cableCode: CABLE.code,
              placeId: "WH-EAST",
              receivedCm: DRUM_C,
              remainingCm: DRUM_C,
              availableOn: TODAY,
              isNew: false,
            },
            cuts,
            allowanceCm: 80,
            leftCm: 0,
            leftIs: "empty",
          },
        ],
        newDrums: [],
        uncut: [],
        late: [],
        cutCm: 0,
        allowanceCm: 0,
        scrapCm: 0,
        remnantCm: 0,
        newDrumLowerBound: 0,
        newDrumCount: 0,
      } satisfies CuttingPlan,
    ],
    { netting: [], transfers: [] },
  );
  const make = (lengthC: number) =>
    confirmCut(
      t.db,
      {
        drumSerial: "D1",
        runId: t.runId,
        visitId: t.visitId,
        label: "run",
        lengthC,
        plannedC: 2_350,
        sawAllowanceC: 20,
        on: TODAY,
        planId: t.plan.id,
      },
      BY,
    );
  expect(cutsMoved(t.db, t.plan.id, "D1", 20, TODAY)).toEqual({ shifted: [], lost: [] });
  expect(make(2_600).ok).toBe(true);
  expect(cutsMoved(t.db, t.plan.id, "D1", 20, TODAY)).toEqual({
    shifted: [{ runId: "H-9/far/R2", fromCm: 2_370, toCm: 2_620 }],
    lost: ["H-9/far/R3"],
  });
  // Every page names the mark at which the cable begins now, before the list is made anew; R3 will go to another drum.
  expect([...marksByRun(t.db, t.plan.id)]).toEqual([
    ["H-9/far/R2", 2_620],
    ["H-9/far/R4", 3_640],
  ]);
  const scanned = whatIsScanned(t.db, t.plan, "D1");
  expect(scanned?.kind === "drum" && scanned.cuts[0]).toMatchObject({
    runId: "H-9/far/R2",
    fromMarkCm: 2_620,
  });
  expect(listedCuts(t.db, t.plan.id).map((c) => c.runId)).toEqual(cuts.slice(1).map((c) => c.runId));
  // The cut ticked its run off: the kit is begun.
  expect(begunRuns(t.db, t.plan.id).has(t.runId)).toBe(true);
});
