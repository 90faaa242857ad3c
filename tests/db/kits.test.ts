/** Picking, issue, return and cuts: first expired first out, all or nothing, nothing twice. */

import { beforeEach, describe, expect, it } from "vitest";
import { findFor } from "@/app/_server/find";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { visitName } from "@/app/_ui/language/visitName";
import { makeWords } from "@/app/_ui/language/words";
import {
  claimWords,
  runWords,
  takenFromOthers,
  transferWords,
} from "@/app/(work)/kits/[...visitId]/lineWords";
import { linesWords } from "@/app/(work)/week/visit/[...visitId]/materialWords";
import { reportLines } from "@/app/(work)/week/visit/[...visitId]/reportLines";
import { writing } from "@/db/open";
import { loadCloseOut, loadSerialAccounts, loadUnbookedUse } from "@/db/queries/closeOut";
import { coilsOnTheirWay } from "@/db/queries/coils";
import { recordFault } from "@/db/queries/faultRecord";
import { loadNeeds } from "@/db/queries/itemWhatIf";
import { issueKit, issueMissing, takeBackIssue } from "@/db/queries/kitIssue";
import { lostUnits } from "@/db/queries/kitLosses";
import { issuedShortWhy, outOfKit, vehiclesOf } from "@/db/queries/kitOut";
import { pickLine } from "@/db/queries/kitPicking";
import { returnFromKit } from "@/db/queries/kitReturn";
import { loadKitRows, vehicleLoads } from "@/db/queries/kitRows";
import { pickSerials } from "@/db/queries/kitSerials";
import { lineShortC } from "@/db/queries/kitShort";
import { countedAs, loadKitView, piecesInBox } from "@/db/queries/kitView";
import { labelRows } from "@/db/queries/labels";
import { cutsMade, ledgerDifferences, loadLedger, postMovement } from "@/db/queries/ledger";
import { loadLog } from "@/db/queries/log";
import { findRunAgain, loseRun, lostRunsOf } from "@/db/queries/lostRuns";
import { confirmCut, recordMovement, takeBack } from "@/db/queries/movements";
import { loadOffcuts } from "@/db/queries/offcuts";
import {
  carryKits,
  carryPlaces,
  loadCutting,
  loadKit,
  pickedLineCounts,
  replacePlannedKits,
  savePlan,
  savePlanStock,
  shortLineCounts,
} from "@/db/queries/plans";
import { loadBoard, loadInForceEffect, loadVisitView } from "@/db/queries/planViews";
import { loadProgrammeInput } from "@/db/queries/programme";
import { pickBySerial } from "@/db/queries/serialPick";
import { loadBalances, loadOnVehicles } from "@/db/queries/shelves";
import { loadVisitViews } from "@/db/queries/siteViews";
import type { VisitReportInput } from "@/db/queries/visitReport";
import { stockTransfer } from "@/db/schema";
import type { ItemCategory } from "@/lib/site";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays } from "@/lib/time";
import { visitorAs } from "../helpers/visitor";
import {
  BY,
  CABLE,
  DRUM_C,
  EMPTY_NETTING,
  PIECE,
  sendReport,
  TAPE,
  type TestStock,
  TODAY,
  testStock,
} from "./make";

let t: TestStock;
const EN = makeWords("en", wholeCatalogueOf("en"));
const EN_LINES = { isIssued: false, lostRuns: new Map(), leftOut: new Set<string>(), items: [], words: EN };

beforeEach(() => {
  t = testStock();
});

const onHand = (itemCode: string, placeCode: string) =>
  loadBalances(t.db, itemCode)
    .filter((b) => b.placeCode === placeCode)
    .map((b) => [b.lotCode || b.drumSerial, b.quantityC]);

const cut = (lengthC: number) =>
  confirmCut(
    t.db,
    {
      drumSerial: "D1",
      runId: t.runId,
      visitId: t.visitId,
      label: "Run",
      lengthC,
      plannedC: 2_350,
      sawAllowanceC: 20,
      on: TODAY,
      planId: t.plan.id,
    },
    BY,
  );

function pickAll(): void {
  expect(cut(2_350).ok).toBe(true);
  for (const l of loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines) {
    if (!l.runId) expect(pickLine(t.db, t.plan.id, t.visitId, l.lineNo, l.boxC, BY).ok).toBe(true);
  }
}

/** A run, six pieces and three rolls. */
const ALL_PIECES = 10;

const issue = (part: Partial<Parameters<typeof issueKit>[2]> = {}, by = BY) =>
  issueKit(
    t.db,
    t.plan,
    {
      visitId: t.visitId,
      vehiclePlace: "VAN-1",
      counted: ALL_PIECES,
      countedBy: "Second",
      today: TODAY,
      ...part,
    },
    by,
  );

describe("the pick list", () => {
  it("takes the lot that expires first, leaves the expired one, and rounds up whole units but not metres", () => {
    const kit = loadKitView(t.db, t.plan, t.visitId, TODAY)!;
    const tape = kit.lines.find((l) => l.itemCode === TAPE.code)!;
    expect(tape.boxC).toBe(300);
    expect(tape.sources.map((s) => [s.lotCode, s.quantityC])).toEqual([
      ["SOON", 200],
      ["LONG", 100],
    ]);
    expect(tape.otherLots).toEqual([]);
    expect(kit.lines.find((l) => l.runId)!.boxC).toBe(2_350);
    pickLine(t.db, t.plan.id, t.visitId, tape.lineNo, 100, BY);
    const less = loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.itemCode === TAPE.code)!;
    expect(less.sources.map((s) => s.lotCode)).toEqual(["SOON"]);
    expect(less.otherLots.map((l) => l.lotCode)).toEqual(["LONG"]);
  });

  it("lets the earlier kit take first and says what is claimed and what is missing", () => {
    const later = loadKitView(t.db, t.plan, t.laterId, TODAY)!.lines[0]!;
    // Ten on the shelf, six for the earlier kit: four are free, four are claimed, none is missing from the shelf.
    expect(later.sources.map((s) => [s.quantityC, s.isClaimed])).toEqual([
      [400, false],
      [400, true],
    ]);
    expect(later.missingC).toBe(0);
  });

  it("never offers the same pieces to two lines of one kit", () => {
    t.db.$client
      .prepare(
        "UPDATE kit_line SET item_code = ?, needed_c = 700, box_c = 700 WHERE visit_id = ? AND item_code = ?",
      )
      .run(PIECE.code, t.visitId, TAPE.code);
    const lines = loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.filter((l) => l.itemCode === PIECE.code);
    // Ten on the shelf for six and seven: three are missing.
    expect(lines.map((l) => l.missingC)).toEqual([0, 300]);
    expect(lines.flatMap((l) => l.sources).reduce((sum, s) => sum + s.quantityC, 0)).toBe(1_000);
  });

  it("does not let anybody tick off a run that is not cut", () => {
    const answer = pickLine(t.db, t.plan.id, t.visitId, 1, 2_350, BY);
    expect(answer.ok ? "ok" : answer.problems[0]!.rule).toBe("run-not-cut");
  });

  it("counts things, not quantities", () => {
    pickAll();
    const { lines: picked } = loadKitView(t.db, t.plan, t.visitId, TODAY)!;
    expect(piecesInBox(picked)).toBe(ALL_PIECES);
    expect(picked.reduce((sum, l) => sum + l.things, 0)).toBe(ALL_PIECES);
  });

  it("sums the load of a crew and day against the payload", () => {
    const rows = loadKitRows(t.db, t.plan.id);
    expect(rows.map((r) => [r.visitId, r.lineCount])).toEqual([
      [t.visitId, 3],
      [t.laterId, 1],
    ]);
    const sameDay = rows.map((r) => ({ ...r, startOn: rows[0]!.startOn }));
    expect(vehicleLoads(sameDay, new Map([["C1", 70]]))).toMatchObject([
      { crewCode: "C1", kits: 2, massKg: 80, payloadKg: 70 },
    ]);
  });
});

