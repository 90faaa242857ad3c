import { describe, expect, test } from "vitest";
import { judge, schedule } from "@/lib/schedule";
import { DEMO_SIZE, syntheticProgramme } from "@/seed/syntheticProgramme";

describe("schedule", () => {
  test("a plan for the demonstration size passes the judge and places what can be placed", () => {
    const problem = syntheticProgramme(DEMO_SIZE);
    const result = schedule(problem, { seed: "a", maxIterations: 0 });
    if (!result.ok) throw new Error(JSON.stringify(result.problems));
    expect(judge(problem, result.value)).toEqual([]);
    const blocked = result.value.unplaced.filter((x) => x.rule.includes("gate"));
    expect(result.value.unplaced.length - blocked.length).toBeLessThanOrEqual(8);
  });
});
