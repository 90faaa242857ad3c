import { describe, expect, it } from "vitest";
import type { Project } from "@/lib/hours";
import { prepareProject } from "../../../lib/hours/generation";
import { proveShortest } from "../../../lib/hours/proof";

/** Two tasks of 3 that need the same single person, then one of 2. */
const project: Project = {
  durations: [3, 3, 2],
  successors: [[2], [2], []],
  demands: [[1], [1], [0]],
  capacities: [1],
};

describe("proveShortest", () => {
  it("finds the shortest schedule below a known one and proves it", () => {
    const found = proveShortest(prepareProject(project), 5, 20, 1000);
    expect(found.lowerBound).toBe(8);
    expect(Math.max(...found.starts!.map((s, i) => s + project.durations[i]!))).toBe(8);
  });

  it("proves that nothing is shorter than what is known", () => {
    const found = proveShortest(prepareProject(project), 5, 8, 1000);
    expect(found.starts).toBeUndefined();
    expect(found.lowerBound).toBe(8);
  });

  it("keeps its bound valid when the budget ends", () => {
    const wide: Project = {
      durations: [4, 5, 6, 7, 3, 4, 5],
      successors: [[], [], [], [], [], [], []],
      demands: [[2], [2], [1], [2], [1], [2], [1]],
      capacities: [3],
    };
    const whole = proveShortest(prepareProject(wide), 0, 40, 100_000);
    for (const budget of [1, 3, 10]) {
      const part = proveShortest(prepareProject(wide), 0, 40, budget);
      expect(part.lowerBound).toBeLessThanOrEqual(whole.lowerBound);
      expect(part.conflicts).toBeLessThanOrEqual(budget);
    }
  });

  it("looks for another schedule when one is refused, and gives up when all are", () => {
    // Refused: the first task starts at 0.
    const notFirst = (starts: readonly number[]) => (starts[0] === 0 ? [1, 0] : null);
    const second = proveShortest(prepareProject(project), 5, 20, 1000, undefined, notFirst);
    expect(second.starts![0]).toBe(3);
    expect(second.lowerBound).toBe(8);
    const none = proveShortest(prepareProject(project), 5, 20, 1000, undefined, () => []);
    expect(none.starts).toBeUndefined();
    expect(none.lowerBound).toBe(20);
  });

  it("holds a span's resources from its first task to the end of its last, and no longer than allowed", () => {
    // Up (1), down (1), and on the ground a task of 4 that the same person would do; down waits for a helper's task of 3.
    const held: Project = {
      durations: [1, 1, 4, 3],
      successors: [[1], [], [], [1]],
      demands: [
        [0, 0],
        [0, 0],
        [1, 0],
        [0, 1],
      ],
      capacities: [1, 1],
    };
    const span = { first: 0, last: 1, demands: [1, 0] };
    const free = proveShortest({ ...prepareProject(held), spans: [span] }, 0, 20, 1000);
    expect(free.lowerBound).toBe(6); // 4 on the ground, then up and down: 0..4, 4..6
    const tight = {
      ...prepareProject({ ...held, durations: [1, 1, 4, 9] }),
      spans: [{ ...span, longest: 2 }],
    };
    const late = proveShortest(tight, 0, 30, 1000);
    expect(late.lowerBound).toBe(10);
    expect(late.starts![1]! + 1 - late.starts![0]!).toBeLessThanOrEqual(2);
  });
});
