import { describe, expect, it } from "vitest";
import {
  type ChangedVisit,
  COST_LINES,
  changedVisits,
  costChanges,
  costLinesOf,
  hopFinishes,
  inForceEffect,
  movedHops,
  type PlanRow,
  placeChanges,
  shownChange,
  withMissed,
  withoutLater,
} from "@/lib/programme";
import type { PlanCost } from "@/lib/schedule";
import type { Gate } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";

const d = (text: string) => text as CalendarDate;

function row(
  visitId: string,
  crewCode: string | null,
  on?: string,
  startMin = 480,
): PlanRow & { hopCode: string } {
  const startOn = on === undefined ? null : d(on);
  return {
    visitId,
    hopCode: visitId.split("/")[0]!,
    crewCode,
    startOn,
    startMin: startOn && startMin,
    endOn: startOn,
    endMin: startOn && startMin + 60,
    isPinned: false,
    unplacedRule: startOn ? null : "gate",
    unplacedDetail: startOn ? null : "open gate",
  };
}

describe("the lines of a plan's own cost", () => {
  const labelOf = (state: "draft" | "in force" | "past") =>
    costLinesOf(state).find((line) => line.key === "movedVisits")!.label;

  it("say against which plan its visits moved: the one in force is not moved against itself", () => {
    expect(labelOf("draft")).toBe("Moved against the plan in force");
    expect(labelOf("in force")).toBe("Moved against the plan before it");
    expect(labelOf("past")).toBe("Moved against the plan before it");
    expect(costLinesOf("in force").map((line) => line.key)).toEqual(COST_LINES.map((line) => line.key));
  });
});

describe("visits that came later", () => {
  it("are left out where the other plan cannot know them, placed ones and known ones stay", () => {
    const rows = [
      row("A/near/install", null),
      row("A/near/revisit", null),
      row("C/near/install", "C1", "2026-03-02"),
    ];
    expect(withoutLater(rows, [row("A/near/install", "C1", "2026-03-02")]).map((r) => r.visitId)).toEqual([
      "A/near/install",
      "C/near/install",
    ]);
  });
});

describe("a withdrawn revisit", () => {
  it("is no change between plans, neither gone nor new, and makes no hop late", () => {
    const off = { ...row("A/near/revisit", "C1", "2026-03-20"), isWithdrawn: true };
    const rows = [row("A/near/install", "C1", "2026-03-02")];
    expect(changedVisits([...rows, off], rows, () => false)).toEqual([]);
    expect(changedVisits(rows, [...rows, off], () => false)).toEqual([]);
    const promises = new Map([["A", d("2026-03-04")]]);
    expect(hopFinishes([...rows, off], promises)).toEqual(hopFinishes(rows, promises));
    expect(hopFinishes([off], promises).size).toBe(0);
  });
});

describe("changedVisits", () => {
  const never = () => false;
  const kinds = (changed: readonly ChangedVisit[]) => changed.map((c) => [c.visitId, c.kind, c.days]);

  it("names every visit by the widest of what changes: day, crew, a place won or lost, hours", () => {
    const before = [
      row("A/near/install", "C1", "2026-03-02"),
      row("B/near/install", "C1", "2026-03-02"),
      row("C/near/install", "C1", "2026-03-02"),
      row("D/near/install", null),
      row("E/near/install", "C1", "2026-03-03"),
      row("F/near/install", "C1", "2026-03-03"),
    ];
    const after = [
      row("A/near/install", "C2", "2026-03-05"),
      row("B/near/install", "C2", "2026-03-02"),
      row("C/near/install", null),
      row("D/near/install", "C1", "2026-03-02"),
      row("E/near/install", "C1", "2026-03-03", 500),
      row("F/near/install", "C1", "2026-03-03"),
    ];
    expect(kinds(changedVisits(before, after, never))).toEqual([
      ["C/near/install", "gone", undefined],
      ["D/near/install", "new", undefined],
      ["A/near/install", "day", 3],
      ["B/near/install", "crew", 0],
      ["E/near/install", "hours", 0],
    ]);
  });

  it("see an end that alone is later, and one on the next day", () => {
    const was = [row("A/near/install", "C1", "2026-03-02"), row("B/near/install", "C1", "2026-03-02")];
    const is = [
      { ...was[0]!, endMin: was[0]!.endMin! + 18 },
      { ...was[1]!, endOn: d("2026-03-03") },
    ];
    expect(kinds(changedVisits(was, is, never)).map((k) => k[1])).toEqual(["hours", "hours"]);
  });

  it("name what only one plan knows, but for what is over by now", () => {
    const was = [row("A/near/install", "C1", "2026-03-02"), row("B/near/install", "C1", "2026-03-04")];
    const is = [row("Z/near/install", "C1", "2026-03-05"), row("Y/near/install", null)];
    const isOver = ({ startOn }: { startOn: string }) => startOn < "2026-03-03";
    expect(kinds(changedVisits(was, is, isOver))).toEqual([
      ["B/near/install", "gone", undefined],
      ["Z/near/install", "new", undefined],
    ]);
  });
});