describe("a cut", () => {
  it("posts run and saw allowance, ticks the run off, and happens once", () => {
    const first = cut(2_400);
    expect(first.ok && first.value.leftC).toBe(DRUM_C - 2_400 - 20);
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([["D1", DRUM_C - 2_420]]);
    expect(loadKit(t.db, t.plan.id, t.visitId)).toMatchObject({ state: "picked" });
    expect(loadKit(t.db, t.plan.id, t.visitId)!.lines[0]!.pickedC).toBe(2_400);
    const second = cut(2_400);
    expect(second.ok ? "ok" : second.problems[0]!.rule).toBe("run-cut");
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([["D1", DRUM_C - 2_420]]);
  });

  it("longer than the drum is refused whole", () => {
    const answer = cut(DRUM_C + 1);
    expect(answer.ok ? "ok" : answer.problems[0]!.rule).toBe("drum-end");
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([["D1", DRUM_C]]);
  });

  it("to the end of the drum takes what is left as the allowance", () => {
    expect(cut(DRUM_C - 5).ok).toBe(true);
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([]);
  });

  it("is taken back as a whole from the row of its allowance too", () => {
    cut(2_350);
    const saw = loadLedger(t.db, { drumSerial: "D1", limit: 5 }).find((r) => r.kind === "scrap")!;
    expect(saw.isOfCut).toBe(true);
    expect(takeBack(t.db, saw.id, "wrong run", TODAY, BY).ok).toBe(true);
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([["D1", DRUM_C]]);
    expect(cutsMade(t.db).get(t.runId)).toBeUndefined();
  });

  it("is taken back with its allowance, and can then be made again", () => {
    cut(2_350);
    const row = cutsMade(t.db).get(t.runId)!;
    expect(takeBack(t.db, row.id, "wrong run", TODAY, BY).ok).toBe(true);
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([["D1", DRUM_C]]);
    expect(loadKit(t.db, t.plan.id, t.visitId)!.lines[0]!.pickedC).toBe(0);
    expect(loadKit(t.db, t.plan.id, t.visitId)!.state).toBe("planned");
    expect(cut(2_350).ok).toBe(true);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });
});

describe("issue", () => {
  it("moves every lot to the vehicle and marks the kit", () => {
    pickAll();
    expect(issue()).toEqual({ ok: true, value: { rows: 3 } });
    expect(onHand(TAPE.code, "VAN-1")).toEqual([
      ["LONG", 100],
      ["SOON", 200],
    ]);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 600]]);
    expect(loadKit(t.db, t.plan.id, t.visitId)!.state).toBe("issued");
    const rows = loadLedger(t.db, { visitId: t.visitId, limit: 20 });
    expect(rows.filter((r) => r.kind === "issue").every((r) => r.visitId === t.visitId)).toBe(true);
    const again = issue();
    expect(again.ok ? "ok" : again.problems[0]!.rule).toBe("kit-state");
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 600]]);
  });

  it("is all or nothing: one line that the shelf cannot give keeps every other where it is", () => {
    pickAll();
    const tapeLine = loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find(
      (l) => l.itemCode === TAPE.code,
    )!;
    pickLine(t.db, t.plan.id, t.visitId, tapeLine.lineNo, 900, BY);
    const before = loadLedger(t.db, { limit: 100 }).length;
    const answer = issue({ counted: 16 });
    expect(answer.ok ? [] : answer.problems.map((p) => p.rule)).toEqual(["not-on-hand"]);
    expect(loadLedger(t.db, { limit: 100 })).toHaveLength(before);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([]);
    expect(loadKit(t.db, t.plan.id, t.visitId)!.state).toBe("picked");
  });

  it("rolls back what it posted when the ledger refuses a later row", () => {
    pickAll();
    // The ledger refuses the last lot for a reason that the shelf does not show.
    t.db.$client.exec(`CREATE TRIGGER refuse_tape BEFORE INSERT ON movement
      WHEN NEW.kind = 'issue' AND NEW.lot_code = 'LONG' BEGIN SELECT RAISE(ABORT, 'on hand would fall below zero'); END`);
    const answer = writing(t.db, () => issue());
    expect(answer.ok ? [] : answer.problems.map((p) => p.rule)).toEqual(["ledger"]);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([]);
    expect(onHand(TAPE.code, "VAN-1")).toEqual([]);
    expect(loadKit(t.db, t.plan.id, t.visitId)!.state).toBe("picked");
  });

  it("says what is wrong: the count, the vehicle, and a short kit without a reason", () => {
    pickAll();
    const pieceLine = loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find(
      (l) => l.itemCode === PIECE.code,
    )!;
    pickLine(t.db, t.plan.id, t.visitId, pieceLine.lineNo, 500, BY);
    const answer = issue({ vehiclePlace: "WH-WEST", counted: 10 });
    expect(answer.ok ? [] : answer.problems.map((p) => p.rule).sort()).toEqual([
      "count-differs",
      "issued-short",
      "vehicle",
    ]);
    expect(issue({ counted: 9, shortReason: "one is on the vehicle already" }).ok).toBe(true);
  });

  it("is counted by another than who picked", () => {
    pickAll();
    const answer = issue({ countedBy: ` ${BY.name.toLowerCase()}` });
    expect(answer.ok ? [] : answer.problems.map((p) => p.rule)).toEqual(["counted-by-picker"]);
  });
});

describe("a kit that is issued", () => {
  it("shows the lots that went out, not those that lie on the shelf now", () => {
    pickAll();
    const lots = (view = loadKitView(t.db, t.plan, t.visitId, TODAY)!) =>
      view.lines
        .find((l) => l.itemCode === TAPE.code)!
        .sources.map((s) => `${s.lotCode} ${s.quantityC} ${s.isClaimed}`)
        .sort();
    const asked = lots();
    expect(issue().ok).toBe(true);
    expect(lots()).toEqual(asked);
    const pieces = loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.itemCode === PIECE.code)!;
    expect(pieces.sources).toMatchObject([{ lotCode: "", quantityC: 600 }]);
  });
});

