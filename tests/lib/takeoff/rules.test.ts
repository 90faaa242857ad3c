import { describe, expect, it } from "vitest";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, DRIVERS, type Driver, type TakeoffRule } from "@/lib/takeoff";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { applyRules, holds, itemOfDriver, type RuleSubject } from "@/lib/takeoff/rules";
import { makeAntenna, makeEnd, makeSite } from "../../helpers/hop";

const rule = (over: Partial<TakeoffRule> = {}): TakeoffRule => ({
  id: "r",
  name: "Ties",
  category: "tie outdoor",
  driver: "runs",
  factor: 1,
  offset: 0,
  allowance: 0,
  step: 1,
  level: "end",
  when: {},
  source: "common practice",
  enabled: true,
  ...over,
});

const subject = (over: Partial<RuleSubject> = {}): RuleSubject => ({
  scheme: "1+1 hot standby",
  end: makeEnd({ scheme: "1+1 hot standby" }),
  site: makeSite(),
  perEnd: { ends: 1, IDUs: 1, couplers: 0, "waveguide flanges": 3 },
  perRun: { runs: [1, 1], connectors: [2, 2], "metres of outdoor route": [30.2, 41.7], wraps: [4, 4] },
  notes: {},
  fit: { bandGhz: 15, cableDiameterMm: 6, crossSectionMm2: 16 },
  index: indexCatalogue(DEFAULT_CATALOGUE),
  policy: DEFAULT_POLICY,
  ...over,
});

const only = (r: TakeoffRule, s = subject()) => {
  const { lines, checks } = applyRules([r], s);
  expect(lines).toHaveLength(1);
  return { ...lines[0]!, checks };
};

describe("a rule's quantity", () => {
  it("is driver x factor + offset, with the allowance on top", () => {
    const line = only(rule({ factor: 3, offset: 2, allowance: 0.25, step: 0.5 }));
    expect(line.exact).toBe(10); // (2 x 3 + 2) x 1.25
    expect(line.reason).toBe("10 = (2 runs x 3 + 2) + 25 %");
  });

  it("is rounded up per run, per end and site, or not before the order", () => {
    const metres = { driver: "metres of outdoor route" as const, factor: 1 };
    expect(only(rule({ ...metres, level: "run" })).quantity).toBe(31 + 42);
    expect(only(rule({ ...metres, level: "end" })).quantity).toBe(72);
    expect(only(rule({ ...metres, level: "site" })).quantity).toBe(72);
    expect(only(rule({ ...metres, level: "order" })).quantity).toBeCloseTo(71.9, 9);
    expect(only(rule({ ...metres, level: "end", step: 25 })).quantity).toBe(75);
    expect(only(rule({ ...metres, level: "run" })).exact).toBeCloseTo(71.9, 9);
  });

  it("counts the offset once per end, also when rounded per run", () => {
    expect(only(rule({ offset: 1, level: "run" })).quantity).toBe(3);
  });

  it("takes its allowance from the policy where the rule says so", () => {
    const line = only(
      rule({
        driver: "connectors",
        category: "connector",
        allowanceFrom: "connectorLoss",
        allowance: 0.9,
        level: "order",
      }),
    );
    expect(line.exact).toBeCloseTo(4.2, 9);
    expect(line.reason).toBe("4.2 = 4 connectors + 5 %; rounded up to 1 over the order");
  });

  it("is turned into the item's unit by what one holds", () => {
    const line = only(
      rule({
        driver: "waveguide flanges",
        factor: 2,
        measure: "g",
        category: "chemical",
        itemCode: "CHM-GASKET",
        level: "order",
      }),
    );
    expect(line).toMatchObject({ exact: 0.12, unit: "tube" });
    expect(line.reason).toContain("3 flanges x 2 g / 50 g a tube");
  });

  it("shows the rounding and what it rounded", () => {
    const line = only(rule({ allowance: 0.05 }));
    expect(line.reason).toBe("3 = 2.1 rounded up to 1 per end; 2.1 = 2 runs + 5 %");
  });
});

