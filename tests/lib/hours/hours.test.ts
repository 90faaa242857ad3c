import { describe, expect, it } from "vitest";
import { DEFAULT_NORMS, estimateHours, THOROUGH_BUDGET, workKey } from "@/lib/hours";
import { Random } from "@/lib/random";
import { brokenRules } from "./judge";
import { CREW_OF_FOUR, endWork, standbyWork } from "./work";

const thorough = { budget: THOROUGH_BUDGET };

describe("estimateHours", () => {
  it("gives the worked example of docs/methods/hours.md", () => {
    const e = estimateHours(endWork(), DEFAULT_NORMS, CREW_OF_FOUR, undefined, thorough);
    expect(e).toMatchObject({
      durationMin: 383,
      lowerBoundMin: 383,
      proved: true,
      ascents: 2,
      setupMin: 63,
      idleMin: 512,
      personHours: 17,
      withOneMoreClimberMin: 383,
      shortfall: [],
      needs: { climbers: 2, rescuers: 1, riggers: 0, technicians: 1, people: 3 },
    });
    expect(Math.round(e.p10Min)).toBe(350);
    expect(Math.round(e.p50Min)).toBe(381);
    expect(Math.round(e.p80Min)).toBe(399);
    expect(Math.round(e.p90Min)).toBe(410);
  });

  it("gives a sequence that the judge passes, critical tasks from start to end, and idle time that adds up", () => {
    for (const work of [endWork(), standbyWork()]) {
      const e = estimateHours(work, DEFAULT_NORMS, CREW_OF_FOUR);
      expect(brokenRules(e.tasks, e.sequence, CREW_OF_FOUR)).toEqual([]);
      const critical = e.sequence.filter((s) => s.critical);
      expect(critical[0]!.startMin).toBe(0);
      expect(critical.at(-1)!.endMin).toBe(e.durationMin);
      expect(e.personHours * 60 + e.idleMin).toBeCloseTo(4 * e.durationMin, 6);
      expect(e.longestSpellMin).toBeLessThanOrEqual(DEFAULT_NORMS.climb.longestSpellMin);
      expect(e.p10Min).toBeLessThan(e.p50Min);
      expect(e.p50Min).toBeLessThan(e.p80Min);
      expect(e.p80Min).toBeLessThan(e.p90Min);
    }
  });

  it("gives the same figures for the same input, and for another end with the same work", () => {
    const once = estimateHours(standbyWork(), DEFAULT_NORMS, CREW_OF_FOUR);
    expect(estimateHours(standbyWork(), DEFAULT_NORMS, CREW_OF_FOUR)).toEqual(once);
    expect(estimateHours(standbyWork({ endId: "E2" }), DEFAULT_NORMS, CREW_OF_FOUR)).toEqual({
      ...once,
      endId: "E2",
    });
  });

  it("draws the range from the stream that it is given", () => {
    const draw = (seed: number) =>
      estimateHours(endWork(), DEFAULT_NORMS, CREW_OF_FOUR, new Random(seed), thorough).p80Min;
    expect(draw(1)).not.toBe(draw(2));
    expect(Math.abs(draw(1) - draw(2))).toBeLessThan(0.03 * draw(1));
  });

  it("says what a crew lacks and estimates with it borrowed", () => {
    const e = estimateHours(endWork(), DEFAULT_NORMS, { people: [["climber"], ["ground"]] });
    expect(e.shortfall).toEqual([
      { skill: "climber", missing: 1 },
      { skill: "technician", missing: 1 },
      { skill: "rescue", missing: 1 },
    ]);
    expect(e.durationMin).toBeGreaterThan(0);
  });

  it("takes longer for hot standby than for a single ODU, and gains nothing from a climber it cannot use", () => {
    const single = estimateHours(endWork(), DEFAULT_NORMS, CREW_OF_FOUR, undefined, thorough);
    const standby = estimateHours(standbyWork(), DEFAULT_NORMS, CREW_OF_FOUR, undefined, thorough);
    expect(standby.durationMin).toBeGreaterThan(single.durationMin);
    expect(standby.withOneMoreClimberMin).toBeLessThanOrEqual(standby.durationMin);
  });

  it("takes every norm from its input: half the minutes of every part, half the work", () => {
    const halved = {
      ...DEFAULT_NORMS,
      version: 2,
      templates: DEFAULT_NORMS.templates.map((t) => ({
        ...t,
        fixed: { aMin: t.fixed.aMin / 2, mMin: t.fixed.mMin / 2, bMin: t.fixed.bMin / 2 },
        per: t.per.map((p) => ({ ...p, aMin: p.aMin / 2, mMin: p.mMin / 2, bMin: p.bMin / 2 })),
      })),
    };
    const full = estimateHours(endWork(), DEFAULT_NORMS, CREW_OF_FOUR);
    const half = estimateHours(endWork(), halved, CREW_OF_FOUR);
    expect(half.durationMin).toBeLessThan(0.65 * full.durationMin);
    expect(half.normsVersion).toBe(2);
  });
});

describe("workKey", () => {
  it("is the same whatever the end is called and in whatever order its extra tasks stand", () => {
    const a = endWork({ endId: "A", extraTasks: ["x", "y"] });
    const b = endWork({ endId: "B", extraTasks: ["y", "x"] });
    expect(workKey(a)).toBe(workKey(b));
  });

  it("differs with every figure that the estimate reads", () => {
    const key = workKey(endWork());
    expect(workKey(endWork({ structure: "mast" }))).not.toBe(key);
    expect(workKey(endWork({ mounting: "remote" }))).not.toBe(key);
    expect(workKey(endWork({ drivers: { tieCount: 61 } }))).not.toBe(key);
    expect(workKey(endWork({ heaviestLiftKg: 21 }))).not.toBe(key);
  });
});