describe("a piece that dies on the vehicle", () => {
  const dies = (part: Partial<Parameters<typeof recordFault>[1]> = {}) => {
    const found = recordFault(
      t.db,
      {
        key: "dead one",
        itemCode: PIECE.code,
        quantity: 1,
        cause: "dead on arrival",
        symptom: "bent",
        fromPlace: "VAN-1",
        warehouseCode: "WH-EAST",
        visitId: t.visitId,
        foundOn: TODAY,
        today: TODAY,
        ...part,
      },
      BY,
    );
    return found.ok ? found.value.id : 0;
  };
  const line = () =>
    loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.itemCode === PIECE.code)!;
  const replace = (part: Partial<Parameters<typeof issueMissing>[2]> = {}) => {
    const answer = issueMissing(
      t.db,
      t.plan,
      {
        visitId: t.visitId,
        vehiclePlace: "VAN-1",
        counted: 1,
        countedBy: "Second",
        today: TODAY,
        lines: [{ lineNo: line().lineNo, quantityC: 100 }],
        ...part,
      },
      BY,
    );
    return answer.ok ? answer.value.rows : answer.problems.map((p) => p.rule);
  };
  const needed = () =>
    loadNeeds(t.db, t.plan.id, PIECE.code)
      .filter((n) => n.visitId === t.visitId)
      .map((n) => n.quantity);

  beforeEach(() => {
    pickAll();
    issue();
  });

  it("leaves its kit short, and the need open, until another goes after it", () => {
    expect(needed()).toEqual([]);
    expect(dies()).toBeGreaterThan(0);
    expect(line()).toMatchObject({ pickedC: 500, lacksC: 100, lostC: 100 });
    expect(shortLineCounts(t.db, t.plan.id).get(t.visitId)).toBe(1);
    expect(needed()).toEqual([1]);
    expect(loadNeeds(t.db, t.plan.id, PIECE.code).find((n) => n.visitId === t.visitId)!.shortC).toBe(0);
    expect(lostUnits(t.db)).toEqual(new Map([[t.visitId, new Map([[PIECE.code, 1]])]]));
    expect(outOfKit(t.db, t.visitId).find((r) => r.itemCode === PIECE.code)).toMatchObject({
      issuedC: 600,
      heldC: 100,
      outC: 500,
    });
    expect(replace()).toBe(1);
    expect(line()).toMatchObject({ pickedC: 600, lacksC: 0, lostC: 0 });
    expect(needed()).toEqual([]);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 600]]);
    expect(ledgerDifferences(t.db)).toEqual([]);
    // The next one that dies is one more.
    dies({ key: "dead two" });
    expect(needed()).toEqual([1]);
  });

  it("is found by the visit as people see it", () => {
    const [hopCode, side] = t.visitId.split("/");
    expect(dies({ visitId: `${hopCode!.toLowerCase()} ${side} end` })).toBeGreaterThan(0);
    expect(lostUnits(t.db).has(t.visitId)).toBe(true);
    expect(dies({ key: "other", visitId: `${hopCode} end` })).toBe(0);
    expect(dies({ key: "other", visitId: "NO-SUCH far" })).toBe(0);
  });

  it("is replaced by no more than is missing, counted by somebody else, onto the kit's vehicle", () => {
    expect(replace()).toEqual(["missing-more"]);
    dies();
    expect(replace({ lines: [{ lineNo: line().lineNo, quantityC: 200 }], counted: 2 })).toEqual([
      "missing-more",
    ]);
    expect(replace({ lines: [], counted: 0 })).toEqual(["nothing-picked"]);
    expect(replace({ countedBy: ` ${BY.name.toUpperCase()} `, vehiclePlace: "WH-WEST", counted: 3 })).toEqual(
      ["counted-by-picker", "vehicle-of-another", "count-differs"],
    );
    expect(replace()).toBe(1);
    expect(replace()).toEqual(["missing-more"]);
  });

  it("is there again when the fault is taken back", () => {
    dies();
    const row = loadLedger(t.db, { visitId: t.visitId, limit: 20 }).find((r) => r.kind === "quality hold")!;
    expect(takeBack(t.db, row.id, "it was another one", TODAY, BY).ok).toBe(true);
    expect(line()).toMatchObject({ pickedC: 600, lacksC: 0, lostC: 0 });
    expect(lostUnits(t.db).size).toBe(0);
  });

  it("asks for nothing once the visit is done, and what was issued short on purpose is no need", () => {
    expect(sendReport(t, {}).ok).toBe(true);
    dies();
    expect(needed()).toEqual([]);
    expect(lostUnits(t.db).size).toBe(0);
  });

  it("is replaced before kits that nobody has begun yet, whose pick lists say so, and after those in a box", () => {
    const other = () =>
      loadKitView(t.db, t.plan, t.laterId, TODAY)!.lines.find((l) => l.itemCode === PIECE.code)!;
    const claims = () => other().claims.map((c) => [c.visitId, c.quantityC, c.isReplacement]);
    // Four are left on the shelf of ten; nobody comes before the later kit, which wants eight.
    expect([claims(), other().shelfC]).toEqual([[], 400]);
    expect(dies()).toBeGreaterThan(0);
    expect(claims()).toEqual([[t.visitId, 100, true]]);
    expect(other().sources.map((s) => [s.quantityC, s.isClaimed])).toEqual([
      [300, false],
      [100, true],
    ]);
    expect(claimWords(other(), EN).replaceAll("\u00a0", " ")).toBe(
      `On the shelf: 4 pieces, of it 1 piece for others first: 1 piece to replace what ${visitName(t.visitId, EN.t)} lost.`,
    );
    expect(takenFromOthers(other(), EN)?.replaceAll("\u00a0", " ")).toBe("1 piece for others first");
    expect(takenFromOthers(line(), EN)).toBeUndefined();
    expect(line().refill).toMatchObject([{ quantityC: 100, isClaimed: false }]);
    // As netting serves them: the replacement is not short, the later kit is by what it lacks then.
    expect(loadNeeds(t.db, t.plan.id, PIECE.code).map((n) => n.visitId)).toEqual([t.visitId, t.laterId]);
    // Begun first: what lies in its box is not offered to the replacement without a word.
    expect(pickLine(t.db, t.plan.id, t.laterId, 1, 400, BY).ok).toBe(true);
    expect(claims()).toEqual([]);
    expect(line().claims).toMatchObject([{ visitId: t.laterId, quantityC: 400, isReplacement: false }]);
    expect(line().refill).toMatchObject([{ quantityC: 100, isClaimed: true }]);
    expect(replace()).toBe(1);
    expect(claims()).toEqual([]);
  });

  it("is not what the crew reports as used", () => {
    dies();
    const lines = (pickedC: number) =>
      reportLines(
        loadKit(t.db, t.plan.id, t.visitId)!.lines.map((l) =>
          l.itemCode === PIECE.code ? { ...l, pickedC } : l,
        ),
        [],
        {
          isIssued: true,
          lostRuns: new Map(),
          leftOut: new Set(),
          items: DEFAULT_CATALOGUE,
          words: makeWords("en", {}),
        },
      ).find((l) => l.itemCode === PIECE.code)!;
    expect(lines(line().pickedC)).toMatchObject({ planned: 5, missing: undefined });
    expect(lines(0)).toMatchObject({ missing: "left behind" });
  });
});

describe("the count of a box", () => {
  it("takes what one handles one by one: a run, a length and a bag of small parts are one thing each", () => {
    const of = (unit: string, category?: ItemCategory, runId: string | null = null) =>
      countedAs({ unit, category, runId });
    expect(of("m", "IF cable", "R1")).toBe("run");
    expect(of("m", "earthing lead")).toBe("length");
    expect(of("piece", "tie outdoor")).toBe("bag");
    expect(of("piece", "connector")).toBe("units");
    expect(
      piecesInBox([
        { pickedC: 2_350, countedAs: "run" },
        { pickedC: 550, countedAs: "length" },
        { pickedC: 6_700, countedAs: "bag" },
        { pickedC: 240, countedAs: "units" },
        { pickedC: 0, countedAs: "bag" },
      ]),
    ).toBe(6);
  });

  it("is not told what it should have been", () => {
    pickAll();
    const answer = issue({ counted: 99 });
    const said = answer.ok ? "" : answer.problems.map((p) => p.message + p.remedy).join(" ");
    expect(said).toContain("not what the lines ticked off come to");
    expect(said).not.toMatch(/\d/);
  });
});

describe("return", () => {
  const giveBack = (itemCode: string, lotCode: string, quantityC: number, key: string) =>
    returnFromKit(
      t.db,
      {
        visitId: t.visitId,
        toPlace: "WH-EAST",
        key,
        today: TODAY,
        lines: [{ itemCode, lotCode, owner: "contractor", quantityC }],
      },
      BY,
    );
  const back = (quantityC: number, key = "return one") => giveBack(PIECE.code, "", quantityC, key);

  beforeEach(() => {
    pickAll();
    issue();
  });

  it("brings unused back, and never more than went out", () => {
    expect(back(200).ok).toBe(true);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 400]]);
    const more = back(500, "return two");
    expect(more.ok ? "ok" : more.problems[0]!.rule).toBe("return-more");
    expect(outOfKit(t.db, t.visitId).find((r) => r.itemCode === PIECE.code)).toMatchObject({
      issuedC: 600,
      returnedC: 200,
    });
  });

  const report = (usedC: number, leftC: number, faults: VisitReportInput["faults"] = []) =>
    sendReport(t, {
      faults,
      uses: [{ itemCode: PIECE.code, runId: null, drumSerial: null, used: usedC / 100, left: leftC / 100 }],
    });
  const pieces = () => outOfKit(t.db, t.visitId).find((r) => r.itemCode === PIECE.code);

  it("books use and faults from the vehicle that the kit left in, and only the rest from the crew's own", () => {
    expect(takeBackIssue(t.db, t.plan, t.visitId, "wrong vehicle", TODAY, BY).ok).toBe(true);
    postMovement(t.db, {
      key: "own",
      kind: "transfer",
      itemCode: PIECE.code,
      owner: PIECE.owner,
      fromPlace: "WH-EAST",
      toPlace: "VAN-1",
      quantityC: 300,
      effectiveOn: TODAY,
      postedAt: BY.at,
      reason: "test",
      postedBy: "Test",
    });
    expect(issue({ vehiclePlace: "VAN-2", isOtherVehicle: true }).ok).toBe(true);
    expect(report(400, 200).ok).toBe(true);
    expect(onHand(PIECE.code, "VAN-2")).toEqual([["", 200]]);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 300]]);
    expect(pieces()).toMatchObject({ vehiclePlace: "VAN-2", usedC: 400, outC: 200 });
    // More than the kit's vehicle holds: the rest is the crew's own.
    expect(report(700, 0)).toMatchObject({ ok: true, value: { notOnVehicle: 0 } });
    expect(onHand(PIECE.code, "VAN-2")).toEqual([]);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 200]]);
    // Put back where it was taken from; a dead piece leaves the kit's vehicle, too.
    const dead = { itemCode: PIECE.code, cause: "dead on arrival" as const, symptom: "bent thread" };
    expect(report(500, 0, [dead]).ok).toBe(true);
    expect(onHand(PIECE.code, "VAN-2")).toEqual([]);
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 300]]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("counts what was used, and offers what the crew has left over", () => {
    expect(pieces()).toMatchObject({ usedC: 0, outC: 600, leftC: null });
    expect(report(400, 200).ok).toBe(true);
    expect(pieces()).toMatchObject({ issuedC: 600, usedC: 400, returnedC: 0, outC: 200, leftC: 200 });
    const more = back(300);
    expect(more.ok ? "ok" : more.problems[0]!).toMatchObject({ rule: "return-more", path: PIECE.code });
    expect(back(100).ok).toBe(true);
    expect(pieces()).toMatchObject({ returnedC: 100, outC: 100, leftC: 100 });
    // Reported anew: less was used after all, and what came back stays back.
    expect(report(300, 300).ok).toBe(true);
    expect(pieces()).toMatchObject({ usedC: 300, returnedC: 100, outC: 200, leftC: 200 });
    expect(back(200, "return two").ok).toBe(true);
    expect(pieces()).toMatchObject({ outC: 0, leftC: 0 });
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("leaves on the vehicle what is opened, where the next kits count on it", () => {
    const tape = (quantityC: number, key: string) => giveBack(TAPE.code, "LONG", quantityC, key);
    const uses = [{ itemCode: TAPE.code, runId: null, drumSerial: null, used: 1.4, left: 0 }];
    expect(sendReport(t, { uses }).ok).toBe(true);
    // The three rolls went out in two lots; 1.4 of them are used, of what expires first.
    const rolls = outOfKit(t.db, t.visitId).filter((r) => r.itemCode === TAPE.code);
    expect(rolls.map((r) => [r.lotCode, r.outC, r.backC])).toEqual([
      ["LONG", 100, 100],
      ["SOON", 60, 0],
    ]);
    const opened = tape(60, "a");
    expect(opened.ok ? "ok" : opened.problems[0]!.rule).toBe("return-opened");
    const more = tape(200, "b");
    expect(more.ok ? "ok" : more.problems[0]!.rule).toBe("return-more");
    expect(tape(100, "c").ok).toBe(true);
    expect(loadOnVehicles(t.db, TODAY).get("VAN-1")!.get(TAPE.code)).toBeCloseTo(0.6);
    // What is opened is no use once its time is over.
    expect(loadOnVehicles(t.db, addDays(TODAY, 21)).get("VAN-1")!.has(TAPE.code)).toBe(false);
    const [hop] = loadCloseOut(t.db);
    expect(hop!.lines.find((l) => l.itemCode === TAPE.code)).toMatchObject({ openC: 0, openedC: 60 });
  });

  it("never counts as out what the vehicle does not hold any more", () => {
    writing(t.db, () =>
      postMovement(t.db, {
        key: "lost",
        kind: "scrap",
        itemCode: PIECE.code,
        owner: "contractor",
        fromPlace: "VAN-1",
        quantityC: 450,
        effectiveOn: TODAY,
        postedAt: BY.at,
        reason: "lost on the road",
        postedBy: BY.name,
      }),
    );
    expect(pieces()).toMatchObject({ issuedC: 600, usedC: 0, outC: 150 });
  });

  it("moves nothing twice for one key", () => {
    back(100, "same");
    back(100, "same");
    expect(onHand(PIECE.code, "VAN-1")).toEqual([["", 500]]);
  });

  it("a whole issue can be taken back until something was returned", () => {
    expect(takeBackIssue(t.db, t.plan, t.visitId, "wrong vehicle", TODAY, BY)).toEqual({
      ok: true,
      value: { rows: 3 },
    });
    expect(onHand(PIECE.code, "WH-EAST")).toEqual([["", 1_000]]);
    const other = issue({ vehiclePlace: "VAN-2" });
    expect(other.ok ? "ok" : other.problems.map((p) => p.rule)).toEqual(["vehicle-of-another"]);
    expect(issue({ vehiclePlace: "VAN-2", isOtherVehicle: true }).ok).toBe(true);
    expect(vehiclesOf(t.db, t.visitId)).toEqual(["VAN-2"]);
    back(100);
    const late = takeBackIssue(t.db, t.plan, t.visitId, "too late", TODAY, BY);
    expect(late.ok ? "ok" : late.problems[0]!.rule).toBe("returned-already");
    expect(ledgerDifferences(t.db)).toEqual([]);
  });
});

