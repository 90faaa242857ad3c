import { describe, expect, it } from "vitest";
import { z } from "zod";
import { parseWith, pathText, unitOf } from "@/lib/site/problems";

const refuse = (schema: z.ZodType, raw: unknown) => {
  const result = parseWith(schema, raw);
  if (result.ok) throw new Error("expected problems");
  return result.problems;
};

describe("parseWith", () => {
  const mast = z.strictObject({
    heightM: z.number().min(0).max(300),
    name: z.string().min(1),
    tags: z.array(z.string()).min(1),
  });

  it("gives the value where all is well", () => {
    const value = { heightM: 30, name: "A", tags: ["x"] };
    expect(parseWith(mast, value)).toEqual({ ok: true, value });
  });

  it("gives path, rule, value, message with unit, and remedy", () => {
    expect(refuse(mast, { heightM: -3, name: "A", tags: ["x"] })).toMatchObject([
      {
        path: "heightM",
        rule: "out-of-range",
        value: -3,
        message: "heightM is -3 m, not at least 0 m.",
        remedy: "Give at least 0 m.",
      },
    ]);
  });

  it.each([
    [{ heightM: 400, name: "A", tags: ["x"] }, "heightM", "out-of-range", "Give at most 300 m."],
    [{ heightM: "30", name: "A", tags: ["x"] }, "heightM", "wrong-type", "Give a number in m."],
    [{ heightM: Number.NaN, name: "A", tags: ["x"] }, "heightM", "wrong-type", "Give a number in m."],
    [{ name: "A", tags: ["x"] }, "heightM", "missing", "Give a number in m."],
    [{ heightM: 1, name: "", tags: ["x"] }, "name", "empty", "Give a text."],
    [{ heightM: 1, name: "A", tags: [] }, "tags", "too-few", "Give at least 1."],
    [{ heightM: 1, name: "A", tags: [7] }, "tags[0]", "wrong-type", "Give a text."],
    [
      { heightM: 1, name: "A", tags: ["x"], hight: 2 },
      "hight",
      "unknown-field",
      "Check its spelling or leave it out.",
    ],
  ])("%o: %s %s", (raw, path, rule, remedy) => {
    expect(refuse(mast, raw)).toEqual([expect.objectContaining({ path, rule, remedy })]);
  });

  it("keeps the figures apart, with all their decimals, and the field's name", () => {
    const [low] = refuse(z.strictObject({ factor: z.number().min(0) }), { factor: -0.0025 });
    expect(low).toMatchObject({
      message: "factor is -0.0025, not at least 0.",
      said: {
        message: { values: { field: "factor", given: { value: -0.0025, digits: 4 }, limit: { value: 0 } } },
        remedy: { text: "Give at least {{limit}}." },
      },
    });
    const leadDays = z.strictObject({ leadDays: z.number().gt(0) });
    expect(refuse(leadDays, { leadDays: -1 })[0]!.message).toBe("leadDays is -1 days, not more than 0 days.");
    expect(refuse(leadDays, { leadDays: 1e-7 - 1 })[0]!.message).toContain("-0.9999999 days");
    expect(refuse(leadDays, { leadDays: "x" })[0]!.message).toBe('leadDays is the text "x".');
  });

  it("adds what is wrong across fields even where the schema refuses", () => {
    const own = { path: "", rule: "own", message: "m", remedy: "r" };
    const result = parseWith(mast, {}, () => [own]);
    expect(result.ok ? [] : result.problems.map((p) => p.rule)).toEqual([
      "missing",
      "missing",
      "missing",
      "own",
    ]);
  });

  it("refuses what only the look across fields finds", () => {
    const own = { path: "", rule: "own", message: "m", remedy: "r" };
    expect(parseWith(z.number(), 1, () => [own])).toEqual({ ok: false, problems: [own] });
  });
});

describe("pathText and unitOf", () => {
  it("write a path as a person would", () => {
    expect(pathText(["near", "odus", 1, "bandGhz"])).toBe("near.odus[1].bandGhz");
    expect(pathText([3, "factor"])).toBe("[3].factor");
    expect(pathText([])).toBe("");
  });

  it("read the unit from the name", () => {
    expect(
      ["mountHeightM", "massKgPerM", "cableDiameterMm", "crossSectionMm2", "bandGhz", "label"].map(unitOf),
    ).toEqual(["m", "kg/m", "mm", "mm2", "GHz", ""]);
  });
});
