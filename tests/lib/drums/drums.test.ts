import { describe, expect, it } from "vitest";
import {
  accountOf,
  type CuttingPlan,
  cutDrums,
  DEFAULT_CUT_POLICY,
  type DrumOnHand,
  type RunWanted,
  validateCutting,
} from "@/lib/drums";
import { drum, kind, onDay, PLAIN, run, TODAY } from "./make";

const POLICY = DEFAULT_CUT_POLICY;

function drumOf(plan: CuttingPlan, runId: string): string | undefined {
  return plan.drums.find((d) => d.cuts.some((cut) => cut.runId === runId))?.drum.id;
}

describe("cutDrums", () => {
  it("works the example of the method note", () => {
    // docs/methods/drums.md, "Worked example". Change both together.
    const runs = [
      run("1", 6_200, { endId: "H1 near" }),
      run("2", 6_000, { endId: "H1 near" }),
      run("3", 4_500, { endId: "H1 far" }),
      run("4", 4_300, { endId: "H1 far" }),
      run("5", 11_000, { neededOn: onDay(5), endId: "H2 near" }),
      run("6", 9_800, { endId: "H2 far" }),
    ];
    const drums = [drum("A", 12_400), drum("B", 11_600), drum("C", 900)];
    const [plan] = cutDrums(runs, drums, [kind(30_000, { priceMinor: 60_000 })], POLICY, { today: TODAY });
    expect(validateCutting(plan!, runs, drums, POLICY)).toEqual([]);
    expect(plan!.late).toEqual([]);
    expect(plan!.newDrumCount).toBe(1);
    expect(plan!.newDrumLowerBound).toBe(1);
    expect(drumOf(plan!, "5")).toBe("B");
    expect(drumOf(plan!, "6")).toBe("A");
    const bought = plan!.drums.find((d) => d.buy)!;
    expect(bought.cuts.map((cut) => [cut.runId, cut.fromMarkCm, cut.toMarkCm])).toEqual([
      ["3", 0, 4_500],
      ["4", 4_520, 8_820],
      ["1", 8_840, 15_040],
      ["2", 15_060, 21_060],
    ]);
    expect(accountOf(plan!)).toEqual({
      receivedCm: 180_000,
      usedBeforeCm: 125_100,
      cutCm: 41_800,
      allowanceCm: 120,
      remnantCm: 11_500,
      scrapCm: 580,
      untouchedCm: 900,
    });
    expect(plan!.splitEndCount).toBe(0);
  });

  it("gives one plan per cable code, in order of the code", () => {
    const runs = [run("a", 1_000, { cableCode: "C15" }), run("b", 1_000)];
    const drums = [drum("A", 5_000), drum("B", 5_000, { cableCode: "C15" })];
    const plans = cutDrums(runs, drums, [], POLICY, { today: TODAY });
    expect(plans.map((plan) => plan.cableCode)).toEqual(["C10", "C15"]);
    expect(plans.map((plan) => plan.drums.map((d) => d.drum.id))).toEqual([["A"], ["B"]]);
  });

  it("has nothing to plan without runs", () => {
    expect(cutDrums([], [drum("A", 5_000)], [], POLICY, { today: TODAY })).toEqual([]);
  });

  it("uses a remnant before an uncut drum", () => {
    const drums = [drum("full", 50_000, { isNew: true }), drum("rest", 9_000)];
    const [plan] = cutDrums([run("a", 8_000)], drums, [kind(50_000)], POLICY, { today: TODAY });
    expect(drumOf(plan!, "a")).toBe("rest");
    expect(plan!.drums.find((d) => d.drum.id === "full")!.leftIs).toBe("untouched");
  });

  it("cuts an uncut drum on hand before it buys one", () => {
    const drums = [drum("full", 50_000, { isNew: true })];
    const [plan] = cutDrums([run("a", 8_000)], drums, [kind(50_000)], POLICY, { today: TODAY });
    expect(drumOf(plan!, "a")).toBe("full");
    expect(plan!.newDrums).toEqual([]);
  });

  it("buys a drum for a run that is longer than any remnant", () => {
    const [plan] = cutDrums(
      [run("a", 9_000, { neededOn: onDay(20) })],
      [drum("A", 8_000)],
      [kind(30_000)],
      POLICY,
      {
        today: TODAY,
      },
    );
    expect(plan!.newDrums).toEqual([{ kind: kind(30_000), count: 1, neededOn: onDay(20) }]);
    expect(plan!.late).toEqual([]);
  });

  it("leaves a run uncut that is longer than any drum, and says why", () => {
    const [plan] = cutDrums([run("a", 30_000)], [drum("A", 8_000)], [kind(30_000)], POLICY, { today: TODAY });
    expect(plan!.uncut.map((row) => row.run.id)).toEqual(["a"]);
    // 300.0 m of run and 0.2 m of allowance do not come from a drum of 300.0 m.
    expect(plan!.uncut[0]!.reason).toContain("300.2 m in one piece");
    expect(plan!.newDrums).toEqual([]);
  });

  it("leaves out what the stock cannot give when nothing can be bought, and says why", () => {
    const runs = [run("a", 6_000), run("b", 5_000), run("c", 4_000)];
    const [plan] = cutDrums(runs, [drum("A", 9_500)], [], POLICY, { today: TODAY });
    expect(plan!.uncut.map((row) => row.run.id)).toEqual(["a"]);
    expect(plan!.uncut[0]!.reason).toContain("no drum of this cable can be bought");
  });

  it("does not cut from a drum before it arrives", () => {
    const drums = [drum("due", 20_000, { availableOn: onDay(10) })];
    const runs = [run("early", 5_000, { neededOn: onDay(4) }), run("later", 5_000, { neededOn: onDay(12) })];
    const [plan] = cutDrums(runs, drums, [], POLICY, { today: TODAY });
    expect(plan!.late).toEqual([{ run: runs[0], availableOn: onDay(10) }]);
    const dates = Object.fromEntries(plan!.drums[0]!.cuts.map((cut) => [cut.runId, cut.cutOn]));
    expect(dates).toEqual({ early: onDay(10), later: onDay(12) });
  });

  it("keeps what is on hand for the run that cannot wait for a purchase", () => {
    const runs = [run("soon", 7_000, { neededOn: onDay(3) }), run("long", 9_000, { neededOn: onDay(40) })];
    const [plan] = cutDrums(runs, [drum("A", 9_500)], [kind(30_000)], POLICY, { today: TODAY });
    expect(plan!.late).toEqual([]);
    expect([drumOf(plan!, "soon"), drumOf(plan!, "long")]).toEqual(["A", "buy-C10-30000-1"]);
  });

  it("lists a run that was needed before today, cut today", () => {
    const late = run("a", 5_000, { neededOn: onDay(-3) });
    const [plan] = cutDrums([late], [drum("A", 9_500)], [], POLICY, { today: TODAY });
    expect(plan!.late).toEqual([{ run: late, availableOn: TODAY }]);
  });

  it("buys the kind that costs least, not the longest", () => {
    const kinds = [kind(50_000, { priceMinor: 100_000 }), kind(10_000, { priceMinor: 21_000 })];
    const [plan] = cutDrums([run("a", 8_000)], [], kinds, POLICY, { today: TODAY });
    expect(plan!.newDrums.map((row) => row.kind.lengthCm)).toEqual([10_000]);
    const many = ["a", "b", "c", "d", "e", "f"].map((id) => run(id, 8_000));
    const [other] = cutDrums(many, [], kinds, POLICY, { today: TODAY });
    expect(other!.newDrums.map((row) => [row.count, row.kind.lengthCm])).toEqual([[1, 50_000]]);
    expect(other!.newDrumPriceMinor).toBe(100_000);
    expect(other!.newDrumPriceLowerBoundMinor).toBeLessThanOrEqual(100_000);
  });

  it("cuts both runs of an end from one drum where that costs nothing", () => {
    const drums = [drum("A", 10_000), drum("B", 10_000)];
    const runs = [
      run("1", 4_000, { endId: "near" }),
      run("2", 4_000, { endId: "far" }),
      run("3", 4_000, { endId: "near" }),
      run("4", 4_000, { endId: "far" }),
    ];
    const [plan] = cutDrums(runs, drums, [], POLICY, { today: TODAY });
    expect(plan!.splitEndCount).toBe(0);
    expect(drumOf(plan!, "1")).toBe(drumOf(plan!, "3"));
    expect(drumOf(plan!, "2")).toBe(drumOf(plan!, "4"));
  });

  it("marks run on from where the drum was left, by date, with the allowance between cuts", () => {
    const runs = [run("b", 3_000, { neededOn: onDay(9) }), run("a", 2_000, { neededOn: onDay(2) })];
    const [plan] = cutDrums(runs, [drum("A", 10_000)], [], POLICY, { today: TODAY });
    expect(plan!.drums[0]!.cuts).toEqual([
      { runId: "a", lengthCm: 2_000, fromMarkCm: 40_000, toMarkCm: 42_000, cutOn: onDay(2) },
      { runId: "b", lengthCm: 3_000, fromMarkCm: 42_020, toMarkCm: 45_020, cutOn: onDay(9) },
    ]);
    expect(plan!.drums[0]!.leftCm).toBe(4_960);
  });

  it("names what is left", () => {
    const drums = [drum("scrap", 5_000), drum("full", 50_000, { isNew: true }), drum("empty", 6_020)];
    const runs = [run("a", 4_500), run("b", 6_000)];
    const [plan] = cutDrums(runs, drums, [], POLICY, { today: TODAY });
    const left = Object.fromEntries(plan!.drums.map((d) => [d.drum.id, d.leftIs]));
    expect(left).toEqual({ scrap: "scrap", full: "untouched", empty: "empty" });
    expect(plan!.scrapCm).toBe(480);
  });

  it("keeps a promised cut on its drum, and does not cut again what is already cut", () => {
    const runs = [run("promised", 4_000), run("made", 4_000), run("open", 5_500)];
    const drums = [drum("A", 10_000), drum("B", 6_000)];
    const fixedCuts = [
      { drumId: "A", runId: "promised", lengthCm: 4_000, cutOn: onDay(1), isMade: false },
      { drumId: "B", runId: "made", lengthCm: 4_000, cutOn: onDay(-1), isMade: true, fromMarkCm: 39_980 },
    ];
    const [plan] = cutDrums(runs, drums, [], POLICY, { today: TODAY, fixedCuts });
    expect(validateCutting(plan!, runs, drums, POLICY, { fixedCuts })).toEqual([]);
    expect(drumOf(plan!, "promised")).toBe("A");
    expect(drumOf(plan!, "made")).toBeUndefined();
    expect(plan!.drums.find((d) => d.drum.id === "B")!.madeCuts).toEqual([fixedCuts[1]]);
    expect(drumOf(plan!, "open")).toBe("A"); // 4.6 m of scrap there, 4.8 m on B
  });

  it("refuses fixed cuts that exceed their drum, lengths that are not whole, ids given twice", () => {
    const fixedCuts = [{ drumId: "A", runId: "x", lengthCm: 9_990, cutOn: TODAY, isMade: false }];
    const cut = (runs: RunWanted[], drums: DrumOnHand[]) =>
      cutDrums(runs, drums, [], POLICY, { today: TODAY, fixedCuts });
    expect(() => cut([run("x", 9_990)], [drum("A", 10_000)])).toThrow(/exceed drum D-A by 10 cm/);
    expect(() => cut([run("x", 9_990)], [])).toThrow(/promised to drum A/);
    expect(() => cutDrums([run("x", 10.5)], [], [], POLICY, { today: TODAY })).toThrow(RangeError);
    expect(() => cutDrums([run("x", 1), run("x", 2)], [], [], POLICY, { today: TODAY })).toThrow(/twice/);
    const beyond = drum("A", 60_000);
    expect(() => cutDrums([run("x", 1)], [beyond], [], POLICY, { today: TODAY })).toThrow(/received length/);
  });

  it("stops when told to, with a plan that is whole", () => {
    const runs = Array.from({ length: 60 }, (_, k) => run(`r${k}`, 3_000 + 137 * k));
    const [plan] = cutDrums(runs, [], [kind(30_000)], POLICY, { today: TODAY, shouldStop: () => true });
    expect(validateCutting(plan!, runs, [], POLICY)).toEqual([]);
  });

  it("reaches seven drums of 500 m where seven are needed", () => {
    const demand: [number, number][] = [
      [22_000, 4],
      [18_000, 6],
      [14_000, 5],
      [9_000, 7],
    ];
    const runs = demand.flatMap(([cm, n]) => Array.from({ length: n }, (_, k) => run(`${cm}-${k}`, cm)));
    const [plan] = cutDrums(runs, [], [kind(50_000)], PLAIN, { today: TODAY });
    expect(plan!.newDrumCount).toBe(7);
    expect(plan!.newDrumLowerBound).toBe(7);
  });
});
