/** Resource-constrained projects: a constructed case with a known optimum, and a few published ones (PSPLIB). */
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { type Project, type ProjectBudget, solveProject } from "@/lib/hours";
import { Random } from "@/lib/random";
import { prepareProject, ScheduleGenerator } from "../../lib/hours/generation";
import { parsePsplib } from "../bench/psplib";

const HEURISTIC: ProjectBudget = { nodes: 0, passes: 200 };
const EXACT: ProjectBudget = { nodes: 20_000, passes: 20 };

describe("one resource of capacity 4, seven tasks", () => {
  const SOURCE = "constructed; optimum by serial generation over every precedence-feasible order (C)";
  const project: Project = {
    durations: [6, 6, 6, 5, 4, 3, 5],
    successors: [[3], [], [], [], [6], [], []],
    demands: [[2], [3], [2], [1], [2], [3], [2]],
    capacities: [4],
  };

  it("is solved in 20 and proved, above its energy bound of 19", () => {
    const found = solveProject(project, EXACT, new Random(1));
    expect(found.makespan, SOURCE).toBe(20);
    expect(found.lowerBound, SOURCE).toBe(20);
    expect(found.proved, SOURCE).toBe(true);
  });

  it("is better than the id order's 24 by the heuristics alone, with the energy bound of 19 reported", () => {
    const found = solveProject(project, HEURISTIC, new Random(1));
    expect(found.makespan, SOURCE).toBeGreaterThanOrEqual(20);
    expect(found.makespan, SOURCE).toBeLessThan(24);
    expect(found.lowerBound, SOURCE).toBe(19);
    expect(found.proved).toBe(false);
  });

  it("takes 24 by the id order and 20 by the order 1,5,3,7,2,4,6, in serial generation", () => {
    const generator = new ScheduleGenerator(prepareProject(project));
    const inOrder = generator.forward([0, 1, 2, 3, 4, 5, 6]);
    expect(generator.makespan(inOrder), SOURCE).toBe(24);
    const best = generator.forward([0, 4, 2, 6, 1, 3, 5]);
    expect(best, SOURCE).toEqual([0, 11, 4, 10, 0, 17, 6]);
    expect(generator.makespan(best), SOURCE).toBe(20);
  });
});

const DATA = path.join(process.env.BENCH_DATA ?? "../shared/data", "rcpsp-j30");
const SOURCE = "PSPLIB j30 (Kolisch and Sprecher 1996), published optimal make-span (V)";
const cases = [
  { name: "j301_1", optimum: 43 },
  { name: "j3010_1", optimum: 42 },
  { name: "j3010_7", optimum: 49 },
  { name: "j3025_7", optimum: 95 },
  { name: "j3029_1", optimum: 85 },
  { name: "j3041_1", optimum: 86 },
].filter(({ name }) => !existsSync(DATA) || existsSync(path.join(DATA, `${name}.sm`)));

describe("PSPLIB, 30 tasks, 4 resources", () => {
  if (!existsSync(DATA)) {
    it("was not run: the set rcpsp-j30 is absent (set BENCH_DATA)", () => {
      console.warn("not run: PSPLIB j30 cases; set BENCH_DATA to the benchmark data");
      expect(existsSync(DATA)).toBe(false);
    });
    return;
  }
  const read = (name: string): Project => parsePsplib(readFileSync(path.join(DATA, `${name}.sm`), "utf8"));

  it("reads a case: 32 jobs with source and sink, 4 resources", () => {
    const project = read(cases[0]!.name);
    expect(project.durations).toHaveLength(32);
    expect(project.capacities).toHaveLength(4);
    expect(project.durations[0]).toBe(0);
    expect(project.successors[31]).toEqual([]);
  });

  it.each(cases)("$name is proved optimal at $optimum", ({ name, optimum }) => {
    const found = solveProject(read(name), EXACT, new Random(1));
    expect(found.makespan, SOURCE).toBe(optimum);
    expect(found.proved, SOURCE).toBe(true);
  });

  it.each(cases)("$name is solved within 6 % of $optimum by the heuristics alone", ({ name, optimum }) => {
    const found = solveProject(read(name), HEURISTIC, new Random(1));
    expect(found.makespan, SOURCE).toBeLessThanOrEqual(1.06 * optimum);
    expect(found.lowerBound, SOURCE).toBeLessThanOrEqual(optimum);
  });
});
