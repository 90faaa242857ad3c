import { describe, expect, it } from "vitest";
import { DEFAULT_POLICY, DEFAULT_RULES, parsePolicy, parseRules } from "@/lib/takeoff";

const problems = (result: ReturnType<typeof parseRules> | ReturnType<typeof parsePolicy>) =>
  result.ok ? [] : result.problems.map((p) => `${p.path} ${p.rule}`);
const [first] = DEFAULT_RULES;

describe("parseRules", () => {
  it("reads the default rules back as they are", () => {
    expect(parseRules(JSON.parse(JSON.stringify(DEFAULT_RULES)))).toEqual({ ok: true, value: DEFAULT_RULES });
  });

  it("reports everything that is wrong at once", () => {
    const rows = [
      first,
      { ...first, driver: "moons", factor: -1, allowance: 5, step: 0 },
      { ...first, id: "x", driver: "couplers", level: "run", formula: "2 * n" },
    ];
    expect(problems(parseRules(rows)).sort()).toEqual([
      "[1].allowance out-of-range",
      "[1].driver not-allowed",
      "[1].factor out-of-range",
      "[1].id duplicate-rule",
      "[1].step out-of-range",
      "[2].formula unknown-field",
      "[2].level level-needs-run",
    ]);
  });

  it("says what to do", () => {
    const result = parseRules([{ ...first, level: "per year" }]);
    expect(result.ok ? [] : result.problems).toMatchObject([
      {
        path: "[0].level",
        rule: "not-allowed",
        value: "per year",
        message: 'level cannot be "per year".',
        remedy: "Use one of: run, end, site, order.",
      },
    ]);
  });

  it("refuses what is no table at all", () => {
    expect(problems(parseRules("rules"))).toEqual([" wrong-type"]);
    expect(problems(parseRules([null]))).toEqual(["[0] wrong-type"]);
  });
});

describe("parsePolicy", () => {
  it("reads the default policy, and one saved before the later figures came in", () => {
    expect(parsePolicy({ ...DEFAULT_POLICY })).toEqual({ ok: true, value: DEFAULT_POLICY });
    const { nearOduM: _, pvcWidthRatio: __, ...older } = DEFAULT_POLICY;
    expect(parsePolicy(older)).toEqual({ ok: true, value: older });
  });

  it("refuses figures that can only be a slip", () => {
    const raw = { ...DEFAULT_POLICY, cutStepM: 0, tapeOverlap: 1, connectorLoss: 5, surplusM: undefined };
    expect(problems(parsePolicy(raw)).sort()).toEqual([
      "connectorLoss out-of-range",
      "cutStepM out-of-range",
      "surplusM missing",
      "tapeOverlap out-of-range",
    ]);
  });
});