describe("hop finishes", () => {
  const promises = new Map([["A", d("2026-03-04")]]);

  it("end with the last visit, against the promise; a hop with an unplaced visit does not end", () => {
    const rows = [row("A/near/install", "C1", "2026-03-02"), row("A/near/alignment", "C1", "2026-03-06")];
    expect(hopFinishes(rows, promises).get("A")).toMatchObject({ finishOn: "2026-03-06", daysLate: 2 });
    const open = hopFinishes([...rows, row("A/far/install", null)], promises).get("A");
    expect(open?.finishOn).toBeUndefined();
    expect(open?.daysLate).toBeUndefined();
  });

  it("end when a gate opens that the plan did not know, for no work is done before", () => {
    const rows = [row("A/near/install", "C1", "2026-03-02"), row("A/near/alignment", "C1", "2026-03-06")];
    const shutUntil = (dueOn?: string) => {
      const gate = {
        hopId: "A",
        kind: "supply",
        owner: "grid company",
        state: dueOn ? "dated" : "open",
        dueOn,
      };
      const visits = [{ visitId: "A/near/install", startOn: d("2026-03-02") }];
      const shut = { gate: gate as Gate, visits };
      return hopFinishes(rows, promises, new Map([["A", [shut]]])).get("A");
    };
    const finishOn = "2026-03-06";
    expect(shutUntil("2026-03-09")).toMatchObject({ finishOn, opensOn: "2026-03-09", daysLate: 5 });
    expect(shutUntil("2026-03-05")).toMatchObject({ finishOn, isBeforeGate: true, daysLate: 2 });
    expect(shutUntil("2026-03-05")?.opensOn).toBeUndefined();
    expect(shutUntil()).toMatchObject({ finishOn, isBeforeGate: true, daysLate: 2 });
  });

  it("are compared hop by hop, the worst change first", () => {
    const finish = (on?: string) =>
      hopFinishes([row("A/near/install", on ? "C1" : null, on)], promises).get("A")!;
    const before = new Map([
      ["A", finish("2026-03-02")],
      ["B", { ...finish("2026-03-02"), hopCode: "B" }],
      ["C", { ...finish("2026-03-02"), hopCode: "C" }],
      ["D", { ...finish(), hopCode: "D" }],
    ]);
    const after = new Map([
      ["A", finish("2026-03-03")],
      ["B", { ...finish(), hopCode: "B" }],
      ["C", { ...finish("2026-03-02"), hopCode: "C" }],
      ["D", { ...finish("2026-03-09"), hopCode: "D" }],
    ]);
    expect(movedHops(before, after).map((h) => h.hopCode)).toEqual(["B", "A", "D"]);
  });

  it("finish anew where only the newer plan has their visits, unless some of these have no place", () => {
    const before = [row("A/near/install", "C1", "2026-03-02")];
    const after = [
      ...before,
      row("B/near/install", "C1", "2026-03-03"),
      row("C/near/install", "C1", "2026-03-03"),
      row("C/far/install", null),
    ];
    const moved = movedHops(
      hopFinishes(withoutLater(before, after), promises),
      hopFinishes(withoutLater(after, before), promises),
    );
    expect(moved.map((h) => [h.hopCode, h.was.finishOn, h.finishOn])).toEqual([
      ["B", undefined, "2026-03-03"],
    ]);
  });
});

describe("costChanges", () => {
  it("tells terms that change, in the units of people, and leaves rounding out", () => {
    const cost: PlanCost = {
      total: 0,
      unplacedVisits: 0,
      lateHopDays: 0,
      unfinishedHops: 0,
      crewDays: 10,
      overtimeMin: 90,
      nightsAway: 0,
      travelKm: 100,
      travelMin: 120,
      movedVisits: 0,
      riskMin: 0,
      openEndDays: 0,
      imbalanceMin: 0,
    };
    const changes = costChanges(cost, { ...cost, crewDays: 11, overtimeMin: 30, travelKm: 100.01 });
    expect(changes).toEqual([
      { label: "Crew days", unit: "days", before: 10, after: 11, change: 1 },
      { label: "Overtime", unit: "h", before: 1.5, after: 0.5, change: -1 },
    ]);
  });
});

