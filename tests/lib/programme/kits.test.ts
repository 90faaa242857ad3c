import { expect, test } from "vitest";
import type { EndEstimate } from "@/lib/hours";
import {
  DEFAULT_ROADS,
  type KitWanted,
  type ProgrammeVisit,
  pickDate,
  plannedKits,
  startAfter,
  usedAsPlanned,
} from "@/lib/programme";
import { boxQuantity, vehicleRest } from "@/lib/programme/boxQuantities";
import { kitsOfPlan } from "@/lib/programme/kits";
import { netProgramme } from "@/lib/programme/netProgramme";
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
  return { visit, startOn: calendarDate(startOn), startMin: 480, placeCode: "W", vehicle: "V" };
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

/** A visit that uses a part of a tube. */
const withTube = (id: string, startOn: string, quantity: number, vehicle = "V"): KitWanted => {
  const w = wanted(id, startOn, quantity);
  return { ...w, vehicle, visit: { ...w.visit, lines: [{ ...w.visit.lines[0]!, unit: "tube" }] } };
};

test("a vehicle takes a new unit along only when what it has opened does not reach", () => {
  const days = ["2026-03-05", "2026-03-06", "2026-03-10", "2026-03-11"];
  const kits = plannedKits(
    [...days.map((on, i) => withTube(`a${i}`, on, 0.4)), withTube("b", "2026-03-06", 0.4, "OTHER")],
    supplies(2),
    [],
  );
  // 0.4 x 4 = 1.6: the first visit opens a tube, the third the next; the other vehicle opens one of its own.
  expect(kits.map((k) => [k.visitId, k.lines[0]!.box, k.lines[0]!.short])).toEqual([
    ["a0", 1, 0],
    ["a1", 0, 0],
    ["b", 1, 0],
    ["a2", 1, 1],
    ["a3", 0, 0],
  ]);
});

test("what is opened on the vehicle goes first, after what its issued kits still use", () => {
  const box = (rest: ReturnType<typeof vehicleRest>) =>
    plannedKits([withTube("v", "2026-03-05", 0.4)], supplies(9), [], new Map([["V", rest]]))[0]!.lines[0]!
      .box;
  const issued = withTube("i", "2026-03-03", 0.4).visit.lines;
  expect(box(vehicleRest(new Map([["CON", 0.7]]), []))).toBe(0);
  expect(box(vehicleRest(new Map([["CON", 0.7]]), issued))).toBe(1);
  expect(box(vehicleRest(new Map([["CON", 0.8]]), issued))).toBe(0);
  expect(box(vehicleRest(undefined, issued))).toBe(1);
  // Pieces of a whole need lie on the vehicle too, and are somebody's.
  const whole = issued.map((l) => ({ ...l, quantity: 2 }));
  expect(box(vehicleRest(new Map([["CON", 2.3]]), whole))).toBe(1);
  expect(box(vehicleRest(new Map([["CON", 2.4]]), whole))).toBe(0);
  // Whole needs are handed out as they are, whatever else lies on the vehicle.
  expect(
    boxQuantity({ itemCode: "CON", quantity: 2, unit: "piece" }, vehicleRest(new Map([["CON", 5]]), [])),
  ).toBe(2);
  expect(
    boxQuantity({ itemCode: "CON", quantity: 2.5, unit: "m" }, vehicleRest(new Map([["CON", 5]]), [])),
  ).toBe(2.5);
});

test("what a vehicle owes its issued kits is covered by the next unit that it opens", () => {
  const boxes = (heldOnVehicle: number, issued: number) => {
    const lines = withTube("i", "2026-03-03", issued).visit.lines;
    const rests = new Map([["V", vehicleRest(new Map([["CON", heldOnVehicle]]), lines)]]);
    const next = [3, 4, 5].map((day) => withTube(`v${day}`, addDays(today, day), 0.4));
    return plannedKits(next, supplies(9), [], rests).map((k) => k.lines[0]!.box);
  };
  // 1.2 for three visits: as it is one unit after the other; 0.3 owed makes 1.5, and 0.9 makes 2.1.
  expect(boxes(0.4, 0.4)).toEqual([1, 0, 1]);
  expect(boxes(0.1, 0.4)).toEqual([1, 1, 0]);
  expect(boxes(0, 0.9)).toEqual([2, 0, 1]);
});

test("of a visit that was begun the vehicle keeps only what its reports did not book yet", () => {
  const issued = withTube("i", today, 0.8);
  const next = withTube("n", addDays(today, 1), 0.4);
  const input = {
    ...supplies(9),
    crews: [{ code: "C", vehiclePlace: "V", depotPlace: "N" }],
    sites: [],
    issued: new Set(["i"]),
    onVehicles: new Map([["V", new Map([["CON", 0.5]])]]),
  };
  const box = (used: number) =>
    kitsOfPlan(
      { ...input, bookedUse: new Map([["i", new Map([["CON", used]])]]) } as never,
      [issued.visit, next.visit],
      [
        { visit: 0, crew: 0, startDay: 0, startMin: 480 },
        { visit: 1, crew: 0, startDay: 1, startMin: 480 },
      ],
      [],
    ).map((k) => [k.visitId, k.lines[0]!.box]);
  expect(box(0.5)).toEqual([["n", 1]]);
  expect(box(0.7)).toEqual([["n", 0]]);
});

