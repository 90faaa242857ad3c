import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CrewComposition, composeTasks, DEFAULT_NORMS, type EndTask, type Skill } from "@/lib/hours";
import { Random } from "@/lib/random";
import { solveEnd } from "../../../lib/hours/endProject";
import { brokenRules } from "./judge";
import { CREW_OF_FOUR, endWork, standbyWork } from "./work";

const EXACT = { nodes: 20_000, passes: 10 };

type TaskChanges = Partial<EndTask> & { minutes: number };

/** A task of fixed length; on the ground unless said otherwise. */
function task(id: string, { minutes, ...changes }: TaskChanges): EndTask {
  return {
    id,
    name: id,
    where: "ground",
    workClass: "ground",
    people: {},
    duration: { aMin: minutes, mMin: minutes, bMin: minutes },
    after: [],
    splittable: false,
    usesDropZone: false,
    source: "made up for the test",
    ...changes,
  };
}

/** One ascent of two around the given work aloft. */
function ascent(inside: readonly EndTask[], wayMin: number): EndTask[] {
  const way = {
    people: { climber: 2 },
    wholeParty: true,
    where: "aloft" as const,
    ascent: 1,
    minutes: wayMin,
  };
  return [
    task("climb-1", { ...way, moves: "climb", workClass: "climb" }),
    ...inside.map((t) => ({ ...t, where: "aloft" as const, ascent: 1, after: ["climb-1", ...t.after] })),
    task("descent-1", {
      ...way,
      moves: "descent",
      workClass: "climb",
      after: ["climb-1", ...inside.map((t) => t.id)],
    }),
  ];
}

/** No limit on the spell aloft, so that any task list has a schedule. */
const ANY_SPELL = { ...DEFAULT_NORMS, climb: { ...DEFAULT_NORMS.climb, longestSpellMin: 10_000 } };

function solve(tasks: readonly EndTask[], crew: CrewComposition, budget = EXACT) {
  const plan = solveEnd(tasks, crew, ANY_SPELL, budget, new Random("test"));
  const sequence = tasks.map((t, i) => ({
    taskId: t.id,
    startMin: plan.startsMin[i]!,
    endMin: plan.startsMin[i]! + plan.durationsMin[i]!,
    people: plan.people[i]!,
    critical: false,
  }));
  return { plan, broken: brokenRules(tasks, sequence, crew) };
}

/**
 * Shortest make-span by trying all starts up to a horizon and all staffings: no idea of the engine is used.
 * Tasks must be in precedence order.
 */
function bruteForce(tasks: readonly EndTask[], crew: CrewComposition, horizon: number): number {
  const length = (t: EndTask): number => Math.round(t.duration.mMin);
  const people = crew.people.map((_, p) => p);
  const groups = (n: number): number[][] => {
    if (n === 0) return [[]];
    return people.flatMap((p) =>
      groups(n - 1).flatMap((g) => (g.length === 0 || g[0]! > p ? [[p, ...g]] : [])),
    );
  };
  const staffings = (t: EndTask): number[][] => {
    if (t.everybody) return [people];
    return groups(Object.values(t.people).reduce((sum, n) => sum + n, 0));
  };
  for (let span = 0; span <= horizon; span++) {
    const place = (
      k: number,
      sequence: { taskId: string; startMin: number; endMin: number; people: number[]; critical: boolean }[],
    ): boolean => {
      if (k === tasks.length) return brokenRules(tasks, sequence, crew).length === 0;
      const t = tasks[k]!;
      const earliest = Math.max(0, ...t.after.map((id) => sequence.find((s) => s.taskId === id)!.endMin));
      for (let start = earliest; start + length(t) <= span; start++) {
        for (const group of staffings(t)) {
          const clashes = sequence.some(
            (s) =>
              s.startMin < start + length(t) && s.endMin > start && s.people.some((p) => group.includes(p)),
          );
          if (clashes) continue;
          const slot = {
            taskId: t.id,
            startMin: start,
            endMin: start + length(t),
            people: group,
            critical: false,
          };
          if (place(k + 1, [...sequence, slot])) return true;
        }
      }
      return false;
    };
    if (place(0, [])) return span;
  }
  return Number.POSITIVE_INFINITY;
}

const climber: Skill[] = ["climber", "rescue"];