describe("which rules apply", () => {
  it("leaves out a disabled rule and one whose driver is zero", () => {
    expect(
      applyRules(
        [rule({ enabled: false }), rule({ driver: "couplers" }), rule({ driver: "hops" })],
        subject(),
      ).lines,
    ).toEqual([]);
  });

  it("asks for all conditions that are set", () => {
    const s = subject();
    expect(holds(rule({ when: { schemes: ["1+1 hot standby"], structures: ["lattice"] } }), s)).toBe(true);
    expect(holds(rule({ when: { schemes: ["1+0"], structures: ["lattice"] } }), s)).toBe(false);
    expect(holds(rule({ when: { structures: ["roof"] } }), s)).toBe(false);
    expect(holds(rule({ when: { structures: ["lattice"] } }), { ...s, site: undefined })).toBe(false);
    expect(holds(rule({ when: { mounts: ["pole"], polarisations: ["V"] } }), s)).toBe(true);
    expect(holds(rule({ when: { mounts: ["face"] } }), s)).toBe(false);
    expect(holds(rule({ when: { polarisations: ["H"] } }), s)).toBe(false);
  });

  it("counts only the antennas that hold", () => {
    const end = makeEnd({
      scheme: "1+1 space diversity",
      antennas: [
        makeAntenna({ diameterM: 1.2 }),
        makeAntenna({ label: "A2", mount: "face", diameterM: 2.4 }),
        makeAntenna({ label: "A3", mount: "face", diameterM: 0.6 }),
      ],
    });
    const count = (driver: Driver, mounts?: TakeoffRule["when"]["mounts"]) =>
      applyRules([rule({ driver, when: mounts ? { mounts } : {} })], subject({ end })).lines[0]?.quantity ??
      0;
    expect(count("antennas")).toBe(3);
    expect(count("antennas", ["face"])).toBe(2);
    expect(count("antennas from 1.2 m")).toBe(2);
    expect(count("antennas from 1.2 m", ["face"])).toBe(1);
    expect(count("antennas from 2.4 m")).toBe(1);
    expect(count("antennas from 2.4 m", ["pole"])).toBe(0);
  });
});

describe("a line that cannot be computed", () => {
  it("stays visible when the catalogue has nothing that fits", () => {
    const line = only(
      rule({ category: "connector", driver: "connectors" }),
      subject({ fit: { cableDiameterMm: 7 } }),
    );
    expect(line).toMatchObject({ itemCode: "MISSING:connector", name: "connector", quantity: 4 });
    expect(line.checks).toEqual([
      expect.objectContaining({ rule: "no-catalogue-item", state: "fail", where: "near" }),
    ]);
    expect(line.checks[0]!.message).toContain("cable diameter 7 mm");
  });

  it("stays visible when a rule names a code that is not there", () => {
    const line = only(rule({ itemCode: "GONE" }));
    expect(line.itemCode).toBe("MISSING:tie outdoor");
    expect(line.checks[0]!.message).toContain("item GONE (Ties)");
  });

  it("stays visible in the rule's measure when the item does not say what it holds", () => {
    const line = only(
      rule({
        driver: "waveguide flanges",
        factor: 2,
        measure: "g",
        category: "chemical",
        itemCode: "CHM-ZINC",
      }),
    );
    expect(line).toMatchObject({ itemCode: "MISSING:chemical", unit: "g", quantity: 6 });
    expect(line.checks[0]).toMatchObject({ rule: "item-lacks-attribute", state: "fail" });
    expect(line.checks[0]!.message).toContain("CHM-ZINC has no content");
  });

  it("stays visible wrap by wrap when the metres of tape are unknown", () => {
    const tape = rule({
      driver: "metres of PVC tape",
      category: "PVC tape",
      itemCode: "TAPE-PVC-19",
      measure: "m",
      level: "order",
    });
    const line = only(tape, subject({ perRun: { wraps: [4, 4], "metres of PVC tape": [] } }));
    expect(line).toMatchObject({ itemCode: "MISSING:PVC tape", unit: "wrap", quantity: 8 });
  });

  it("says once what several rules lack", () => {
    const rules = [rule({ id: "a", category: "connector" }), rule({ id: "b", category: "connector" })];
    expect(applyRules(rules, subject({ fit: {} })).checks).toHaveLength(1);
  });
});

describe("several items that fit", () => {
  it("warn, and the first by code is taken", () => {
    const line = only(rule({ category: "chemical" }));
    expect(line.itemCode).toBe("CHM-GASKET");
    expect(line.checks).toEqual([expect.objectContaining({ rule: "ambiguous-item", state: "warn" })]);
  });
});

describe("itemOfDriver", () => {
  it("goes by rule id, whatever the order of the rules", () => {
    const rules = [
      rule({ id: "b", driver: "metres of PVC tape", category: "PVC tape", itemCode: "TAPE-SA-50" }),
      rule({ id: "a", driver: "metres of PVC tape", category: "PVC tape", itemCode: "TAPE-PVC-19" }),
    ];
    for (const list of [rules, [...rules].reverse()]) {
      expect(itemOfDriver(list, "metres of PVC tape", subject())?.code).toBe("TAPE-PVC-19");
    }
    expect(itemOfDriver([], "metres of PVC tape", subject())).toBeUndefined();
  });
});

describe("the list of drivers", () => {
  it("says of each what it counts", () => {
    for (const { one, many, meaning } of Object.values(DRIVERS)) {
      expect(one).not.toBe("");
      expect(many).not.toBe("");
      expect(meaning).not.toBe("");
    }
  });
});
