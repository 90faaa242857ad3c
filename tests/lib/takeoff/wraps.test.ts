import { describe, expect, it } from "vitest";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, wrapTape } from "@/lib/takeoff";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { tapeForWraps, wrapCount, wrapsOf } from "@/lib/takeoff/wraps";

const { byCode } = indexCatalogue(DEFAULT_CATALOGUE);
const MATERIAL = {
  cableDiameterMm: 6,
  connector: byCode.get("CON-06"),
  earthingKit: byCode.get("EK-06"),
  pvc: byCode.get("TAPE-PVC-19"),
  selfAmalgamating: byCode.get("TAPE-SA-38"),
};
const run = wrapsOf(3, DEFAULT_POLICY);

describe("wrapsOf", () => {
  it("wraps the ODU connector and every earthing point, the entry only by policy", () => {
    expect(wrapCount(run)).toBe(4);
    expect(wrapCount(wrapsOf(3, { wrapsEntry: true }))).toBe(5);
  });
});

describe("tapeForWraps", () => {
  it("adds up each run's wraps on the diameter of what they cover", () => {
    const plan = tapeForWraps([run, run], MATERIAL, "near", DEFAULT_POLICY);
    const tape = (diameterMm: number) =>
      wrapTape(
        diameterMm,
        { widthMm: 19, thicknessMm: 0.18 },
        { widthMm: 38, thicknessMm: 0.75 },
        DEFAULT_POLICY,
      )!;
    expect(plan.pvcM[0]).toBeCloseTo((tape(22).pvcMm + 3 * tape(18).pvcMm) / 1000, 9);
    expect(plan.selfAmalgamatingM[1]).toBeCloseTo(
      (tape(22).selfAmalgamatingMm + 3 * tape(18).selfAmalgamatingMm) / 1000,
      9,
    );
    expect(plan.checks).toEqual([]);
    expect(plan.selfAmalgamatingRange).toMatch(
      /^11\.7 m at width ratio 0\.5, 17\.98 m at width ratio 0\.75$/,
    );
  });

  it("starts on the cable's diameter and the policy's addition where kit or connector give none", () => {
    const plain = tapeForWraps(
      [run],
      { ...MATERIAL, connector: undefined, earthingKit: undefined },
      "near",
      DEFAULT_POLICY,
    );
    const tape = wrapTape(
      18,
      { widthMm: 19, thicknessMm: 0.18 },
      { widthMm: 38, thicknessMm: 0.75 },
      DEFAULT_POLICY,
    )!;
    expect(plain.pvcM[0]).toBeCloseTo((4 * tape.pvcMm) / 1000, 9);
  });

  it("wants no tape where no rule asks for any", () => {
    const none = tapeForWraps([run], { cableDiameterMm: 6 }, "near", DEFAULT_POLICY);
    expect(none).toMatchObject({ pvcM: [], selfAmalgamatingM: [], checks: [] });
  });

  it("fails with item, attribute and remedy on missing tape data, unknown cable and impossible geometry", () => {
    const pvc = MATERIAL.pvc!;
    const noWidth = { ...pvc, attributes: { ...pvc.attributes, tapeWidthMm: undefined } };
    const wide = { ...pvc, attributes: { ...pvc.attributes, tapeWidthMm: 200 } };
    const cases = [
      [{ ...MATERIAL, pvc: noWidth }, "TAPE-PVC-19: tape width"],
      [{ ...MATERIAL, cableDiameterMm: undefined }, "the cable's diameter is unknown"],
      [{ ...MATERIAL, pvc: wide }, "(200 mm wide)"],
    ] as const;
    for (const [material, says] of cases) {
      const plan = tapeForWraps([run], material, "near", DEFAULT_POLICY);
      expect(plan.checks).toHaveLength(1);
      expect(plan.checks[0]).toMatchObject({ rule: "tape-not-counted", state: "fail", where: "near" });
      expect(plan.checks[0]!.message).toContain(says);
      expect(plan.checks[0]!.remedy).not.toBe("");
      expect(plan.pvcM).toEqual([]);
    }
  });
});
