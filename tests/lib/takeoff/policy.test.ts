import { describe, expect, it } from "vitest";
import { DEFAULT_POLICY, fullPolicy, POLICY_FIGURES, type TakeoffPolicy } from "@/lib/takeoff";

describe("the policy", () => {
  it("marks every figure with a label and a source", () => {
    const figures = Object.keys(DEFAULT_POLICY).filter((key) => key !== "version");
    expect(Object.keys(POLICY_FIGURES).sort()).toEqual(figures.sort());
    for (const { label, source } of Object.values(POLICY_FIGURES)) {
      expect(label).not.toBe("");
      expect(source).toMatch(/common practice|from memory/);
    }
  });

  it("fills in figures that a saved policy does not have yet, and keeps those it has", () => {
    const saved = { ...DEFAULT_POLICY, surplusM: 3, nearOduM: undefined } as TakeoffPolicy;
    expect(fullPolicy(saved)).toMatchObject({ surplusM: 3, nearOduM: 1 });
    expect(fullPolicy(saved)).toBe(fullPolicy(saved));
  });
});
