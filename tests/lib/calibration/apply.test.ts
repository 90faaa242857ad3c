import { describe, expect, test } from "vitest";
import {
  calibratedEstimate,
  calibratedNorms,
  estimateKey,
  type HourCalibration,
  NO_CALIBRATION,
  partMinutes,
  partOfTask,
} from "@/lib/calibration";
import { DEFAULT_NORMS, estimateHours, minutesOf, retimedMin } from "@/lib/hours";
import { CREW_OF_FOUR, endWork } from "../hours/work";

const with_ = (c: Partial<HourCalibration>): HourCalibration => ({ ...NO_CALIBRATION, ...c });
const f = (factor: number) => ({ factor, actuals: 10 });
const estimate = estimateHours(endWork(), DEFAULT_NORMS, CREW_OF_FOUR);

describe("factors of parts", () => {
  test("a part's minutes are stretched, fixed and per driver; the others stay", () => {
    const norms = calibratedNorms(DEFAULT_NORMS, with_({ parts: { "fix-cable": f(1.5) } }));
    const of = (list: typeof norms.templates, part: string) => list.find((t) => t.part === part)!;
    const before = of(DEFAULT_NORMS.templates, "fix-cable");
    const after = of(norms.templates, "fix-cable");
    expect(after.fixed.mMin).toBe(1.5 * before.fixed.mMin);
    expect(after.per.map((p) => p.bMin)).toEqual(before.per.map((p) => 1.5 * p.bMin));
    expect(of(norms.templates, "connect")).toEqual(of(DEFAULT_NORMS.templates, "connect"));
  });

  test("climbing is a part of its own: slower up and down, longer kit-up and rest", () => {
    const { climb } = calibratedNorms(DEFAULT_NORMS, with_({ parts: { climb: f(1.25) } }));
    expect(climb.ascentMPerMin.lattice).toBeCloseTo(DEFAULT_NORMS.climb.ascentMPerMin.lattice / 1.25, 12);
    expect(climb.kitUp.mMin).toBe(1.25 * DEFAULT_NORMS.climb.kitUp.mMin);
  });

  test("the hours of an end follow", () => {
    const slow = calibratedNorms(DEFAULT_NORMS, with_({ parts: { "fix-cable": f(1.5) } }));
    const slower = estimateHours(endWork(), slow, CREW_OF_FOUR);
    expect(slower.durationMin).toBeGreaterThan(estimate.durationMin + 5);
    const kept = retimedMin(estimate, (id) => (partOfTask(id) === "fix-cable" ? 1.5 : 1));
    expect(kept).toBeGreaterThan(estimate.durationMin);
    expect(Math.abs(kept - slower.durationMin)).toBeLessThan(0.05 * slower.durationMin);
  });

  test("with the order of work and the minutes kept, so is the make-span", () => {
    expect(retimedMin(estimate, () => 1)).toBeCloseTo(estimate.durationMin, 6);
    expect(retimedMin(estimate, () => 2)).toBeCloseTo(2 * estimate.durationMin, 6);
  });

  test("pieces of a task, its repeats and the ways up belong to their part", () => {
    expect(partOfTask("fix-cable-2~1")).toBe("fix-cable");
    expect(partOfTask("connect")).toBe("connect");
    expect(["climb-1", "descent-2", "rest-1"].map(partOfTask)).toEqual(["climb", "climb", "climb"]);
  });

  test("minutes by part add up to the tasks' own", () => {
    const parts = partMinutes(estimate, DEFAULT_NORMS);
    const fix = parts.find((p) => p.part === "fix-cable")!;
    // The worked example of docs/methods/hours.md.
    expect(fix.estimateMin).toBeCloseTo(42, 0);
    expect(fix.name).toMatch(/cable/i);
    expect(new Set(parts.map((p) => p.part)).size).toBe(parts.length);
  });
});

describe("factors of the work", () => {
  test("the work after the set-up is stretched, the set-up is not, and every figure with it", () => {
    const e = calibratedEstimate(estimate, "install", with_({ work: { install: f(1.2) } }), DEFAULT_NORMS);
    const stretched = (min: number) => estimate.setupMin + 1.2 * (min - estimate.setupMin);
    expect(e.setupMin).toBe(estimate.setupMin);
    expect(e.durationMin).toBeCloseTo(stretched(estimate.durationMin), 9);
    expect(e.p80Min).toBeCloseTo(stretched(estimate.p80Min), 9);
    expect(minutesOf(e.segments)).toBeCloseTo(e.durationMin, 6);
    expect(Math.max(...e.sequence.map((s) => s.endMin))).toBeCloseTo(e.durationMin, 6);
    const people = (x: typeof e) => (x.idleMin + 60 * x.personHours) / x.durationMin;
    expect(people(e)).toBeCloseTo(people(estimate), 9);
  });

  test("an alignment's factor leaves an install alone", () => {
    const e = calibratedEstimate(estimate, "install", with_({ work: { alignment: f(1.2) } }), DEFAULT_NORMS);
    expect({ ...e, calibrationKey: undefined }).toEqual({ ...estimate, calibrationKey: undefined });
  });

  test("an accepted spread makes the range", () => {
    const e = calibratedEstimate(
      estimate,
      "install",
      with_({ spread: { logSd: 0.2, actuals: 30 } }),
      DEFAULT_NORMS,
    );
    const work = (min: number) => min - estimate.setupMin;
    expect(e.p50Min).toBe(estimate.p50Min);
    expect(work(e.p90Min) / work(e.p50Min)).toBeCloseTo(Math.exp(1.281552 * 0.2), 5);
    expect(work(e.p50Min) / work(e.p10Min)).toBeCloseTo(Math.exp(1.281552 * 0.2), 5);
    expect(e.p80Min).toBeLessThan(e.p90Min);
  });

  test("crews' factors name no other estimate: they stretch it for each crew on its own", () => {
    expect(estimateKey(with_({ crews: { C1: f(1.3) } }))).toBe(estimateKey(NO_CALIBRATION));
    expect(estimateKey(with_({ work: { install: f(1.3) } }))).not.toBe(estimateKey(NO_CALIBRATION));
    expect(estimateKey(with_({ parts: { align: f(1.3) } }))).not.toBe(estimateKey(NO_CALIBRATION));
  });
});
