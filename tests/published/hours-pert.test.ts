/** PERT means, variances, paths and their chances against published networks. */
import { describe, expect, it } from "vitest";
import { criticalPath, pathProbability, pertMeanMin, pertVarianceMin2, type ThreePoint } from "@/lib/hours";

const COURSE = "PERT network of a university course page, printed te, variance, length and critical path";
const FORMULA = "normal approximation over the printed path, recomputed";
const EXERCISE = "solved PERT exercise, printed mean, variance and probability";

const three = (aMin: number, mMin: number, bMin: number): ThreePoint => ({ aMin, mMin, bMin });

describe("PERT network A..H", () => {
  const tasks = [
    { id: "A", three: three(6, 7, 14), after: "", te: 8, variance: 1.78, slack: 0 },
    { id: "B", three: three(8, 10, 12), after: "", te: 10, variance: 0.44, slack: 1 },
    { id: "C", three: three(2, 3, 4), after: "A", te: 3, variance: 0.11, slack: 0 },
    { id: "D", three: three(6, 7, 8), after: "A", te: 7, variance: 0.11, slack: 2 },
    { id: "E", three: three(5, 5.5, 9), after: "BC", te: 6, variance: 0.44, slack: 0 },
    { id: "F", three: three(5, 7, 9), after: "BC", te: 7, variance: 0.44, slack: 2 },
    { id: "G", three: three(4, 6, 8), after: "DE", te: 6, variance: 0.44, slack: 0 },
    { id: "H", three: three(2.5, 3, 3.5), after: "F", te: 3, variance: 0.03, slack: 2 },
  ];
  const after = tasks.map((t) => [...t.after].map((id) => tasks.findIndex((u) => u.id === id)));
  const means = tasks.map((t) => pertMeanMin(t.three));
  const path = criticalPath(means, after);

  it.each(tasks)("task $id: te $te, variance $variance", (t) => {
    expect(pertMeanMin(t.three), `${COURSE} (V)`).toBeCloseTo(t.te, 9);
    expect(Math.abs(pertVarianceMin2(t.three) - t.variance), `${COURSE} (V)`).toBeLessThanOrEqual(0.005);
  });

  it("takes 23, critical A-C-E-G", () => {
    expect(path.length, `${COURSE} (V)`).toBeCloseTo(23, 9);
    const critical = tasks.filter((_, i) => path.critical[i]).map((t) => t.id);
    expect(critical.join("-"), `${COURSE} (V)`).toBe("A-C-E-G");
  });

  it.each(tasks)("task $id: slack $slack", (t) => {
    expect(path.slack[tasks.indexOf(t)], "check-value recomputed from the network (R)").toBeCloseTo(
      t.slack,
      9,
    );
  });

  const variance = tasks
    .filter((t) => "ACEG".includes(t.id))
    .reduce((sum, t) => sum + pertVarianceMin2(t.three), 0);
  it.each([
    { due: 25, expected: 0.8849 },
    { due: 20, expected: 0.0359 },
  ])("ends by $due with chance $expected", ({ due, expected }) => {
    expect(Math.abs(variance - 2.7778), `${FORMULA} (R)`).toBeLessThanOrEqual(5e-4);
    expect(Math.abs(pathProbability(23, variance, due) - expected), `${FORMULA} (R)`).toBeLessThanOrEqual(
      5e-4,
    );
  });
});

describe("PERT path A-C-E-H-I-K-M-N", () => {
  const path = [
    three(4, 6, 7),
    three(6, 6, 6),
    three(1, 9, 18),
    three(4, 4, 6),
    three(1, 6, 8),
    three(8, 9, 11),
    three(1, 2, 3),
    three(6, 8, 10),
  ];
  it("has mean 50.0, variance 10.5556 and ends by 53 with chance 0.822", () => {
    const mean = path.reduce((sum, t) => sum + pertMeanMin(t), 0);
    const variance = path.reduce((sum, t) => sum + pertVarianceMin2(t), 0);
    expect(Math.abs(mean - 50), `${EXERCISE} (V)`).toBeLessThanOrEqual(0.05);
    expect(Math.abs(variance - 10.5556), `${EXERCISE} (V)`).toBeLessThanOrEqual(5e-4);
    expect(Math.abs(pathProbability(mean, variance, 53) - 0.822), `${EXERCISE} (V)`).toBeLessThanOrEqual(
      5e-4,
    );
  });
});
