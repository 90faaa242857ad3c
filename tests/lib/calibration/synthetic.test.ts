/** Actuals of a known truth: calibrated estimates must come near those of somebody who knows it. */
import { describe, expect, test } from "vitest";
import {
  type ActualVisit,
  backtest,
  calibrate,
  expectedOf,
  type HourCalibration,
  heldOut,
  NO_CALIBRATION,
} from "@/lib/calibration";
import { withFactor } from "@/lib/calibration/calibration";
import { Random } from "@/lib/random";
import { madeVisits, TRUE_BIAS, truth } from "./make";

const mape = (rows: readonly { workedMin: number; meanMin: number }[]) =>
  rows.reduce((s, r) => s + Math.abs(r.workedMin - r.meanMin) / r.workedMin, 0) / rows.length;

const under = (visits: readonly ActualVisit[], c: HourCalibration) =>
  mape(visits.map((v) => ({ workedMin: v.workedMin, meanMin: expectedOf(v, c).meanMin })));

describe.each(["north", "south", "east", "west"])("200 ends of known bias and noise, seed %s", (seed) => {
  const visits = madeVisits(new Random(seed), 200, 0.15);

  test("estimates of held-out hops are within 10 % of the best that can be attained", () => {
    const oracle = under(visits, truth());
    const calibrated = mape(
      heldOut({ visits, parts: [] }).map((h) => ({ ...h, workedMin: h.visit.workedMin })),
    );
    expect(calibrated).toBeLessThan(1.1 * oracle);
    expect(under(visits, NO_CALIBRATION)).toBeGreaterThan(1.3 * oracle);
  });

  test("each crew's factor comes within 8 % of its bias", () => {
    const { calibration } = calibrate({ visits, parts: [] });
    for (const [crew, bias] of Object.entries(TRUE_BIAS)) {
      const factor = calibration.work.install!.factor * calibration.crews[crew]!.factor;
      expect(Math.abs(Math.log(factor / bias)), crew).toBeLessThan(0.08);
    }
  });

  test("the range that is proposed holds about four fifths of the actuals", () => {
    const line = backtest({ visits, parts: [] }, NO_CALIBRATION).all!;
    expect(line.inForce.coverage).toBeLessThan(0.6);
    expect(line.proposed!.coverage).toBeGreaterThan(0.74);
    expect(line.proposed!.coverage).toBeLessThan(0.86);
    expect(Math.abs(line.proposed!.bias)).toBeLessThan(0.04);
  });
});

test("crews that are alike are left alike: noise is not taken for a difference", () => {
  const alike = Object.fromEntries(Object.keys(TRUE_BIAS).map((crew) => [crew, 1.1]));
  const visits = madeVisits(new Random("alike"), 200, 0.15, alike);
  const { calibration } = calibrate({ visits, parts: [] });
  for (const { factor } of Object.values(calibration.crews))
    expect(Math.abs(Math.log(factor))).toBeLessThan(0.05);
  expect(calibration.work.install!.factor).toBeGreaterThan(1.05);
});

test("the size of an own factor for a crew with a scheme is found", () => {
  const visits = madeVisits(new Random("scheme"), 400, 0.1).map((v) =>
    v.crewCode === "C2" && v.scheme === "1+1 hot standby"
      ? { ...v, workedMin: v.setupMin + 1.3 * (v.workedMin - v.setupMin) }
      : v,
  );
  const { calibration } = calibrate({ visits, parts: [] });
  const own = calibration.crewSchemes.C2!;
  expect(own["1+1 hot standby"]!.factor / own["1+0"]!.factor).toBeGreaterThan(1.15);
  expect(own["1+1 hot standby"]!.factor / own["1+0"]!.factor).toBeLessThan(1.4);
});

test("a part that always takes longer is told from a crew that is slow in everything", () => {
  const random = new Random("parts");
  const visits = madeVisits(random, 200, 0.1);
  const parts = visits.flatMap((v) =>
    ["fix-cable", "connect", "entry"].map((part) => ({
      ...v,
      part,
      name: part,
      isSetup: false,
      estimateMin: 40,
      workedMin:
        40 * TRUE_BIAS[v.crewCode]! * (part === "connect" ? 1.4 : 1) * Math.exp(0.1 * random.normal()),
    })),
  );
  const { calibration } = calibrate({ visits, parts });
  expect(calibration.parts.connect!.factor / calibration.parts.entry!.factor).toBeCloseTo(1.4, 1);
  expect(calibration.parts.entry!.factor).toBeCloseTo(1, 1);
});

test("what a task explains is not charged to the visits a second time", () => {
  const random = new Random("chain");
  const slowTask = 1.5;
  const share = 0.3;
  const visits = madeVisits(random, 200, 0.1, { C1: 1, C2: 1, C3: 1 }).map((v) => ({
    ...v,
    workedMin: v.setupMin + (v.workedMin - v.setupMin) * (1 + share * (slowTask - 1)),
    partShares: new Map([["fix-cable", share]]),
  }));
  const parts = visits.flatMap((v) =>
    ["fix-cable", "connect", "entry"].map((part) => ({
      ...v,
      part,
      name: part,
      isSetup: false,
      estimateMin: 40,
      workedMin: 40 * (part === "fix-cable" ? slowTask : 1) * Math.exp(0.1 * random.normal()),
    })),
  );
  const { calibration } = calibrate({ visits, parts });
  expect(calibration.parts["fix-cable"]!.factor).toBeCloseTo(slowTask, 1);
  expect(calibration.work.install!.factor).toBeCloseTo(1, 1);
  const alone = calibrate({ visits, parts: [] });
  expect(alone.calibration.work.install!.factor).toBeGreaterThan(1.1);
});

test("equal actuals in another order give equal factors", () => {
  const visits = madeVisits(new Random("order"), 60, 0.2);
  const forward = calibrate({ visits, parts: [] }).calibration;
  const backward = calibrate({ visits: [...visits].reverse(), parts: [] }).calibration;
  for (const crew of Object.keys(TRUE_BIAS))
    expect(backward.crews[crew]!.factor).toBeCloseTo(forward.crews[crew]!.factor, 9);
});

test("crew codes may hold the mark between crew and scheme", () => {
  const c = withFactor(NO_CALIBRATION, "crew and scheme", "A|1|1+0", { factor: 1.2, actuals: 4 });
  expect(c.crewSchemes["A|1"]!["1+0"]).toEqual({ factor: 1.2, actuals: 4 });
});