it("a transfer that comes after the pick day is too late for the kit, and the line says so", () => {
  const line = () =>
    loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.itemCode === PIECE.code)!;
  const { pickOn } = loadKitView(t.db, t.plan, t.visitId, TODAY)!;
  t.db.$client
    .prepare("UPDATE kit_line SET short_c = 100 WHERE visit_id = ? AND item_code = ?")
    .run(t.visitId, PIECE.code);
  const words = makeWords("en", {});
  for (const [days, late] of [
    [0, false],
    [1, true],
  ] as const) {
    t.db.delete(stockTransfer).run();
    const arriveOn = addDays(pickOn, days);
    t.db
      .insert(stockTransfer)
      .values({
        itemCode: PIECE.code,
        fromPlace: "WH-WEST",
        toPlace: "WH-EAST",
        quantityC: 100,
        sendOn: addDays(arriveOn, -1),
        arriveOn,
        state: "planned",
        plannedBy: "Test",
        plannedAt: 0,
      })
      .run();
    expect(line().comesOver?.transfer).toMatchObject({ arriveOn, isTooLate: late });
    expect(transferWords(line(), words)?.includes("too late for this kit")).toBe(late);
  }
});

it("a kit names the transfer that makes it whole, and none where kits before it take what comes", () => {
  const view = () => loadKitView(t.db, t.plan, t.visitId, TODAY)!;
  const line = () => view().lines.find((l) => l.itemCode === PIECE.code)!;
  const { pickOn } = view();
  t.db.$client
    .prepare("UPDATE kit_line SET short_c = 100 WHERE visit_id = ? AND item_code = ?")
    .run(t.visitId, PIECE.code);
  const stop = { visitId: t.visitId, siteCode: "S1", day: 3, missing: 1 };
  const net = (stops: (typeof stop)[], stopsLeft: (typeof stop)[]) =>
    savePlanStock(t.db, t.plan.id, loadCutting(t.db, t.plan.id), {
      netting: [
        {
          itemCode: PIECE.code,
          placeCode: "WH-EAST",
          runsOutOn: null,
          onHandC: 0,
          totalNeedC: 100,
          body: {
            ...EMPTY_NETTING,
            ...{ stops, stopsLeft },
          },
        },
      ],
      transfers: [-2, -1, 1].map((days) => ({
        ...{ itemCode: PIECE.code, fromPlace: "WH-WEST", toPlace: "WH-EAST", quantityC: 100 },
        ...{
          sendOn: addDays(pickOn, days - 1),
          arriveOn: addDays(pickOn, days),
          daysLate: 0,
          fromReserve: false,
        },
      })),
    });
  const words = makeWords("en", {});
  net([stop], []);
  expect(line().comesOver?.transfer).toMatchObject({ arriveOn: addDays(pickOn, -1), isTooLate: false });
  expect(loadVisitView(t.db, t.plan.id, t.visitId, TODAY)?.shortItems[0]?.transferOn).toBe(
    addDays(pickOn, -1),
  );
  net([stop], [stop]);
  expect(line().comesOver?.transfer).toMatchObject({ arriveOn: addDays(pickOn, 1), isTooLate: true });
  expect(loadVisitView(t.db, t.plan.id, t.visitId, TODAY)?.shortItems[0]?.transferOn).toBeNull();
  t.db.$client.prepare("DELETE FROM plan_transfer WHERE arrive_on > ?").run(pickOn);
  expect(transferWords(line(), words)).toBe("What comes over by transfer goes to kits before it");
});

describe("a line picked in part", () => {
  const pieceLine = () =>
    loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.itemCode === PIECE.code)!;
  const row = () => loadKitRows(t.db, t.plan.id).find((k) => k.visitId === t.visitId)!;

  it("is not picked: the list counts whole lines only", () => {
    expect(pickLine(t.db, t.plan.id, t.visitId, pieceLine().lineNo, 400, BY).ok).toBe(true);
    expect(pieceLine()).toMatchObject({ pickedC: 400, boxC: 600, isWhole: false });
    expect(row().pickedCount).toBe(0);
    pickLine(t.db, t.plan.id, t.visitId, pieceLine().lineNo, 600, BY);
    expect(pieceLine().isWhole).toBe(true);
    expect(row()).toMatchObject({ pickedCount: 1, shortCount: 0 });
  });

  it("leaves the issued kit short by the rest, for the reason that was given", () => {
    pickAll();
    pickLine(t.db, t.plan.id, t.visitId, pieceLine().lineNo, 400, BY);
    expect(shortLineCounts(t.db, t.plan.id).get(t.visitId)).toBeUndefined();
    expect(issue({ counted: ALL_PIECES - 2 }).ok).toBe(false);
    expect(issue({ counted: ALL_PIECES - 2, shortReason: "two are bent" }).ok).toBe(true);
    const kit = loadKitView(t.db, t.plan, t.visitId, TODAY)!;
    expect(kit.shortWhy).toBe("two are bent");
    expect(kit.lines.filter((l) => l.lacksC > 0).map((l) => [l.itemCode, l.lacksC])).toEqual([
      [PIECE.code, 200],
    ]);
    expect(row().shortCount).toBe(1);
    expect(shortLineCounts(t.db, t.plan.id).get(t.visitId)).toBe(1);
    // The crew's page reads the stored kit.
    const stored = loadKit(t.db, t.plan.id, t.visitId)!;
    const lacks = stored.lines.map((l) => lineShortC(l, { state: "issued", isDone: false }));
    expect(lacks.filter((c) => c > 0)).toEqual([200]);
    // What follows the kit does not change why the rest is missing.
    const note = { visitId: t.visitId, vehiclePlace: "VAN-1", counted: 1, countedBy: "Second", today: TODAY };
    const { lineNo } = kit.lines.find((l) => l.itemCode === PIECE.code)!;
    expect(issueMissing(t.db, t.plan, { ...note, lines: [{ lineNo, quantityC: 100 }] }, BY).ok).toBe(true);
    expect(issuedShortWhy(t.db, t.visitId)).toBe("two are bent");
    takeBackIssue(t.db, t.plan, t.visitId, "wrong van", TODAY, BY);
    expect(issuedShortWhy(t.db, t.visitId)).toBeNull();
  });
});

