import { describe, expect, it } from "vitest";
import type { CatalogueItem, ItemAttributes } from "@/lib/site";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY } from "@/lib/takeoff";
import { checkHandling, checkSurplus, chooseCable, cutLength, dripLoopM } from "@/lib/takeoff/cable";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { makeEnd, makeOdu } from "../../helpers/hop";

const index = indexCatalogue(DEFAULT_CATALOGUE);
const radio = index.byCode.get("ODU-15-420A-HI")!;
const cableWith = (attributes: ItemAttributes): CatalogueItem => {
  const cable = index.byCode.get("IFC-06")!;
  return { ...cable, attributes: { ...cable.attributes, ...attributes } };
};
const run = (cutM: number) => ({ odu: makeOdu(), radio, cutM });
const choose = (
  cutMs: readonly number[],
  catalogue: readonly CatalogueItem[] = DEFAULT_CATALOGUE,
  end = makeEnd(),
) => chooseCable(end, cutMs.map(run), indexCatalogue(catalogue), 0, DEFAULT_POLICY);

describe("cutLength", () => {
  it("is route and surplus, and says so", () => {
    const cut = cutLength(42, DEFAULT_POLICY);
    expect(cut.cutM).toBe(47);
    expect(cut.reason).toBe("47.0 m = 42.0 route + 5.0 surplus");
  });

  it("is rounded up to the cut step, and says that too", () => {
    const cut = cutLength(42.1, DEFAULT_POLICY);
    expect(cut.cutM).toBe(47.5);
    expect(cut.reason).toBe("47.5 m = 42.1 route + 5.0 surplus, rounded up to 0.5 m");
  });

  it("is not pushed up a step by binary noise", () => {
    expect(cutLength(0.1 + 0.2 + 41.7, DEFAULT_POLICY).cutM).toBe(47);
  });
});

describe("the surplus", () => {
  it("holds one drip loop of 1.885 m at 0.6 m", () => {
    expect(dripLoopM(DEFAULT_POLICY)).toBeCloseTo(1.885, 3);
  });

  it("passes and shows what remains", () => {
    const check = checkSurplus("R1", cutLength(42, DEFAULT_POLICY), DEFAULT_POLICY);
    expect(check).toMatchObject({ state: "pass", rule: "surplus-covers", figure: 5, unit: "m" });
    expect(check.message).toContain("2.62 m remain");
  });

  it("fails when drip loop and terminations need more, whatever the rounding adds", () => {
    const policy = { ...DEFAULT_POLICY, surplusM: 2, cutStepM: 10 };
    const check = checkSurplus("R1", cutLength(41, policy), policy);
    expect(check.state).toBe("fail");
    expect(check.remedy).toContain("10.0 m");
  });
});

describe("chooseCable", () => {
  it("takes the lightest type that passes", () => {
    expect(choose([47]).cable?.code).toBe("IFC-06");
    expect(choose([47]).checks[0]).toMatchObject({ rule: "cable-choice", state: "pass" });
  });

  it("takes one type for all runs: the longest decides", () => {
    expect(choose([47, 130]).cable?.code).toBe("IFC-08");
    expect(choose([47, 170]).cable?.code).toBe("IFC-10");
  });

  it("goes by the DC feed where loss would allow a thinner type", () => {
    const lossless = DEFAULT_CATALOGUE.map((item) =>
      item.category === "IF cable" ? { ...item, attributes: { ...item.attributes, k1: 0, k2: 0 } } : item,
    );
    expect(choose([200], lossless).cable?.code).not.toBe("IFC-06");
  });

  it("plans the type of lowest loss and fails where none passes", () => {
    const { cable, checks } = choose([2000]);
    expect(cable?.code).toBe("IFC-13");
    expect(checks).toEqual([expect.objectContaining({ rule: "cable-choice", state: "fail" })]);
  });

  it("keeps to the type that the design names", () => {
    const named = makeEnd({ cableCode: "IFC-13" });
    expect(choose([47], DEFAULT_CATALOGUE, named).cable?.code).toBe("IFC-13");
  });

  it("fails on a named type that the catalogue does not have, or that is no cable", () => {
    for (const cableCode of ["IFC-99", "TIE-UV"]) {
      const { cable, checks } = choose([47], DEFAULT_CATALOGUE, makeEnd({ cableCode }));
      expect(cable).toBeUndefined();
      expect(checks).toEqual([expect.objectContaining({ rule: "no-catalogue-item", state: "fail" })]);
    }
  });

  it("cannot choose for a radio whose limits are unknown, and names the radio", () => {
    const { cable, checks } = chooseCable(
      makeEnd(),
      [{ odu: makeOdu({ label: "R7" }), radio: undefined, cutM: 47 }],
      index,
      0,
      DEFAULT_POLICY,
    );
    expect(cable).toBeUndefined();
    expect(checks[0]).toMatchObject({ rule: "cable-not-chosen", state: "fail" });
    expect(checks[0]?.message).toContain("R7");
  });

  it("says so when the catalogue holds no IF cable at all", () => {
    const without = DEFAULT_CATALOGUE.filter((item) => item.category !== "IF cable");
    expect(choose([47], without).checks[0]?.rule).toBe("no-catalogue-item");
  });
});

describe("checkHandling", () => {
  it("is silent within the type's figures", () => {
    expect(checkHandling("R1", cableWith({}), 2, 28, DEFAULT_POLICY)).toEqual([]);
  });

  it("warns on a tight drip loop, many bends and a long hang", () => {
    const cable = cableWith({ minBendRadiusMm: 400, maxBends: 3, maxPullN: 100, massKgPerM: 0.2 });
    const checks = checkHandling("R1", cable, 4, 60, DEFAULT_POLICY);
    expect(checks.map((c) => [c.rule, c.state])).toEqual([
      ["bend-radius", "warn"],
      ["bend-count", "warn"],
      ["hung-mass", "warn"],
    ]);
    expect(checks[2]?.figure).toBe(118); // 60 m x 0.2 kg/m x 9.80665 m/s2
  });
});
