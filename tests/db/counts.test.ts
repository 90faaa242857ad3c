/** Counts: blind, each line against the ledger of its moment, approved by somebody else, posted whole and once. */
import { beforeEach, describe, expect, it } from "vitest";
import { approveCount, askRecount, cancelCount, countUsedSince } from "@/db/queries/countApproval";
import { loadBlindLines, loadCounts, loadDifferences } from "@/db/queries/countViews";
import { addFound, countThing, handInCount, startCount } from "@/db/queries/countWork";
import { ledgerDifferences, loadLedger, postMovement } from "@/db/queries/ledger";
import { recordMovement } from "@/db/queries/movements";
import { loadBalances, loadLots } from "@/db/queries/shelves";
import { loadWaiting } from "@/db/queries/waiting";
import type { Result } from "@/lib/result";
import { takesSerials } from "@/lib/stock";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays } from "@/lib/time";
import { BY, CABLE, PIECE, TAPE, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
const ODU = DEFAULT_CATALOGUE.find((i) => takesSerials(i.category))!;
const STORE = { userId: "store", name: "Sal", at: BY.at };
const BOSS = { userId: "boss", name: "Bea", at: BY.at };
const rule = (r: Result<unknown>) => (r.ok ? "ok" : r.problems.map((p) => p.rule).join(", "));

function begun(): number {
  const made = startCount(t.db, "WH-EAST", STORE);
  if (!made.ok) throw new Error(made.problems[0]!.message);
  return made.value;
}

beforeEach(() => {
  t = testStock();
});

/** Counts every line as the ledger has it, but for those named: by item and lot. */
function countAll(id: number, but: Record<string, number> = {}, by = STORE): void {
  const book = new Map(
    loadBalances(t.db)
      .filter((b) => b.placeCode === "WH-EAST")
      .map((b) => [`${b.itemCode} ${b.lotCode} ${b.drumSerial}`, b.quantityC]),
  );
  for (const l of loadBlindLines(t.db, id)) {
    const quantityC = but[l.lotCode || l.itemCode] ?? book.get(`${l.itemCode} ${l.lotCode} ${l.drumSerial}`)!;
    expect(rule(countThing(t.db, { id, lineNo: l.lineNo, quantityC }, by))).toBe("ok");
  }
}

const onHand = (itemCode: string, lotCode = "") =>
  loadBalances(t.db, itemCode).find((b) => b.placeCode === "WH-EAST" && b.lotCode === lotCode)?.quantityC;
describe("a count", () => {
  it("lists everything of the place without what the ledger says, and one is open a place", () => {
    const id = begun();
    const lines = loadBlindLines(t.db, id);
    expect(lines.map((l) => l.lotCode || l.drumSerial || l.itemCode).sort()).toEqual(
      ["D1", "LONG", "OLD", "SOON", PIECE.code].sort(),
    );
    expect(lines.some((l) => "bookC" in l)).toBe(false);
    expect(loadDifferences(t.db, id)).toEqual([]);
    expect(loadCounts(t.db)[0]!.differing).toBeNull();
    expect(rule(startCount(t.db, "WH-EAST", STORE))).toBe("count-open");
    expect(rule(startCount(t.db, "NOWHERE", STORE))).toBe("place-unknown");
  });

  it("is handed in only when every line is counted", () => {
    const id = begun();
    expect(rule(handInCount(t.db, id, STORE))).toBe("not-counted");
    countAll(id);
    expect(loadWaiting(t.db).counts).toBe(0);
    expect(rule(handInCount(t.db, id, STORE))).toBe("ok");
    expect(loadWaiting(t.db).counts).toBe(1);
    expect(rule(countThing(t.db, { id, lineNo: 1, quantityC: 1 }, STORE))).toBe("count-state");
  });

  it("posts the differences in one go when somebody else approves it, and once", () => {
    const id = begun();
    countAll(id, { [PIECE.code]: 900, SOON: 250, D1: 0 });
    handInCount(t.db, id, STORE);
    expect(rule(approveCount(t.db, id, TODAY, STORE))).toBe("counted-yourself");
    expect(onHand(PIECE.code)).toBe(1_000);
    expect(approveCount(t.db, id, TODAY, BOSS)).toEqual({ ok: true, value: { rows: 2 } });
    expect(loadWaiting(t.db).counts).toBe(0);
    expect([onHand(PIECE.code), onHand(TAPE.code, "SOON"), onHand(TAPE.code, "LONG")]).toEqual([
      900, 250, 100,
    ]);
    expect(rule(approveCount(t.db, id, TODAY, BOSS))).toBe("count-state");
    expect(loadLedger(t.db, { itemCode: PIECE.code, limit: 1 })[0]).toMatchObject({
      kind: "count adjustment",
      reason: `Count ${id}: 9 counted by Sal, 10 in the ledger`,
      postedBy: "Bea",
    });
    expect(ledgerDifferences(t.db)).toEqual([]);
    expect(loadCounts(t.db)[0]).toMatchObject({ state: "approved", endedBy: "Bea", differing: 2 });
    expect(rule(startCount(t.db, "WH-EAST", STORE))).toBe("ok");
  });

  it("holds each line against the ledger of its moment: what moves later is no difference", () => {
    const id = begun();
    countAll(id, { [PIECE.code]: 950 });
    const issue = (key: string, quantityC: number) =>
      postMovement(t.db, {
        key,
        kind: "issue",
        itemCode: PIECE.code,
        owner: "contractor",
        fromPlace: "WH-EAST",
        quantityC,
        effectiveOn: TODAY,
        postedAt: BY.at,
        reason: "test",
        postedBy: "Test",
      });
    issue("after counting", 300);
    handInCount(t.db, id, STORE);
    expect(loadDifferences(t.db, id)[0]).toMatchObject({ bookC: 1_000, countedC: 950, differenceC: -50 });
    approveCount(t.db, id, TODAY, BOSS);
    expect(onHand(PIECE.code)).toBe(650);
  });

  it("posts nothing when one line was used since it was counted, and has it counted again", () => {
    const id = begun();
    countAll(id, { [PIECE.code]: 0, SOON: 250 });
    postMovement(t.db, {
      key: "half is gone",
      kind: "issue",
      itemCode: PIECE.code,
      owner: "contractor",
      fromPlace: "WH-EAST",
      quantityC: 500,
      effectiveOn: TODAY,
      postedAt: BY.at,
      reason: "test",
      postedBy: "Test",
    });
    handInCount(t.db, id, STORE);
    const answer = approveCount(t.db, id, TODAY, BOSS);
    expect(answer.ok ? [] : answer.problems).toMatchObject([
      {
        rule: "used-since",
        value: 0,
        message: "Used since the count: the books had 10 when 0 were counted, and have 5 now.",
        remedy: "Count this line again.",
      },
    ]);
    expect([onHand(PIECE.code), onHand(TAPE.code, "SOON")]).toEqual([500, 200]);
    expect(loadCounts(t.db)[0]!.state).toBe("counted");
    expect(countUsedSince(t.db, id)).toBe(1);
    // Only that line is counted again; the other difference stays as it was counted.
    expect(askRecount(t.db, id, "used since the count", BOSS, "used since")).toEqual({ ok: true, value: 1 });
    const open = loadBlindLines(t.db, id).filter((l) => l.countedC === null);
    expect(open.map((l) => l.itemCode)).toEqual([PIECE.code]);
    countThing(t.db, { id, lineNo: open[0]!.lineNo, quantityC: 0 }, STORE);
    handInCount(t.db, id, STORE);
    expect(countUsedSince(t.db, id)).toBe(0);
    expect(rule(askRecount(t.db, id, "used since the count", BOSS, "used since"))).toBe("nothing-used");
    expect(loadCounts(t.db)[0]!.state).toBe("counted");
    expect(approveCount(t.db, id, TODAY, BOSS)).toEqual({ ok: true, value: { rows: 2 } });
    expect([onHand(PIECE.code), onHand(TAPE.code, "SOON")]).toEqual([undefined, 250]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("takes what was found beside the list, and only that", () => {
    const id = begun();
    const other = "LUG-16";
    const note = { id, itemCode: other, lotCode: "", quantityC: 400, today: TODAY };
    expect(rule(addFound(t.db, note, STORE))).toBe("ok");
    expect(rule(addFound(t.db, note, STORE))).toBe("on-the-list");
    expect(rule(addFound(t.db, { ...note, itemCode: PIECE.code }, STORE))).toBe("on-the-list");
    expect(rule(addFound(t.db, { ...note, itemCode: CABLE.code }, STORE))).toBe("drum-by-receipt");
    expect(rule(addFound(t.db, { ...note, lotCode: "SOON" }, STORE))).toBe("lot-unknown");
    countAll(id, { [other]: 400, [PIECE.code]: 1_000 });
    handInCount(t.db, id, STORE);
    approveCount(t.db, id, TODAY, BOSS);
    expect(onHand(other)).toBe(400);
  });

  it("takes what ages only with its lot and last day of use, so that it expires by the books", () => {
    const id = begun();
    const note = { id, itemCode: TAPE.code, lotCode: "NEW", quantityC: 300, today: TODAY };
    const until = addDays(TODAY, 200);
    expect(rule(addFound(t.db, { ...note, lotCode: "" }, STORE))).toBe("lot-missing");
    expect(rule(addFound(t.db, { ...note, lotCode: "", expiresOn: until }, STORE))).toBe("lot-missing");
    expect(rule(addFound(t.db, note, STORE))).toBe("lot-missing");
    const past = addDays(TODAY, -1);
    expect(rule(addFound(t.db, { ...note, expiresOn: past }, STORE))).toBe("past-last-day");
    expect(rule(addFound(t.db, { ...note, expiresOn: until }, STORE))).toBe("ok");
    expect(loadLots(t.db, TAPE.code).find((l) => l.code === "NEW")?.expiresOn).toBe(until);
    // A lot that the ledger has keeps its day.
    expect(rule(addFound(t.db, { ...note, lotCode: "SOON", expiresOn: until }, STORE))).toBe(
      "lot-day-differs",
    );
    expect(rule(addFound(t.db, { ...note, lotCode: "SOON" }, STORE))).toBe("on-the-list");
    countAll(id, { NEW: 300 });
    handInCount(t.db, id, STORE);
    expect(rule(approveCount(t.db, id, TODAY, BOSS))).toBe("ok");
    expect(onHand(TAPE.code, "NEW")).toBe(300);
  });

  it("by hand of one item asks for the lot as well where the books have none without", () => {
    const note = {
      kind: "count adjustment" as const,
      itemCode: TAPE.code,
      fromPlace: "WH-WEST",
      quantity: 3,
      on: TODAY,
      today: TODAY,
      reason: "found behind the rack",
      key: "found by hand",
    };
    expect(rule(recordMovement(t.db, note, BY))).toBe("lot-missing");
    const receipt = {
      ...note,
      kind: "receipt" as const,
      fromPlace: undefined,
      toPlace: "WH-WEST",
      quantity: 1,
    };
    expect(rule(recordMovement(t.db, { ...receipt, itemCode: ODU.code, lotCode: "SN-9" }, BY))).toBe(
      "lot-of-serials",
    );
    expect(rule(recordMovement(t.db, { ...receipt, itemCode: ODU.code }, BY))).toBe("ok");
  });

  it("takes no lot for what is kept by serials", () => {
    const note = { id: begun(), itemCode: ODU.code, lotCode: "SN-1", quantityC: 100, today: TODAY };
    expect(rule(addFound(t.db, note, STORE))).toBe("lot-of-serials");
    expect(rule(addFound(t.db, { ...note, lotCode: "" }, STORE))).toBe("ok");
  });

  it("has only what differs counted again, blind as before", () => {
    const id = begun();
    countAll(id, { [PIECE.code]: 900 });
    handInCount(t.db, id, STORE);
    expect(askRecount(t.db, id, "hard to believe", BOSS)).toEqual({ ok: true, value: 1 });
    const open = loadBlindLines(t.db, id).filter((l) => l.countedC === null);
    expect(open.map((l) => l.itemCode)).toEqual([PIECE.code]);
    // Counted again by somebody who may then not approve it.
    countThing(t.db, { id, lineNo: open[0]!.lineNo, quantityC: 1_000 }, BOSS);
    handInCount(t.db, id, BOSS);
    expect(rule(approveCount(t.db, id, TODAY, BOSS))).toBe("counted-yourself");
    expect(approveCount(t.db, id, TODAY, { ...BOSS, userId: "third" })).toEqual({
      ok: true,
      value: { rows: 0 },
    });
  });

  it("is cancelled with its reason and stays in the history", () => {
    const id = begun();
    expect(rule(cancelCount(t.db, id, "wrong place", BOSS))).toBe("ok");
    expect(loadCounts(t.db)).toMatchObject([{ id, state: "cancelled", note: "wrong place", endedBy: "Bea" }]);
    expect(rule(handInCount(t.db, id, STORE))).toBe("count-state");
  });
});