describe("what a vehicle has opened already", () => {
  const tapeLine = () =>
    loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.itemCode === TAPE.code)!;
  const kitRow = () => loadKitRows(t.db, t.plan.id).find((k) => k.visitId === t.visitId)!;
  /** As a netting does that finds enough of it on the vehicle, or no more. */
  const setBox = (boxC: number) => {
    const kit = loadKit(t.db, t.plan.id, t.visitId)!;
    const lines = kit.lines.map((l) => (l.itemCode === TAPE.code ? { ...l, boxC, shortC: 0 } : l));
    writing(t.db, () => replacePlannedKits(t.db, t.plan.id, [{ ...kit, state: "planned", lines }]));
  };

  it("is not picked, is not short, and is not counted as a line to pick", () => {
    expect(kitRow().lineCount).toBe(3);
    setBox(0);
    // The list of kits, the week's card and the crew's report say the same of it: two lines, one opened besides.
    const told = () => ({
      list: kitRow().lineCount,
      card: pickedLineCounts(t.db, t.plan.id).get(t.visitId)!.lineCount,
      report: linesWords(reportLines(loadKit(t.db, t.plan.id, t.visitId)!.lines, [], EN_LINES), EN.t),
    });
    expect(told()).toEqual({ list: 2, card: 2, report: "2 lines, 1 more opened on the vehicle" });
    pickLine(t.db, t.plan.id, t.visitId, tapeLine().lineNo, 100, BY);
    expect(told()).toEqual({ list: 3, card: 3, report: "3 lines" });
    pickLine(t.db, t.plan.id, t.visitId, tapeLine().lineNo, 0, BY);
    expect(tapeLine()).toMatchObject({ boxC: 0, lacksC: 0, isWhole: true, missingC: 0, sources: [] });
    expect(kitRow()).toMatchObject({ lineCount: 2, pickedCount: 0 });
    expect(cut(2_350).ok).toBe(true);
    for (const l of loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines)
      if (!l.runId && l.boxC > 0) pickLine(t.db, t.plan.id, t.visitId, l.lineNo, l.boxC, BY);
    expect(kitRow()).toMatchObject({ lineCount: 2, pickedCount: 2, shortCount: 0 });
    // A run and six pieces: it leaves without a word of why once the vehicle has the tape by the books.
    opened(300);
    expect(issue({ counted: 7 }).ok).toBe(true);
    expect(shortLineCounts(t.db, t.plan.id).size).toBe(0);
    expect(loadNeeds(t.db, t.plan.id, TAPE.code)).toEqual([]);
  });

  /** What lies on the crew's vehicle already. */
  const opened = (quantityC: number) =>
    postMovement(t.db, {
      key: "opened",
      kind: "receipt",
      itemCode: TAPE.code,
      lotCode: "LONG",
      owner: TAPE.owner,
      toPlace: "VAN-1",
      quantityC,
      effectiveOn: TODAY,
      postedAt: BY.at,
      reason: "test",
      postedBy: "Test",
    });

  it("is asked about where the vehicle has it not, unless a kit before this one brings it", () => {
    setBox(0);
    expect(tapeLine().notOpened).toEqual({ vehicle: "VAN-1", lacksC: tapeLine().neededC, broughtBy: null });
    opened(100);
    expect(tapeLine().notOpened).toMatchObject({ lacksC: tapeLine().neededC - 100 });
    expect(cut(2_350).ok).toBe(true);
    for (const l of loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines)
      if (!l.runId && l.boxC > 0) pickLine(t.db, t.plan.id, t.visitId, l.lineNo, l.boxC, BY);
    const refusal = issue({ counted: 7 });
    expect(refusal).toMatchObject({
      ok: false,
      problems: [{ path: "short", rule: "not-opened", value: TAPE.code }],
    });
    expect(issue({ counted: 7, shortReason: "the crew buys some" }).ok).toBe(true);
    // What it left without can follow, in whole units.
    const wholeC = Math.ceil((tapeLine().neededC - 100) / 100) * 100;
    expect(tapeLine()).toMatchObject({ lacksC: wholeC, notOpened: { broughtBy: null } });
    const note = { visitId: t.visitId, vehiclePlace: "VAN-1", countedBy: "Second", today: TODAY };
    const after = {
      ...note,
      counted: wholeC / 100,
      lines: [{ lineNo: tapeLine().lineNo, quantityC: wholeC }],
    };
    expect(issueMissing(t.db, t.plan, after, BY).ok).toBe(true);
    expect(tapeLine()).toMatchObject({ lacksC: 0, notOpened: null, pickedC: wholeC });
    takeBackIssue(t.db, t.plan, t.visitId, "not loaded", TODAY, BY);
    expect(tapeLine().notOpened).toBeNull();
    expect(issue({ counted: 7 + wholeC / 100 }).ok).toBe(true);
  });

  it("comes with a kit of the same crew before it, unless that is on hold", () => {
    setBox(0);
    const before = t.db.$client.prepare("UPDATE plan_visit SET start_on = ?, end_on = ? WHERE visit_id = ?");
    const [own, other] = [t.visitId, t.laterId];
    before.run(addDays(TODAY, 5), addDays(TODAY, 5), own);
    before.run(addDays(TODAY, 1), addDays(TODAY, 1), other);
    const kit = loadKit(t.db, t.plan.id, own)!;
    const tape = kit.lines.find((l) => l.itemCode === TAPE.code)!;
    writing(t.db, () =>
      replacePlannedKits(t.db, t.plan.id, [
        { ...kit, state: "planned" },
        { ...kit, visitId: other, state: "planned", lines: [{ ...tape, boxC: 100 }] },
      ]),
    );
    expect(tapeLine().notOpened).toMatchObject({ broughtBy: other });
    t.db.$client.prepare("UPDATE plan SET created_at = created_at - 60000").run();
    const held = { outcome: "hold" as const, holdReason: "gate locked", workedMin: 0 };
    expect(sendReport({ ...t, visitId: other }, held).ok).toBe(true);
    expect(tapeLine().notOpened).toMatchObject({ broughtBy: null });
  });

  it("is wanted again in a kit that somebody has begun, when an earlier kit brings it no more", () => {
    setBox(0);
    expect(pickLine(t.db, t.plan.id, t.visitId, 2, 600, BY).ok).toBe(true);
    setBox(300);
    expect(loadKit(t.db, t.plan.id, t.visitId)!.state).toBe("picked");
    expect(tapeLine()).toMatchObject({ boxC: 300, pickedC: 0, isWhole: false });
    expect(loadKit(t.db, t.plan.id, t.visitId)!.lines[1]).toMatchObject({ pickedC: 600 });
    expect(loadNeeds(t.db, t.plan.id, TAPE.code).map((n) => n.quantity)).toEqual([3]);
  });
});

