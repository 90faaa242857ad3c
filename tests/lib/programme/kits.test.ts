import { expect, test } from "vitest";
import type { EndEstimate } from "@/lib/hours";
import {
  DEFAULT_ROADS,
  type KitWanted,
  type ProgrammeVisit,
  pickDate,
  plannedKits,
  startAfter,
} from "@/lib/programme";
import { DEFAULT_STOCK_POLICY } from "@/lib/stock";
import { addDays, calendarDate } from "@/lib/time";

const today = calendarDate("2026-03-02"); // a Monday

test("a kit is picked on a working day before the visit", () => {
  expect(pickDate(calendarDate("2026-03-04"), 1, today)).toBe("2026-03-03");
  expect(pickDate(calendarDate("2026-03-09"), 1, today)).toBe("2026-03-06"); // Monday's kit on Friday
  expect(pickDate(calendarDate("2026-03-10"), 2, today)).toBe("2026-03-06");
  expect(pickDate(today, 1, today)).toBe(today); // never before today
});

test("the first start after a delivery leaves time to pick", () => {
  for (let d = 0; d < 20; d++) {
    const from = addDays(today, d);
    const start = addDays(today, startAfter(from, 1, today));
    expect(pickDate(start, 1, today) >= from).toBe(true);
    if (start > today) expect(pickDate(addDays(start, -1), 1, today) < from).toBe(true);
  }
});

/** One warehouse W with connectors on its shelf. */
function supplies(onHand: number, more: Partial<Parameters<typeof plannedKits>[1]> = {}) {
  return {
    today,
    kitDays: 1,
    stock: [
      {
        itemCode: "CON",
        lotRule: { kind: "lot for lot" as const },
        shelves: [{ placeCode: "W", onHand }],
      },
    ],
    orders: [],
    transfers: [],
    depots: [],
    stockPolicy: DEFAULT_STOCK_POLICY,
    roads: DEFAULT_ROADS,
    ...more,
  };
}

function wanted(id: string, startOn: string, quantity: number): KitWanted {
  const visit: ProgrammeVisit = {
    id,
    hopCode: "H",
    side: "near",
    siteCode: "S",
    kind: "install",
    part: 1,
    isJoint: false,
    estimate: {} as EndEstimate, // a kit needs no hours
    segments: [],
    durationMin: 60,
    p80Min: 70,
    lines: [{ itemCode: "CON", name: "Connector", quantity, unit: "piece", reason: "" }],
    runs: [],
    massKg: 1,
    volumeL: 1,
  };
  return { visit, startOn: calendarDate(startOn), placeCode: "W" };
}

test("earlier kits are served first, and a later one shows what it lacks", () => {
  const kits = plannedKits(
    [wanted("late", "2026-03-12", 6), wanted("early", "2026-03-05", 6)],
    supplies(8),
    [],
  );
  expect(kits.map((k) => [k.visitId, k.pickOn, k.lines[0]!.short])).toEqual([
    ["early", "2026-03-04", 0],
    ["late", "2026-03-11", 4],
  ]);
});

test("an order due by the pick day covers a line, one due after it or elsewhere does not", () => {
  const short = (dueOn: string, placeCode = "W") => {
    const order = {
      orderCode: "PO",
      lineNo: 1,
      placeCode,
      itemCode: "CON",
      quantity: 10,
      dueOn: calendarDate(dueOn),
    };
    return plannedKits([wanted("v", "2026-03-12", 6)], supplies(0, { orders: [order] }), [])[0]!.lines[0]!
      .short;
  };
  expect(short("2026-03-11")).toBe(0);
  expect(short("2026-03-12")).toBe(6);
  expect(short("2026-03-11", "ELSEWHERE")).toBe(6);
});

test("a planned transfer leaves one shelf on its day and fills the other on arrival", () => {
  const transfer = {
    code: "transfer 1",
    itemCode: "CON",
    fromPlace: "W",
    toPlace: "X",
    quantity: 5,
    sendOn: calendarDate("2026-03-10"),
    arriveOn: calendarDate("2026-03-11"),
  };
  const short = (placeCode: string, startOn: string) =>
    plannedKits([{ ...wanted("v", startOn, 6), placeCode }], supplies(8, { transfers: [transfer] }), [])[0]!
      .lines[0]!.short;
  expect(short("W", "2026-03-10")).toBe(0); // picked on the 9th, before it leaves
  expect(short("W", "2026-03-11")).toBe(3);
  expect(short("X", "2026-03-11")).toBe(6);
  expect(short("X", "2026-03-12")).toBe(1);
});

test("a visit without material has no kit", () => {
  const v = wanted("v", "2026-03-12", 1);
  expect(plannedKits([{ ...v, visit: { ...v.visit, lines: [] } }], supplies(0), [])).toEqual([]);
});
