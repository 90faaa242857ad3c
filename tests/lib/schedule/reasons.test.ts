/** Whatever the search and the judge say can be said in another language: no reason of theirs is missing in REASONS. */
import { describe, expect, test } from "vitest";
import { english, readBack } from "@/lib/phrase";
import { Random } from "@/lib/random";
import { judge, type PlacedVisit, REASONS } from "@/lib/schedule";
import { solved } from "./plans";
import { alignment, crew, FULL_DAY, step, tiny, visit, window } from "./tiny";

/** Sentences that fit much else: they alone do not show that a reason is known. */
const LOOSE = new Set(["{{visit}}: {{message}}", "{{crew}}, {{day}}: {{message}}", "{{n}} {{people}}"]);

function unknownIn(text: string): string | undefined {
  const read = readBack(text, REASONS);
  expect(english(read)).toBe(text);
  if (!LOOSE.has(read.text)) return read.values === undefined ? text : undefined;
  const inner = read.values?.message;
  const message = typeof inner === "object" && "text" in inner ? english(inner) : undefined;
  return message === undefined ? text : unknownIn(message);
}

const hop = () =>
  tiny({
    road: [0, 30, 90],
    crews: [crew({ code: "C1" }), crew({ code: "C2", restMin: 900, weeklyMaxMin: 900, payloadKg: 50 })],
    visits: [
      visit({ label: "A", place: 1, loadKg: 40, noticeDays: 1, kitReadyDay: 1 }),
      visit({ label: "B", place: 2, loadKg: 40, releaseDay: 1 }),
      ...alignment(2, 1, 2, [0, 1]),
      visit({ label: "E", kind: "acceptance", after: [2, 3], segments: [step(30)] }),
    ],
  });

describe("what the judge says of a spoiled plan", () => {
  test("can be read back, whichever rule it is", () => {
    const problem = hop();
    const plan = solved(problem);
    const random = new Random("spoiled");
    const unknown = new Set<string>();
    const rules = new Set<string>();
    for (let round = 0; round < 600; round++) {
      const placed = plan.placed.map((x): PlacedVisit => {
        if (random.next() > 0.4) return x;
        const day = Math.floor(random.next() * 5);
        const startMin = Math.floor(random.next() * 1200);
        const length = 30 + Math.floor(random.next() * 600);
        return {
          ...x,
          crew: Math.floor(random.next() * 2),
          startDay: day,
          endDay: Math.min(4, day + Math.floor(random.next() * 2)),
          startMin,
          endMin: Math.min(1439, startMin + length),
        };
      });
      const nights = random.next() < 0.3 ? [{ crew: 0, day: Math.floor(random.next() * 5), place: 1 }] : [];
      const kept = random.next() < 0.3 ? placed.slice(1) : placed;
      for (const b of judge(
        { ...problem, pinned: plan.placed.slice(0, 1) },
        { placed: kept, unplaced: [], nights },
      )) {
        rules.add(b.rule);
        const missing = b.rule === "whole plan" ? undefined : unknownIn(b.message);
        if (missing) unknown.add(missing);
      }
    }
    expect([...unknown]).toEqual([]);
    expect(rules.size).toBeGreaterThan(10);
  });
});

describe("why a visit has no place", () => {
  const none = { climbers: 0, rescuers: 0, riggers: 0, technicians: 0, people: 1 };
  const days = (change: object) => Array(5).fill({ ...FULL_DAY, ...change });
  const problems = {
    people: tiny({
      crews: [crew({ days: days({ technicians: 0, riggers: 0 }) })],
      visits: [visit({ needs: { ...none, technicians: 1, riggers: 2 } })],
    }),
    kit: tiny({ visits: [visit({ kitReadyDay: 8 })] }),
    gate: tiny({ visits: [visit({ releaseDay: 8 })] }),
    weather: tiny({ windows: [window(5, { open: () => 0 })], visits: [visit()] }),
    shift: tiny({ visits: [visit({ segments: [step(530, { splittable: false })] })] }),
    far: tiny({ visits: [visit({ segments: [step(5000, { splittable: false })] })] }),
    notice: tiny({ visits: [visit({ noticeDays: 9 })] }),
    payload: tiny({ crews: [crew({ payloadKg: 10 })], visits: [visit({ loadKg: 40 })] }),
    blocked: tiny({ visits: [visit({ blockedBy: "open gate: survey (customer), no date" })] }),
    waits: tiny({
      visits: [visit({ label: "A", releaseDay: 8 }), visit({ label: "B", after: [0] })],
    }),
    joint: tiny({ road: [0, 30, 90], crews: [crew()], visits: alignment(0, 1, 2, []) }),
    closed: tiny({ visits: [visit({ access: Array(7).fill(null) })] }),
  };

  test.each(Object.entries(problems))("%s", (_, problem) => {
    const { unplaced } = solved(problem);
    expect(unplaced.length).toBeGreaterThan(0);
    for (const { rule, detail } of unplaced) {
      expect(REASONS.includes(rule) || unknownIn(rule) === undefined).toBe(true);
      expect(unknownIn(detail)).toBeUndefined();
    }
  });
});
