import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Project, solveProject } from "@/lib/hours";
import { Random } from "@/lib/random";
import { lowerBound } from "../../../lib/hours/bounds";
import { prepareProject, priorityRules, ScheduleGenerator } from "../../../lib/hours/generation";

const EXACT = { nodes: 100_000, passes: 0 };

/** Random projects of a few tasks: successors only to later tasks, so there is no cycle. */
function projects(most: number): fc.Arbitrary<Project> {
  return fc.integer({ min: 1, max: most }).chain((n) =>
    fc.record({
      durations: fc.array(fc.integer({ min: 0, max: 6 }), { minLength: n, maxLength: n }),
      successors: fc.tuple(
        ...Array.from({ length: n }, (_, i) =>
          fc.subarray(
            Array.from({ length: n - 1 - i }, (_, k) => i + 1 + k),
            { maxLength: Math.min(2, n - 1 - i) },
          ),
        ),
      ),
      demands: fc.array(fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 2 })), {
        minLength: n,
        maxLength: n,
      }),
      capacities: fc.constant([3, 2]),
    }),
  );
}

/** Minute by minute: precedence and capacities hold. */
function isFeasible(p: Project, starts: readonly number[]): boolean {
  const end = (i: number): number => starts[i]! + p.durations[i]!;
  if (p.successors.some((list, i) => list.some((j) => starts[j]! < end(i)))) return false;
  const horizon = Math.max(0, ...starts.map((_, i) => end(i)));
  for (let t = 0; t < horizon; t++) {
    for (const [r, capacity] of p.capacities.entries()) {
      const use = p.demands.reduce((sum, d, i) => (starts[i]! <= t && t < end(i) ? sum + d[r]! : sum), 0);
      if (use > capacity) return false;
    }
  }
  return true;
}

/** Shortest make-span over every order of the tasks, each placed at its earliest feasible start. */
function bruteForce(p: Project): number {
  const n = p.durations.length;
  let best = Number.POSITIVE_INFINITY;
  const place = (placed: readonly number[], starts: readonly number[]): void => {
    if (placed.length === n) {
      best = Math.min(best, Math.max(0, ...starts.map((s, i) => s + p.durations[i]!)));
      return;
    }
    for (let i = 0; i < n; i++) {
      if (placed.includes(i) || p.successors.some((list, h) => list.includes(i) && !placed.includes(h)))
        continue;
      const partial = [...placed, i];
      for (let t = 0; ; t++) {
        const tried = starts.map((s, k) => (k === i ? t : s));
        const only: Project = {
          ...p,
          durations: p.durations.map((d, k) => (partial.includes(k) ? d : 0)),
          successors: p.successors.map((list, h) =>
            partial.includes(h) ? list.filter((j) => partial.includes(j)) : [],
          ),
        };
        if (!isFeasible(only, tried)) continue;
        place(partial, tried);
        break;
      }
    }
  };
  place([], new Array<number>(n).fill(0));
  return best;
}

describe("solveProject", () => {
  it("proves the optimum that brute force finds on tiny projects", () => {
    fc.assert(
      fc.property(projects(6), fc.integer(), (project, seed) => {
        const found = solveProject(project, EXACT, new Random(seed));
        expect(isFeasible(project, found.starts)).toBe(true);
        expect(found.proved).toBe(true);
        expect(found.makespan).toBe(bruteForce(project));
        expect(found.lowerBound).toBe(found.makespan);
      }),
      { numRuns: 150 },
    );
  });

  it("stays feasible and above its bounds without the proof, and the proof never makes it longer", () => {
    fc.assert(
      fc.property(projects(14), fc.integer(), (project, seed) => {
        const quick = solveProject(project, { nodes: 0, passes: 5 }, new Random(seed));
        expect(isFeasible(project, quick.starts)).toBe(true);
        expect(quick.makespan).toBeGreaterThanOrEqual(quick.lowerBound);
        expect(quick.lowerBound).toBe(lowerBound(prepareProject(project)));
        const proved = solveProject(project, { nodes: 100_000, passes: 5 }, new Random(seed));
        expect(isFeasible(project, proved.starts)).toBe(true);
        expect(proved.proved).toBe(true);
        expect(proved.makespan).toBeLessThanOrEqual(quick.makespan);
        expect(proved.lowerBound).toBeGreaterThanOrEqual(quick.lowerBound);
      }),
      { numRuns: 60 },
    );
  });

  it("never takes longer with more of a resource, when proved", () => {
    fc.assert(
      fc.property(projects(10), fc.integer({ min: 0, max: 1 }), (project, r) => {
        const more = { ...project, capacities: project.capacities.map((c, k) => (k === r ? c + 1 : c)) };
        const before = solveProject(project, EXACT, new Random(1));
        const after = solveProject(more, EXACT, new Random(1));
        expect(after.makespan).toBeLessThanOrEqual(before.makespan);
      }),
      { numRuns: 60 },
    );
  });

  it("gives the same schedule for the same seed", () => {
    const project = fc.sample(projects(20), { numRuns: 1, seed: 7 })[0]!;
    const budget = { nodes: 50, passes: 20 };
    const once = solveProject(project, budget, new Random(3));
    expect(solveProject(project, budget, new Random(3))).toEqual(once);
  });

  it("handles no tasks and tasks of no length", () => {
    const none = { durations: [], successors: [], demands: [], capacities: [1] };
    expect(solveProject(none, EXACT, new Random(1))).toMatchObject({ makespan: 0, proved: true });
    const points = { durations: [0, 0], successors: [[1], []], demands: [[1], [1]], capacities: [1] };
    expect(solveProject(points, EXACT, new Random(1))).toMatchObject({ makespan: 0, proved: true });
  });

  it("stops when asked to, with what it has", () => {
    const project = fc.sample(projects(20), { numRuns: 1, seed: 11 })[0]!;
    const found = solveProject(project, { nodes: 1e9, passes: 1e9, shouldStop: () => true }, new Random(1));
    expect(isFeasible(project, found.starts)).toBe(true);
  });

  it("refuses cycles, fractions and demands above the capacity", () => {
    const base: Project = { durations: [1, 1], successors: [[1], []], demands: [[1], [1]], capacities: [1] };
    const solve = (change: Partial<Project>) => () =>
      solveProject({ ...base, ...change }, EXACT, new Random(1));
    expect(solve({ successors: [[1], [0]] })).toThrow(/cycle/);
    expect(solve({ durations: [1.5, 1] })).toThrow(/whole/);
    expect(solve({ demands: [[2], [1]] })).toThrow(/asks for 2/);
    expect(solve({ demands: [[1]] })).toThrow(/one length/);
  });
});

describe("ScheduleGenerator", () => {
  it("never gets longer by justification, whatever the rule", () => {
    fc.assert(
      fc.property(projects(12), (project) => {
        const prepared = prepareProject(project);
        const generator = new ScheduleGenerator(prepared);
        for (const rule of priorityRules(prepared)) {
          const starts = generator.forward(generator.listBy(rule));
          expect(isFeasible(project, starts)).toBe(true);
          const justified = generator.justify(starts);
          expect(isFeasible(project, justified)).toBe(true);
          expect(generator.makespan(justified)).toBeLessThanOrEqual(generator.makespan(starts));
        }
      }),
      { numRuns: 60 },
    );
  });
});
