import { expect, test } from "vitest";
import { type KitWanted, type ProgrammeVisit, pickDate, plannedKits, startAfter } from "@/lib/programme";
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

function wanted(id: string, startOn: string, quantity: number): KitWanted {
  const visit: ProgrammeVisit = {
    id,
    hopCode: "H",
    side: "near",
    siteCode: "S",
    kind: "install",
    part: 1,
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
    today,
    1,
    new Map([["CON", 8]]),
    [],
    [],
  );
  expect(kits.map((k) => [k.visitId, k.pickOn, k.lines[0]!.short])).toEqual([
    ["early", "2026-03-04", 0],
    ["late", "2026-03-11", 4],
  ]);
});

test("an order due by the pick day covers a line, one due after it does not", () => {
  const order = (dueOn: string) => [{ itemCode: "CON", quantity: 10, dueOn: calendarDate(dueOn) }];
  const short = (dueOn: string) =>
    plannedKits([wanted("v", "2026-03-12", 6)], today, 1, new Map(), order(dueOn), [])[0]!.lines[0]!.short;
  expect(short("2026-03-11")).toBe(0);
  expect(short("2026-03-12")).toBe(6);
});

test("a visit without material has no kit", () => {
  const v = wanted("v", "2026-03-12", 1);
  expect(plannedKits([{ ...v, visit: { ...v.visit, lines: [] } }], today, 1, new Map(), [], [])).toEqual([]);
});