describe("solveEnd", () => {
  it("keeps who has climbed off the ground until the descent has ended", () => {
    const tasks = [
      ...ascent([task("mount", { minutes: 10, people: { climber: 2 } })], 5),
      task("idu", { minutes: 8, people: { technician: 1 } }),
    ];
    const crew = { people: [[...climber, "technician"], climber] as Skill[][] };
    const { plan, broken } = solve(tasks, crew);
    expect(broken).toEqual([]);
    expect(plan.makespanMin).toBe(28); // 20 for the ascent and 8 before or after it: nobody else is a technician
    expect(plan.proved).toBe(true);
    const withTechnician = { people: [...crew.people, ["technician"]] as Skill[][] };
    expect(solve(tasks, withTechnician).plan.makespanMin).toBe(20);
  });

  it("keeps the foot clear while there is work overhead, and lets indoor work go on", () => {
    const overhead = task("mount", { minutes: 10, people: { climber: 2 }, usesDropZone: true });
    const foot = task("route", { minutes: 6, people: { ground: 1 }, atFoot: true });
    const indoor = task("connector", { minutes: 6, people: { ground: 1 }, where: "indoor" });
    const crew = { people: [climber, climber, ["ground"], ["ground"]] as Skill[][] };
    expect(solve([...ascent([overhead], 2), indoor], crew).plan.makespanMin).toBe(14);
    // The climb takes 2: the foot is used before the climbers reach their work, or after it.
    const { plan, broken } = solve([...ascent([overhead], 2), foot], crew);
    expect(plan.makespanMin).toBe(18);
    expect(broken).toEqual([]);
  });

  it("does not let people swap in the middle of a task", () => {
    // At every minute somebody could be found, but not one person for the whole of the long task.
    const tasks = [
      task("first", { minutes: 4, people: { rigger: 1 } }),
      task("second", { minutes: 4, people: { technician: 1 }, after: ["first"] }),
      task("long", { minutes: 8, people: { ground: 1 } }),
    ];
    const crew = {
      people: [
        ["rigger", "ground"],
        ["technician", "ground"],
      ] as Skill[][],
    };
    const { plan, broken } = solve(tasks, crew);
    expect(broken).toEqual([]);
    expect(plan.makespanMin).toBe(12);
    expect(plan.proved).toBe(true);
  });

  it("proves what brute force finds on tiny ends", () => {
    const groundTask = (id: string) =>
      fc
        .record({
          minutes: fc.integer({ min: 1, max: 2 }),
          people: fc.constantFrom<EndTask["people"]>({ ground: 1 }, { technician: 1 }),
          atFoot: fc.boolean(),
          waits: fc.boolean(),
        })
        .map(({ waits, ...t }) => task(id, { ...t, after: waits ? ["a1"] : [] }));
    const aloftTask = fc
      .record({
        minutes: fc.integer({ min: 1, max: 2 }),
        people: fc.constantFrom<EndTask["people"]>({ climber: 1 }, { climber: 2 }),
        usesDropZone: fc.boolean(),
      })
      .map((t) => task("a1", t));
    const crews = fc.constantFrom<CrewComposition>(
      { people: [["climber", "ground"], ["climber", "technician"], ["ground"]] },
      { people: [["climber"], ["climber", "ground", "technician"]] },
      { people: [["climber", "technician"], ["climber", "ground"], ["climber"]] },
    );
    fc.assert(
      fc.property(aloftTask, groundTask("g1"), groundTask("g2"), crews, (a1, g1, g2, crew) => {
        const tasks = [...ascent([a1], 1), g1, g2];
        const { plan, broken } = solve(tasks, crew);
        expect(broken).toEqual([]);
        expect(plan.proved).toBe(true);
        expect(plan.makespanMin).toBe(bruteForce(tasks, crew, 10));
      }),
      { numRuns: 40 },
    );
  });

  it("passes the judge on whole ends, above its lower bound, with any crew", () => {
    const crews: CrewComposition[] = [
      CREW_OF_FOUR,
      {
        people: [
          [...climber, "ground", "technician"],
          [...climber, "ground"],
          ["ground", "rigger"],
        ],
      },
      {
        people: [
          climber,
          [...climber, "ground"],
          ["climber", "rigger"],
          ["ground"],
          ["ground", "technician"],
        ],
      },
    ];
    for (const work of [
      endWork(),
      standbyWork(),
      standbyWork({ largestDiameterM: 1.2, heaviestLiftKg: 40 }),
    ]) {
      const tasks = composeTasks(work, DEFAULT_NORMS);
      for (const crew of crews) {
        for (const nodes of [0, 100]) {
          const { plan, broken } = solve(tasks, crew, { nodes, passes: 5 });
          expect(broken).toEqual([]);
          expect(plan.makespanMin).toBeGreaterThanOrEqual(plan.lowerBoundMin);
        }
      }
    }
  });

  it("never takes longer with one more climber, when proved", () => {
    const tasks = composeTasks(endWork(), DEFAULT_NORMS);
    const crews: CrewComposition[] = [
      CREW_OF_FOUR,
      { people: [climber, [...climber, "ground"], ["ground", "technician"]] },
    ];
    for (const crew of crews) {
      const before = solve(tasks, crew).plan;
      const after = solve(tasks, { people: [...crew.people, climber] }).plan;
      expect(before.proved && after.proved).toBe(true);
      expect(after.makespanMin).toBeLessThanOrEqual(before.makespanMin);
    }
  });

  it("keeps everyone's spell aloft within the limit where that can be done", () => {
    const tasks = composeTasks(standbyWork(), DEFAULT_NORMS);
    const tight = { ...DEFAULT_NORMS, climb: { ...DEFAULT_NORMS.climb, longestSpellMin: 200 } };
    const plan = solveEnd(tasks, CREW_OF_FOUR, tight, EXACT, new Random(1));
    expect(plan.overSpellMin).toBe(0);
    expect(plan.proved).toBe(true);
  });

  it("lets the climb wait rather than keep people up too long, and says when it cannot", () => {
    // The descent waits for a task of 30 on the ground; the way up and down takes 5 each, and 12 may be spent aloft.
    const tasks = [task("ground", { minutes: 30, people: { ground: 1 } }), ...ascent([], 5)];
    tasks[2] = { ...tasks[2]!, after: ["climb-1", "ground"] };
    const crew = { people: [climber, climber, ["ground"]] as Skill[][] };
    const limit = (longestSpellMin: number) => ({
      ...DEFAULT_NORMS,
      climb: { ...DEFAULT_NORMS.climb, longestSpellMin },
    });
    const kept = solveEnd(tasks, crew, limit(12), EXACT, new Random(1));
    expect(kept).toMatchObject({ makespanMin: 35, overSpellMin: 0, proved: true });
    const cannot = solveEnd(tasks, crew, limit(9), EXACT, new Random(1));
    expect(cannot).toMatchObject({ makespanMin: 35, overSpellMin: 1, proved: false });
  });
});