test("what an issued kit lost to a fault is wanted again today, before the kits of later days", () => {
  const issued = withTube("i", today, 1);
  const next = withTube("n", addDays(today, 2), 1);
  const input = {
    ...supplies(1),
    dayCount: 10,
    catalogue: [{ code: "CON", unit: "piece", category: "connector", safetyStock: 0, leadTimeDays: 9 }],
    crews: [{ code: "C", vehiclePlace: "V", depotPlace: "W" }],
    sites: [],
    issued: new Set(["i"]),
    lostOfKits: new Map([["i", new Map([["CON", 1]])]]),
  } as never;
  const placed = [
    { visit: 0, crew: 0, startDay: 0, startMin: 480 },
    { visit: 1, crew: 0, startDay: 2, startMin: 480 },
  ];
  const kits = kitsOfPlan(input, [issued.visit, next.visit], placed, []);
  expect(kits.map((k) => [k.visitId, k.lines[0]!.short])).toEqual([["n", 1]]);
  const [row] = netProgramme(input, [issued.visit, next.visit], { placed } as never).rows;
  expect(row!.alone.stops.map((s) => [s.visitId, s.missing])).toEqual([["n", 1]]);
  expect([...row!.alone.gross.slice(0, 3)]).toEqual([1, 1, 0]);
});

test("fewest units leave the shelf: as many as the needs of a vehicle come to, rounded up once", () => {
  for (const quantity of [0.04, 0.999, 1.707, 2.1, 3.413]) {
    const all = Array.from({ length: 60 }, (_, i) => withTube(`v${i}`, addDays(today, 3 + i), quantity));
    const kits = plannedKits(all, supplies(0), []);
    let held = 0;
    for (const k of kits) {
      held += k.lines[0]!.box - quantity;
      expect(held).toBeGreaterThan(-1e-6);
      expect(held).toBeLessThan(1);
    }
    const taken = kits.reduce((sum, k) => sum + k.lines[0]!.box, 0);
    expect(taken).toBe(Math.ceil(60 * quantity - 1e-6));
  }
});

test("a visit uses up shares of what is opened and whole pieces", () => {
  expect([0.04, 1.71].map((q) => usedAsPlanned(q, "tube"))).toEqual([0.04, 1.71]);
  expect([0.4, 1.05, 2.1, 4.4, 0].map((q) => usedAsPlanned(q, "piece"))).toEqual([1, 1, 2, 4, 0]);
  expect(usedAsPlanned(23.5, "m")).toBe(23.5);
});

test("of kits picked on one day the one whose visit comes first takes the unit, however the visits are called", () => {
  // Picked today: one for today, one for tomorrow, and another for later today.
  const at = (id: string, startOn: string, startMin: number) => ({ ...withTube(id, startOn, 0.4), startMin });
  const kits = plannedKits(
    [at("a", addDays(today, 1), 480), at("c", today, 800), at("z", today, 480)],
    supplies(1),
    [],
  );
  expect(kits.map((k) => [k.visitId, k.pickOn === today, k.lines[0]!.box, k.lines[0]!.short])).toEqual([
    ["z", true, 1, 0],
    ["c", true, 0, 0],
    ["a", true, 1, 1],
  ]);
});

test("netting names the visits that the kits on the shelf leave short, in the same order", () => {
  const visits = ["a", "b", "z"].map((id) => wanted(id, today, 2).visit);
  const placed = [
    { visit: 0, crew: 0, startDay: 1, startMin: 480 },
    { visit: 1, crew: 0, startDay: 0, startMin: 800 },
    { visit: 2, crew: 0, startDay: 0, startMin: 480 },
  ];
  const input = {
    ...supplies(3),
    dayCount: 10,
    catalogue: [{ code: "CON", category: "connector", unit: "piece", safetyStock: 0, leadTimeDays: 5 }],
    crews: [{ code: "C", vehiclePlace: "V", depotPlace: "W" }],
    sites: [],
    depots: [{ code: "W" }],
    issued: new Set(),
  } as never;
  const kits = kitsOfPlan(input, visits, placed, []);
  const short = kits.flatMap((k) => (k.lines[0]!.short > 0 ? [[k.visitId, k.lines[0]!.short]] : []));
  expect(short).toEqual([
    ["b", 1],
    ["a", 2],
  ]);
  const [row] = netProgramme(input, visits, { placed } as never).rows;
  expect(row!.alone.stops.map((s) => [s.visitId, s.missing])).toEqual(short);
});