describe("a run cut at another warehouse than its kit's", () => {
  const runLine = () => loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.runId)!;

  beforeEach(() => {
    t.db.$client.prepare("UPDATE kit SET place_code = 'WH-WEST' WHERE visit_id = ?").run(t.visitId);
  });

  it("is not in the box until somebody ticks it off there", () => {
    expect(cut(2_350).ok).toBe(true);
    expect(runLine()).toMatchObject({ pickedC: 0, cutPlace: "WH-EAST", lacksC: 2_350, isWhole: false });
    expect(loadKit(t.db, t.plan.id, t.visitId)!.state).toBe("planned");
    expect(pickLine(t.db, t.plan.id, t.visitId, runLine().lineNo, 2_350, BY).ok).toBe(true);
    expect(runLine()).toMatchObject({ pickedC: 2_350, cutPlace: null, lacksC: 0, isWhole: true });
  });

  it("stands among the coils to bring over until then, and its way in the log", () => {
    expect(coilsOnTheirWay(t.db, t.plan.id)).toEqual([]);
    cut(2_350);
    expect(coilsOnTheirWay(t.db, t.plan.id)).toMatchObject([
      {
        visitId: t.visitId,
        fromPlace: "WH-EAST",
        toPlace: "WH-WEST",
        quantityC: 2_350,
        lineNo: runLine().lineNo,
      },
    ]);
    const ways = () => loadLog(t.db, 100).filter((e) => e.action.startsWith("coil")).length;
    const tick = (pickedC: number) => pickLine(t.db, t.plan.id, t.visitId, runLine().lineNo, pickedC, BY);
    tick(2_350);
    tick(2_350);
    expect([coilsOnTheirWay(t.db, t.plan.id).length, ways()]).toEqual([0, 1]);
    tick(0);
    expect([coilsOnTheirWay(t.db, t.plan.id).length, ways()]).toEqual([1, 2]);
  });

  it("makes the kit short when it leaves without it", () => {
    cut(2_350);
    t.db.$client.prepare("UPDATE kit SET place_code = 'WH-EAST' WHERE visit_id = ?").run(t.visitId);
    for (const l of loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines)
      if (!l.runId) pickLine(t.db, t.plan.id, t.visitId, l.lineNo, l.boxC, BY);
    const refused = issue({ counted: ALL_PIECES - 1 });
    expect(refused.ok ? [] : refused.problems.map((p) => p.rule)).toEqual(["issued-short"]);
  });
});

