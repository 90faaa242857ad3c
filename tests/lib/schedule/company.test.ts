/** A hop put in as one: both ends side by side, beside its neighbours, or not at all. */
import { describe, expect, test } from "vitest";
import { Random } from "@/lib/random";
import type { PlanVisit, ScheduleProblem } from "@/lib/schedule";
import { PlanEdit } from "@/lib/schedule/edit";
import { Blink } from "@/lib/schedule/insert/blink";
import { Company, fitsTwiceADay } from "@/lib/schedule/insert/company";
import { anywhere } from "@/lib/schedule/insert/range";
import { buildModel } from "@/lib/schedule/model";
import { PlanState } from "@/lib/schedule/plan";
import { when } from "./plans";
import { alignment, crew, step, tiny, visit } from "./tiny";

const twoCrews = [crew(), crew({ code: "C2" })];
const NOBODY = new Int32Array(0);

/** Installs of an hour at places `a` and `b`, then an alignment of an hour: visits `first` to `first + 3`. */
function hop(h: number, first: number, a: number, b: number, installMin = 60): PlanVisit[] {
  return [
    visit({ label: `install ${a}`, hop: h, place: a, segments: [step(installMin)] }),
    visit({ label: `install ${b}`, hop: h, place: b, segments: [step(installMin)] }),
    ...alignment(first + 2, a, b, [first, first + 1], { hop: h }),
  ];
}

function begun(problem: ScheduleProblem) {
  const built = buildModel(problem);
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  const m = built.value;
  const edit = new PlanEdit(m, new PlanState(m));
  edit.start();
  const s = edit.state;
  const at = (v: number) => ({
    startDay: s.startDay[v]!,
    startMin: s.startMin[v]!,
    endDay: s.endDay[v]!,
    endMin: s.endMin[v]!,
  });
  const company = new Company(edit);
  const blink = new Blink(new Random("test"), 0);
  const insert = (h: number, beside: Int32Array = NOBODY) => company.insert(h, blink, anywhere(m), beside);
  return { m, s, edit, insert, at };
}

describe("a hop put in as one", () => {
  test("has a crew at each end, who align when the later one has installed", () => {
    const { s, insert, at } = begun(tiny({ road: [0, 30, 60], crews: twoCrews, visits: hop(0, 0, 1, 2) }));
    expect(insert(0)).toBe(true);
    // 07:00 + 30 + 30 set-up; the far end an half hour later, and done at 09:00.
    expect([0, 1, 2, 3].map((v) => when(at(v) as Parameters<typeof when>[0]))).toEqual([
      "0 08:00 - 0 09:00",
      "0 08:30 - 0 09:30",
      "0 09:30 - 0 10:30",
      "0 09:30 - 0 10:30",
    ]);
    expect(s.crewOf[2]).toBe(s.crewOf[0]);
    expect(s.crewOf[3]).toBe(s.crewOf[1]);
    expect(s.crewOf[0]).not.toBe(s.crewOf[1]);
  });

  test("joins its neighbour on the same day with the same crews", () => {
    const visits = [...hop(0, 0, 1, 3), ...hop(1, 4, 2, 4)];
    const hops = [0, 1].map((h) => ({ id: `h${h}`, code: `H${h}`, weight: 1 }));
    const { m, s, insert } = begun(tiny({ road: [0, 30, 30, 60, 60], crews: twoCrews, visits, hops }));
    expect([...fitsTwiceADay(m)]).toEqual([1, 1]);
    expect(insert(0)).toBe(true);
    expect(insert(1, Int32Array.of(1, 0))).toBe(true);
    for (const [v, u] of [
      [4, 0],
      [5, 1],
      [6, 2],
      [7, 3],
    ]) {
      expect(s.crewOf[v!]).toBe(s.crewOf[u!]);
      expect(s.startDay[v!]).toBe(0);
    }
  });

  test("stands behind an install that its crew does later that day", () => {
    const { s, edit, insert } = begun(tiny({ road: [0, 30, 60], crews: twoCrews, visits: hop(0, 0, 1, 2) }));
    // Crew 0 has the far install of the hop in its day: the near end comes before it, no alignment does.
    edit.aim(1);
    edit.trial(1, 0, 0, -1, -1, -1);
    edit.place();
    expect(insert(0)).toBe(true);
    expect(s.startMin[2]).toBeGreaterThanOrEqual(s.endMin[1]!);
    expect(s.startMin[2]).toBe(s.startMin[3]);
  });

  test("has no place where the ends do not fit on one day, and then nothing changes", () => {
    const visits = hop(0, 0, 1, 2, 600);
    const { m, s, insert } = begun(tiny({ road: [0, 30, 60], crews: twoCrews, visits }));
    expect([...fitsTwiceADay(m)]).toEqual([0]);
    const ints = s.ints.slice();
    expect(insert(0)).toBe(false);
    expect(s.ints).toEqual(ints);
  });

  test("has no place with one crew", () => {
    const { insert } = begun(tiny({ road: [0, 30, 60], visits: hop(0, 0, 1, 2) }));
    expect(insert(0)).toBe(false);
  });
});