describe("placeChanges and shownChange", () => {
  const at = (startOn: string, startMin: number, endOn: string, endMin: number, crewCode = "C1") => ({
    crewCode,
    startOn: startOn as CalendarDate,
    startMin,
    endOn: endOn as CalendarDate,
    endMin,
  });

  it("tell starts, ends and days apart", () => {
    const was = at("2026-03-18", 487, "2026-03-18", 757);
    expect(placeChanges(was, at("2026-03-18", 487, "2026-03-18", 775))).toEqual({
      crew: false,
      byDays: 0,
      startMin: 0,
      endMin: 18,
      longerMin: 18,
      daysBefore: 1,
      daysNow: 1,
    });
    expect(placeChanges(was, at("2026-03-19", 487, "2026-03-20", 480, "C2"))).toMatchObject({
      crew: true,
      byDays: 1,
      longerMin: 1440 + 480 - 487 - 270,
      daysNow: 2,
    });
  });

  it("take the change from what is shown", () => {
    expect(shownChange(14.14, 15.56, 1)).toBe(1.5);
    expect(shownChange(2.04, 1.96, 1)).toBe(0);
  });
});

describe("inForceEffect", () => {
  const on = (day: number) => addDays(d("2026-03-16"), day);
  const place = (crewCode: string, day: number) => ({
    crewCode,
    startOn: on(day),
    startMin: 480,
    endOn: on(day),
    endMin: 540,
  });
  const moved: ChangedVisit[] = [
    { visitId: "a", kind: "day", from: place("C1", 1), to: place("C2", 4), days: 3 },
    { visitId: "b", kind: "new", to: place("C3", 6) },
    { visitId: "c", kind: "gone", from: place("C1", 9) },
  ];

  it("names the crews that something is given to or taken from, and the first day from today on", () => {
    const effect = inForceEffect(moved, { before: [], after: [] }, on(2));
    expect(effect).toEqual({
      changed: 3,
      counts: { day: 1, crew: 0, new: 1, gone: 1, hours: 0 },
      crews: ["C1", "C2", "C3"],
      firstOn: on(4),
      kits: 0,
    });
  });

  it("counts from today what a crew began before and ends otherwise", () => {
    const long = { ...place("C1", 0), endOn: on(3) };
    const sooner: ChangedVisit = { visitId: "d", kind: "hours", from: long, to: { ...long, endOn: on(2) } };
    expect(inForceEffect([...moved, sooner], { before: [], after: [] }, on(2)).firstOn).toBe(on(2));
  });

  it("counts kits that are picked on another day, new or gone, and is quiet when nothing changes", () => {
    const before = [
      { visitId: "a", pickOn: on(0) },
      { visitId: "c", pickOn: on(8) },
      { visitId: "d", pickOn: on(5) },
    ];
    const after = [
      { visitId: "a", pickOn: on(3) },
      { visitId: "b", pickOn: on(5) },
      { visitId: "d", pickOn: on(5) },
    ];
    expect(inForceEffect(moved, { before, after }, on(0)).kits).toBe(3);
    expect(inForceEffect([], { before, after: before }, on(0))).toMatchObject({
      changed: 0,
      crews: [],
      firstOn: undefined,
      kits: 0,
    });
  });
});

it("a hop on hold has no finish, and one that missed its promise is late by the days since at least", () => {
  const promises = new Map(["A", "B", "C"].map((code) => [code, d("2026-03-10")] as const));
  const rows = [row("A/near/install", "C1", "2026-03-09"), row("B/near/install", "C1", "2026-03-30")];
  const hold = { by: "Rita", reason: "no key" };
  const held = hopFinishes(rows, promises, new Map(), new Map([["A/near/install", hold]])).get("A");
  expect(held).toEqual({ hopCode: "A", promisedOn: "2026-03-10", hold });
  const late = withMissed(hopFinishes(rows, promises), new Set(["A", "B", "C"]), promises, d("2026-03-16"));
  expect([...late.values()].map((f) => [f.hopCode, f.finishOn, f.daysLate])).toEqual([
    ["A", "2026-03-09", 6],
    ["B", "2026-03-30", 20],
    ["C", undefined, 6],
  ]);
});
