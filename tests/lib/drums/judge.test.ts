import { describe, expect, it } from "vitest";
import { type CuttingPlan, cutDrums, type DrumPlan, validateCutting } from "@/lib/drums";
import { drum, kind, onDay, run, TODAY } from "./make";

const POLICY = { sawAllowanceCm: 20, minUsefulCm: 1_500 };
const RUNS = [run("a", 4_000), run("b", 3_000), run("c", 20_000, { neededOn: onDay(3) }), run("x", 90_000)];
const DRUMS = [drum("A", 9_000), drum("B", 800)];
const KINDS = [kind(30_000)];
const [PLAN] = cutDrums(RUNS, DRUMS, KINDS, POLICY, { today: TODAY });

function broken(change: (plan: CuttingPlan) => CuttingPlan): string[] {
  return validateCutting(change(PLAN!), RUNS, DRUMS, POLICY, { kinds: KINDS }).map((problem) => problem.rule);
}

function onDrum(
  id: string,
  change: (drum: DrumPlan) => Partial<DrumPlan>,
): (plan: CuttingPlan) => CuttingPlan {
  return (plan) => ({
    ...plan,
    drums: plan.drums.map((d) => (d.drum.id === id ? { ...d, ...change(d) } : d)),
  });
}

const BOUGHT = PLAN!.drums.find((d) => d.buy)!.drum.id;

describe("validateCutting", () => {
  it("finds nothing wrong with the plan as made", () => {
    expect(broken((plan) => plan)).toEqual([]);
    expect(PLAN!.late.map((row) => row.run.id)).toEqual(["c"]);
    expect(PLAN!.uncut.map((row) => row.run.id)).toEqual(["x"]);
  });

  const cases: [string, (plan: CuttingPlan) => CuttingPlan][] = [
    ["run-once", (plan) => ({ ...plan, uncut: [] })],
    ["uncut-reason", (plan) => ({ ...plan, uncut: plan.uncut.map((row) => ({ ...row, reason: " " })) })],
    ["drum-once", (plan) => ({ ...plan, drums: plan.drums.filter((d) => d.drum.id !== "B") })],
    ["drum-as-given", onDrum("B", (d) => ({ drum: { ...d.drum, availableOn: onDay(-9) } }))],
    ["drum-known", onDrum("B", (d) => ({ drum: { ...d.drum, id: "Z" } }))],
    ["bought-length", onDrum(BOUGHT, (d) => ({ buy: { ...d.buy!, lengthCm: 40_000 } }))],
    ["bought-kind", onDrum(BOUGHT, (d) => ({ buy: { ...d.buy!, priceMinor: 1 } }))],
    ["bought-used", onDrum(BOUGHT, () => ({ cuts: [] }))],
    ["bought-count", (plan) => ({ ...plan, newDrumCount: 2 })],
    ["bound", (plan) => ({ ...plan, newDrumLowerBound: 2 })],
    ["run-known", onDrum("A", (d) => ({ cuts: [{ ...d.cuts[0]!, runId: "ghost" }, d.cuts[1]!] }))],
    ["run-length", onDrum("A", (d) => ({ cuts: [{ ...d.cuts[0]!, lengthCm: 1 }, d.cuts[1]!] }))],
    ["marks", onDrum("A", (d) => ({ cuts: [{ ...d.cuts[0]!, fromMarkCm: 0 }, d.cuts[1]!] }))],
    ["drum-end", onDrum("A", (d) => ({ cuts: [d.cuts[0]!, { ...d.cuts[1]!, toMarkCm: 60_000 }] }))],
    ["available", onDrum(BOUGHT, (d) => ({ cuts: d.cuts.map((c) => ({ ...c, cutOn: TODAY })) }))],
    ["cutting-order", onDrum("A", (d) => ({ cuts: [{ ...d.cuts[0]!, cutOn: onDay(90) }, d.cuts[1]!] }))],
    ["allowance", onDrum("A", () => ({ allowanceCm: 0 }))],
    ["left", onDrum("A", (d) => ({ leftCm: d.leftCm + 1 }))],
    ["left-is", onDrum("B", () => ({ leftIs: "scrap" }))],
    ["late-listed", (plan) => ({ ...plan, late: [] })],
    ["total", (plan) => ({ ...plan, cutCm: plan.cutCm + 1 })],
  ];

  it.each(cases)("sees a breach of %s", (rule, change) => {
    expect(broken(change)).toContain(rule);
  });

  it("sees a run cut twice, which is how a joined run would look", () => {
    const twice = onDrum("A", (d) => ({ cuts: [...d.cuts, d.cuts[0]!] }));
    expect(broken(twice)).toContain("run-once");
  });

  it("sees a promised cut that was moved", () => {
    const fixedCuts = [{ drumId: "A", runId: "c", lengthCm: 20_000, cutOn: TODAY, isMade: false }];
    const rules = validateCutting(PLAN!, RUNS, DRUMS, POLICY, { fixedCuts }).map((problem) => problem.rule);
    expect(rules).toContain("fixed-stays");
  });
});
