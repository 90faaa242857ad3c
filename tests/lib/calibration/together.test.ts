import { describe, expect, test } from "vitest";
import { shrunkMean } from "@/lib/calibration";
import { effectsTogether } from "@/lib/calibration/together";
import { Random } from "@/lib/random";

describe("effects of several levels at once", () => {
  test("one random level alone is the shrunken mean of each group", () => {
    const [effects] = effectsTogether([{ groupOf: [0, 0, 1], groupCount: 2, k: 3 }], [0.2, 0.4, -0.5]);
    expect(effects![0]).toBeCloseTo(shrunkMean(0.3, 2, 3), 12);
    expect(effects![1]).toBeCloseTo(shrunkMean(-0.5, 1, 3), 12);
  });

  test("a fixed level alone is the plain mean", () => {
    const [effects] = effectsTogether([{ groupOf: [0, 0, 1], groupCount: 2, k: 0 }], [0.2, 0.4, -0.5]);
    expect(effects![0]).toBeCloseTo(0.3, 6);
    expect(effects![1]).toBeCloseTo(-0.5, 6);
  });

  test("what all groups share goes to the fixed level, and random effects add up to nothing", () => {
    const groupOf = [0, 0, 1, 1, 2, 2];
    const values = [0.3, 0.3, 0.5, 0.5, 0.4, 0.4];
    const [fixed, random] = effectsTogether(
      [
        { groupOf: groupOf.map(() => 0), groupCount: 1, k: 0 },
        { groupOf, groupCount: 3, k: 2 },
      ],
      values,
    );
    expect(fixed![0]).toBeCloseTo(0.4, 6);
    expect(random![0]).toBeCloseTo(-0.05, 6);
    expect(random!.reduce((a, b) => a + b)).toBeCloseTo(0, 9);
  });

  test("each random effect is its group's shrunken mean of what the others leave, in any dealing", () => {
    const random = new Random("levels");
    const count = 300;
    const deal = (groups: number) => Array.from({ length: count }, () => random.below(groups));
    const levels = [
      { groupOf: deal(2), groupCount: 2, k: 0 },
      { groupOf: deal(7), groupCount: 7, k: 2.5 },
      { groupOf: deal(20), groupCount: 20, k: 12 },
    ];
    const values = Array.from({ length: count }, () => random.normal());
    const found = effectsTogether(levels, values);
    levels.forEach((level, l) => {
      for (let g = 0; g < level.groupCount; g++) {
        const left = values.flatMap((x, i) =>
          level.groupOf[i] === g
            ? [x - levels.reduce((s, o, m) => (m === l ? s : s + found[m]![o.groupOf[i]!]!), 0)]
            : [],
        );
        const mean = left.reduce((a, b) => a + b, 0) / left.length;
        expect(found[l]![g]).toBeCloseTo(shrunkMean(mean, left.length, level.k), 6);
      }
    });
  });
});