describe("a run that an issued kit left without", () => {
  const runLine = () => loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines.find((l) => l.runId)!;
  const wantsCable = () => loadNeeds(t.db, t.plan.id, CABLE.code).map((n) => [n.visitId, n.quantity]);
  const shortLines = () => shortLineCounts(t.db, t.plan.id).get(t.visitId) ?? 0;
  const send = (part: Partial<Parameters<typeof issueMissing>[2]> = {}) => {
    const { lineNo } = runLine();
    const lines = [{ lineNo, quantityC: 2_350 }];
    const note = { vehiclePlace: "VAN-1", counted: 1, countedBy: "Second", today: TODAY, lines };
    const answer = issueMissing(t.db, t.plan, { visitId: t.visitId, ...note, ...part }, BY);
    return answer.ok ? answer.value : answer.problems.map((p) => p.rule);
  };
  const issueWithoutRun = () => {
    for (const l of loadKitView(t.db, t.plan, t.visitId, TODAY)!.lines)
      if (!l.runId) pickLine(t.db, t.plan.id, t.visitId, l.lineNo, l.boxC, BY);
    return issue({ counted: ALL_PIECES - 1, shortReason: "the drum is empty" });
  };
  const programme = () => loadProgrammeInput(t.db, { today: TODAY, dayCount: 28, frozenDays: 0 });

  it("stays wanted, is cut, counted as one run, and sent after the kit once", () => {
    expect(issueWithoutRun().ok).toBe(true);
    expect(programme().runsToFollow).toEqual(new Set([t.runId]));
    expect(wantsCable()).toEqual([[t.visitId, 23.5]]);
    expect(runLine()).toMatchObject({ lacksC: 2_350, cut: null });
    expect(send()).toEqual(["run-not-cut"]);
    expect(cut(2_400).ok).toBe(true);
    // Cut for a kit that has left, it lies at the warehouse: the kit is short of it until somebody sends it.
    expect(runLine()).toMatchObject({
      pickedC: 0,
      lacksC: 2_350,
      cut: { quantityC: 2_400, drumSerial: "D1" },
    });
    expect([wantsCable(), shortLines()]).toEqual([[], 1]);
    expect(send({ counted: 2 })).toEqual(["count-differs"]);
    expect(send({ countedBy: BY.name })).toEqual(["counted-by-picker"]);
    expect(send()).toEqual({ rows: 0, runs: 1 });
    expect(runLine()).toMatchObject({ pickedC: 2_400, lacksC: 0, isWhole: true });
    expect([shortLines(), programme().runsToFollow!.size]).toEqual([0, 0]);
    expect(send()).toEqual(["missing-more"]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("comes over from another warehouse on its way", () => {
    t.db.$client.prepare("UPDATE kit SET place_code = 'WH-WEST' WHERE visit_id = ?").run(t.visitId);
    cut(2_350);
    t.db.$client.prepare("UPDATE kit SET state = 'issued' WHERE visit_id = ?").run(t.visitId);
    expect(coilsOnTheirWay(t.db, t.plan.id)).toMatchObject([{ visitId: t.visitId, isOut: true }]);
    expect(runLine()).toMatchObject({ cutPlace: "WH-EAST", lacksC: 2_350 });
    t.db.$client.prepare("UPDATE kit SET state = 'planned', place_code = 'WH-EAST'").run();
    issueWithoutRun();
    t.db.$client.prepare("UPDATE kit SET place_code = 'WH-WEST' WHERE visit_id = ?").run(t.visitId);
    expect(send()).toEqual({ rows: 0, runs: 1 });
    expect(coilsOnTheirWay(t.db, t.plan.id)).toEqual([]);
    expect(loadLog(t.db, 100).filter((e) => e.action === "coil came over")).toHaveLength(1);
  });

  it("is wanted no more once the crew says that it hangs, or that the visit is done", () => {
    issueWithoutRun();
    const uses = [{ itemCode: CABLE.code, runId: t.runId, drumSerial: null, used: 23, left: 0 }];
    expect(sendReport(t, { outcome: "part done", leftMin: 60, uses }).ok).toBe(true);
    expect(programme().runsToFollow!.size).toBe(0);
  });

  it("is told as lost, not as left behind, when it followed and was lost; a visit that is done lacks nothing", () => {
    const shortWhy = () => loadKitView(t.db, t.plan, t.visitId, TODAY)!.shortWhy;
    const reported = () =>
      reportLines(loadKit(t.db, t.plan.id, t.visitId)!.lines, [], {
        ...EN_LINES,
        isIssued: true,
        lostRuns: lostRunsOf(t.db, t.visitId),
      }).find((l) => l.runId === t.runId)!.missing;
    issueWithoutRun();
    expect([shortWhy(), reported(), shortLines()]).toEqual(["the drum is empty", "left behind", 1]);
    cut(2_400);
    send();
    expect([shortWhy(), reported(), shortLines()]).toEqual([null, undefined, 0]);
    const note = { visitId: t.visitId, lineNo: runLine().lineNo, reason: "fell off", today: TODAY };
    expect(loseRun(t.db, t.plan, note, BY).ok).toBe(true);
    expect([shortWhy(), reported(), shortLines()]).toEqual([null, "lost since", 1]);
    // The list that names the next one's drum is made anew behind it; here there is none.
    t.db.$client.prepare("UPDATE kit_line SET drum_serial = NULL WHERE visit_id = ?").run(t.visitId);
    expect(runWords(runLine(), EN)).toMatch(/^Lost, noted on .* by .*: fell off\. Run /);
    expect(sendReport(t, {}).ok).toBe(true);
    expect([runLine().lacksC, shortLines()]).toEqual([0, 0]);
    expect(loadKitRows(t.db, t.plan.id).find((k) => k.visitId === t.visitId)?.shortCount).toBe(0);
    expect(loadVisitViews(t.db, { hopCode: t.visitId.split("/")[0]! })[0]?.shortLines).toBe(0);
  });

  it("is cut anew when its piece was lost on the vehicle; both pieces are accounted for", () => {
    pickAll();
    issue();
    const { lineNo } = runLine();
    const note = { visitId: t.visitId, lineNo, reason: "fell off the trailer", today: TODAY };
    expect(loseRun(t.db, t.plan, note, BY).ok).toBe(true);
    expect(loseRun(t.db, t.plan, note, BY).ok).toBe(false);
    expect(runLine()).toMatchObject({ pickedC: 0, lacksC: 2_350, cut: null });
    expect(runLine().lostRun).toMatchObject({ reason: "fell off the trailer", recordedBy: BY.name });
    expect(wantsCable()).toEqual([[t.visitId, 23.5]]);
    // It turns up, and is lost for good.
    expect(findRunAgain(t.db, t.plan, note, BY).ok).toBe(true);
    expect(runLine()).toMatchObject({ pickedC: 2_350, lostRun: null, lacksC: 0 });
    expect(loseRun(t.db, t.plan, note, BY).ok).toBe(true);
    expect(cut(2_360).ok).toBe(true);
    const tooLate = findRunAgain(t.db, t.plan, note, BY);
    expect(tooLate.ok ? "ok" : tooLate.problems[0]!.rule).toBe("run-not-lost");
    expect(send()).toEqual({ rows: 0, runs: 1 });
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([["D1", DRUM_C - 2_350 - 2_360 - 2 * 20]]);
    const cable = () => loadCloseOut(t.db)[0]!.lines.find((l) => l.itemCode === CABLE.code);
    expect(cable()).toMatchObject({ issuedC: 4_710, scrappedC: 2_350 });
    expect(loadOffcuts(t.db, TODAY, TODAY).find((o) => o.reason === "lost after the cut")).toMatchObject({
      lengthC: 2_350,
    });
    // Taking the second cut back takes its own saw allowance along, not the first one's.
    expect(takeBack(t.db, cutsMade(t.db).get(t.runId)!.id, "measured wrong", TODAY, BY).ok).toBe(true);
    expect(onHand(CABLE.code, "WH-EAST")).toEqual([["D1", DRUM_C - 2_350 - 20]]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });
});

describe("serials that are read into a kit", () => {
  const line = (visitId = t.visitId) =>
    loadKitView(t.db, t.plan, visitId, TODAY)!.lines.find((l) => l.itemCode === PIECE.code)!;
  const read = (serials: string[], visitId = t.visitId) => {
    const answer = pickSerials(t.db, t.plan.id, { visitId, lineNo: line(visitId).lineNo, serials }, BY);
    return answer.ok ? answer.value : answer.problems.map((p) => p.rule);
  };
  const rowsOf = (serial: string) =>
    loadLedger(t.db, { serial, limit: 10 }).map((r) => [r.kind, r.quantityC, r.toPlace]);
  const found = (serial: string) => {
    const visitor = visitorAs("manager");
    return findFor(t.db, visitor, serial).find((f) => f.label === serial)?.detail;
  };

  beforeEach(() => {
    t.db.$client.prepare("UPDATE item SET category = 'ODU' WHERE code = ?").run(PIECE.code);
    pickAll();
  });

  it("leave by rows of their own, name the kit in the search, and are in the box again when it is taken back", () => {
    expect(line()).toMatchObject({ takesSerials: true, serials: [] });
    expect(read(["RU-1", "RU-2"])).toBe(2);
    expect(line().serials).toEqual(["RU-1", "RU-2"]);
    expect(found("RU-1")).toBeUndefined();
    expect(issue()).toMatchObject({ ok: true, value: { rows: 5 } });
    expect(line().serials).toEqual(["RU-1", "RU-2"]);
    expect(rowsOf("RU-1")).toEqual([["issue", 100, "VAN-1"]]);
    expect(found("RU-1")).toBe(`${PIECE.code}, left with the kit ${visitName(t.visitId, EN.t)}`);
    expect(outOfKit(t.db, t.visitId).find((r) => r.itemCode === PIECE.code)).toMatchObject({
      outC: 600,
      serials: ["RU-1", "RU-2"],
    });
    expect(serialAccounts().map((s) => [s.serial, s.state, s.where])).toEqual([
      ["RU-1", "out", "VAN-1"],
      ["RU-2", "out", "VAN-1"],
    ]);
    expect(takeBackIssue(t.db, t.plan, t.visitId, "wrong vehicle", TODAY, BY).ok).toBe(true);
    expect([line().serials, found("RU-1")]).toEqual([["RU-1", "RU-2"], PIECE.code]);
    expect(issue().ok).toBe(true);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  const serialAccounts = () => [...loadSerialAccounts(t.db).values()].flat();

  it("tick the line of a piece that the ledger knows, one by one", () => {
    const scan = (serial: string) => {
      const answer = pickBySerial(t.db, t.plan.id, { visitId: t.visitId, serial }, BY);
      return answer.ok ? [answer.value.read, answer.value.isAgain] : answer.problems.map((p) => p.rule);
    };
    const bring = (serial: string, { code, owner } = PIECE) =>
      postMovement(t.db, {
        ...{
          key: serial,
          kind: "receipt",
          itemCode: code,
          owner,
          toPlace: "WH-EAST",
          quantityC: 100,
          serial,
        },
        ...{ effectiveOn: TODAY, postedAt: BY.at, reason: "test", postedBy: "T" },
      });
    for (const n of [3, 4, 5, 6, 7, 8, 9]) bring(`RU-${n}`);
    bring("RU-T", DEFAULT_CATALOGUE.find((i) => i.category === "ODU")!);
    pickLine(t.db, t.plan.id, t.visitId, line().lineNo, 0, BY);
    expect(scan("RU-1")).toEqual(["serial-unknown"]);
    expect(scan("RU-T")).toEqual(["other-variant"]);
    expect([line().pickedC, line().serials]).toEqual([0, []]);
    expect([scan("RU-8"), scan("RU-9"), scan("RU-9")]).toEqual([
      [1, false],
      [2, false],
      [2, true],
    ]);
    expect([line().pickedC, line().serials]).toEqual([200, ["RU-8", "RU-9"]]);
    // Ticked whole before: a scan only names one of them.
    pickLine(t.db, t.plan.id, t.visitId, line().lineNo, 600, BY);
    expect([scan("RU-7"), line().pickedC]).toEqual([[3, false], 600]);
    for (const serial of ["RU-4", "RU-5", "RU-6"]) scan(serial);
    expect(scan("RU-3")).toEqual(["serials-more"]);
    expect(issue().ok).toBe(true);
    expect(scan("RU-8")).toEqual(["kit-state"]);
  });

  it("are refused when the label cannot be right, and forgotten when fewer pieces are in the box", () => {
    expect(read(["RU-1", "RU-1"])).toEqual(["serial-twice"]);
    expect(read(["XX-1", " xx-1"])).toEqual(["serial-twice"]);
    expect(read(["1", "2", "3", "4", "5", "6", "7"])).toEqual(["serials-more"]);
    expect(read(["RU-1"])).toBe(1);
    pickLine(t.db, t.plan.id, t.laterId, 1, 200, BY);
    expect(read(["ru-1"], t.laterId)).toEqual(["in-other-kit"]);
    pickLine(t.db, t.plan.id, t.visitId, line().lineNo, 0, BY);
    expect(line().serials).toEqual([]);
    expect(read(["RU-1"], t.laterId)).toBe(1);
  });

  it("are known from a receipt by hand, however they are typed at the box", () => {
    pickLine(t.db, t.plan.id, t.visitId, line().lineNo, 0, BY);
    const other = DEFAULT_CATALOGUE.find((i) => i.category === "ODU")!;
    const receive = (itemCode: string, serial: string) =>
      recordMovement(
        t.db,
        {
          ...{ kind: "receipt", itemCode, toPlace: "WH-EAST", quantity: 1, serials: [serial] },
          ...{ on: TODAY, today: TODAY, reason: "brought by hand", key: `receipt of ${serial}` },
        },
        BY,
      ).ok;
    expect([receive(PIECE.code, "XX-1"), receive(other.code, "XX-2")]).toEqual([true, true]);
    const scan = pickBySerial(t.db, t.plan.id, { visitId: t.visitId, serial: "xx-1" }, BY);
    expect(scan).toMatchObject({ ok: true, value: { itemCode: PIECE.code, read: 1 } });
    expect([line().pickedC, line().serials]).toEqual([100, ["XX-1"]]);
    pickLine(t.db, t.plan.id, t.visitId, line().lineNo, 200, BY);
    expect(read(["XX-1", "xx-2"])).toEqual(["other-variant"]);
    const more = pickSerials(
      t.db,
      t.plan.id,
      { visitId: t.visitId, lineNo: line().lineNo, serials: ["A", "B", "C"] },
      BY,
    );
    expect(more.ok ? "" : more.problems[0]!.message).toBe("Serials: 3; units in the box: 2.");
  });

  it("come back by name when only some do, and go after the kit by name", () => {
    read(["RU-1", "RU-2"]);
    issue();
    const giveBack = (quantityC: number, serials: string[], key: string) => {
      const part = { itemCode: PIECE.code, lotCode: "", owner: PIECE.owner, quantityC, serials };
      const answer = returnFromKit(
        t.db,
        { visitId: t.visitId, toPlace: "WH-EAST", key, today: TODAY, lines: [part] },
        BY,
      );
      return answer.ok ? answer.value.rows : answer.problems.map((p) => p.rule);
    };
    // Two of the six have a name, and one piece stays: it is not said whether it is one of them.
    expect(giveBack(500, [], "a")).toEqual(["return-serials"]);
    expect(giveBack(500, ["RU-2"], "a")).toBe(2);
    expect(rowsOf("RU-2")[0]).toEqual(["return", 100, "WH-EAST"]);
    expect(found("RU-2")).toBe(PIECE.code);
    expect(giveBack(100, [], "b")).toBe(1);
    expect(rowsOf("RU-1")[0]).toEqual(["return", 100, "WH-EAST"]);
    t.db.$client
      .prepare("UPDATE kit_line SET picked_c = 500 WHERE visit_id = ? AND item_code = ?")
      .run(t.visitId, PIECE.code);
    const note = { visitId: t.visitId, vehiclePlace: "VAN-1", counted: 1, countedBy: "Second", today: TODAY };
    const after = { lineNo: line().lineNo, quantityC: 100, serials: ["RU-9"] };
    expect(issueMissing(t.db, t.plan, { ...note, lines: [after] }, BY).ok).toBe(true);
    expect(rowsOf("RU-9")).toEqual([["issue", 100, "VAN-1"]]);
    expect(line().serials).toContain("RU-9");
    expect(ledgerDifferences(t.db)).toEqual([]);
  });
});

describe("a kit that was never issued although its visit is done", () => {
  const net = () => {
    const later = loadKit(t.db, t.plan.id, t.laterId)!;
    writing(t.db, () => replacePlannedKits(t.db, t.plan.id, [{ ...later, state: "planned" }]));
  };
  const kitIds = (planId = t.plan.id) => loadKitRows(t.db, planId).map((k) => [k.visitId, k.isNeverIssued]);
  const pieces = (visitId: string) =>
    loadKitView(t.db, t.plan, visitId, TODAY)!.lines.find((l) => l.itemCode === PIECE.code)!;
  const needs = () => loadNeeds(t.db, t.plan.id, PIECE.code).map((n) => n.visitId);
  const uses = [{ itemCode: PIECE.code, runId: null, drumSerial: null, used: 6, left: 0 }];

  it("stays with the plan through a netting, and is a planned kit like others once the visit is part done again", () => {
    expect(sendReport(t, {}).ok).toBe(true);
    net();
    expect(kitIds()).toEqual([
      [t.visitId, true],
      [t.laterId, false],
    ]);
    expect(loadKit(t.db, t.plan.id, t.visitId)!.lines).toHaveLength(3);
    expect(sendReport(t, { outcome: "part done", leftMin: 60 }).ok).toBe(true);
    expect(kitIds()[0]).toEqual([t.visitId, false]);
    expect(needs()).toEqual([t.visitId, t.laterId]);
    net();
    expect(kitIds()).toEqual([[t.laterId, false]]);
  });

  it("goes over to the next plan with its visit, as no other planned kit does", () => {
    const { id: _, ...head } = t.plan;
    const next = writing(t.db, () =>
      savePlan(t.db, {
        head: { ...head, state: "draft" },
        ...{ visits: [], kits: [], cutting: [], netting: [], transfers: [] },
      }),
    );
    const changedKits = () => loadInForceEffect(t.db, next, t.plan.id, TODAY).kits;
    expect(changedKits()).toBe(2);
    expect(sendReport(t, {}).ok).toBe(true);
    // For whoever puts it in force nothing changes of it.
    expect(changedKits()).toBe(1);
    writing(t.db, () => {
      carryPlaces(t.db, t.plan.id, next, new Set([t.visitId, t.laterId]));
      expect(carryKits(t.db, t.plan.id, next)).toBe(1);
    });
    expect(kitIds(next)).toEqual([[t.visitId, true]]);
    expect(loadKit(t.db, next, t.visitId)!.lines).toHaveLength(3);
  });

  it("claims nothing of shelves, needs, vehicles and lists of what is to pick", () => {
    t.db.$client.prepare("UPDATE kit_line SET short_c = 100 WHERE visit_id = ?").run(t.visitId);
    const lead = visitorAs("crew lead");
    const board = () => loadBoard(t.db, t.plan, TODAY).visits.find((v) => v.visitId === t.visitId)!.kit;
    const panel = () => loadVisitView(t.db, t.plan.id, t.visitId, TODAY)!;
    const told = () => ({
      claims: pieces(t.laterId).claims.length,
      freeC: pieces(t.laterId).sources[0]!.quantityC,
      needs: needs().includes(t.visitId),
      loads: vehicleLoads(loadKitRows(t.db, t.plan.id), new Map()).length,
      short: shortLineCounts(t.db, t.plan.id).size + panel().shortItems.length,
      onBoard: board() !== undefined,
      labels: labelRows(t.db, t.plan, { kind: "kit" }, String).length,
      found: findFor(t.db, lead, t.visitId).filter((f) => f.group === "Kits").length,
    });
    expect(told()).toEqual({
      ...{ claims: 1, freeC: 400, needs: true, loads: 2, onBoard: true, labels: 2, found: 1 },
      short: 1 + 3,
    });
    expect(sendReport(t, {}).ok).toBe(true);
    net();
    expect(told()).toEqual({
      ...{ claims: 0, freeC: 800, needs: false, loads: 1, onBoard: false, labels: 1, found: 0 },
      short: 0,
    });
    // Once somebody ticks what left, that much of the shelf is not for others; what is not ticked is.
    expect(pickLine(t.db, t.plan.id, t.visitId, pieces(t.visitId).lineNo, 200, BY).ok).toBe(true);
    expect(pieces(t.laterId).claims).toMatchObject([{ visitId: t.visitId, quantityC: 200 }]);
    expect([needs(), kitIds()[0]]).toEqual([[t.laterId], [t.visitId, true]]);
    pickLine(t.db, t.plan.id, t.visitId, pieces(t.visitId).lineNo, 0, BY);
    expect([loadKit(t.db, t.plan.id, t.visitId)!.state, told().claims]).toEqual(["planned", 0]);
  });

  it("asks for no coil to come over", () => {
    cut(2_350);
    t.db.$client
      .prepare("UPDATE kit SET place_code = 'WH-WEST', state = 'planned' WHERE visit_id = ?")
      .run(t.visitId);
    t.db.$client.prepare("UPDATE kit_line SET picked_c = 0 WHERE visit_id = ?").run(t.visitId);
    expect(coilsOnTheirWay(t.db, t.plan.id)).toHaveLength(1);
    expect(sendReport(t, {}).ok).toBe(true);
    expect(coilsOnTheirWay(t.db, t.plan.id)).toEqual([]);
  });

  it("is picked and issued with what left; what its report used is off the vehicle with that, each piece once", () => {
    expect(sendReport(t, { uses }).ok).toBe(true);
    net();
    expect(loadUnbookedUse(t.db)).toMatchObject([{ itemCode: PIECE.code, quantityC: 600 }]);
    // Its page opens, and the hop's page knows the kit to lead to.
    const isNeverIssued = () => loadKitView(t.db, t.plan, t.visitId, TODAY)!.isNeverIssued;
    expect(isNeverIssued()).toBe(true);
    expect(loadVisitViews(t.db, { hopCode: t.visitId.split("/")[0]! })[0]).toMatchObject({
      ...{ visitId: t.visitId, outcome: "done", kitState: "planned", shortLines: 0 },
    });
    expect(pickLine(t.db, t.plan.id, t.visitId, pieces(t.visitId).lineNo, 600, BY).ok).toBe(true);
    expect(issue({ counted: 6, shortReason: "the rest stayed here" }).ok).toBe(true);
    expect([kitIds()[0], isNeverIssued()]).toEqual([[t.visitId, false], false]);
    expect(onHand(PIECE.code, "WH-EAST")).toEqual([["", 400]]);
    expect(shortLineCounts(t.db, t.plan.id).size).toBe(0);
    const settled = () => {
      const line = loadCloseOut(t.db)[0]!.lines.find((l) => l.itemCode === PIECE.code);
      expect(line).toMatchObject({ issuedC: 600, installedC: 600, openC: 0 });
      expect(loadUnbookedUse(t.db)).toEqual([]);
      expect(ledgerDifferences(t.db)).toEqual([]);
    };
    settled();
    // Taken back, it lies in the box, and the use is reported only; issued anew it is booked again.
    expect(takeBackIssue(t.db, t.plan, t.visitId, "wrong vehicle", TODAY, { ...BY, at: BY.at + 1 }).ok).toBe(
      true,
    );
    expect([loadUnbookedUse(t.db), onHand(PIECE.code, "WH-EAST")]).toMatchObject([
      [{ quantityC: 600 }],
      [["", 1000]],
    ]);
    expect(issue({ counted: 6, shortReason: "the rest stayed here" }, { ...BY, at: BY.at + 2 }).ok).toBe(
      true,
    );
    settled();
    net();
    // A report in place of the first says the same and books nothing more.
    expect(sendReport(t, { uses }).ok).toBe(true);
    settled();
  });
});
