import { describe, expect, it } from "vitest";
import { readBack } from "@/lib/phrase";
import {
  effectOfMove,
  effectOfMoves,
  effectOfTimes,
  judgeAgainst,
  leftBehind,
  movesOfGroup,
  otherPlaces,
  type PlanRow,
  placedFromRows,
  planFromRows,
  problemAgainst,
  storedNights,
} from "@/lib/programme";
import { evaluate, type Plan, REASONS, type ScheduleProblem } from "@/lib/schedule";
import type { Unit } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";
import { solved } from "../schedule/plans";
import { alignment, crew, tiny, visit } from "../schedule/tiny";

const MONDAY = "2026-03-02" as CalendarDate;

/** Two crews, two ends and their alignment on a straight road, five days from a Monday. */
function hopProblem(): ScheduleProblem {
  return tiny({
    road: [0, 40, 50],
    crews: [crew({ id: "c1", code: "C1" }), crew({ id: "c2", code: "C2" })],
    visits: [
      visit({ id: "H1/near/install", label: "H1 near", place: 1 }),
      visit({ id: "H1/far/install", label: "H1 far", place: 2 }),
      ...alignment(2, 1, 2, [0, 1]).map((v, i) => ({
        ...v,
        id: `H1/${i === 0 ? "near" : "far"}/alignment`,
      })),
    ],
  });
}

function rowsOf(problem: ScheduleProblem, plan: Plan): PlanRow[] {
  const at = new Map(plan.placed.map((p) => [p.visit, p]));
  return problem.visits.map((v, i): PlanRow => {
    const p = at.get(i);
    return {
      visitId: v.id,
      crewCode: p ? problem.crews[p.crew]!.code : null,
      startOn: p ? addDays(problem.firstDay, p.startDay) : null,
      startMin: p?.startMin ?? null,
      endOn: p ? addDays(problem.firstDay, p.endDay) : null,
      endMin: p?.endMin ?? null,
      isPinned: false,
      unplacedRule: p ? null : "kit",
      unplacedDetail: p ? null : "short",
    };
  });
}

describe("a stored plan", () => {
  const problem = hopProblem();
  const plan = solved(problem);
  const rows = rowsOf(problem, plan);

  it("reads back as the plan that was stored, at the same cost, with no rule broken", () => {
    const back = planFromRows(problem, rows, storedNights(problem, plan.nights ?? []), plan.cost);
    expect(new Set(back.placed)).toEqual(new Set(plan.placed));
    const cost = evaluate(problem, back);
    expect(cost.ok && cost.value.total).toBeCloseTo(plan.cost.total, 6);
    expect(judgeAgainst(problem, back, undefined).broken).toEqual([]);
  });

  it("leaves out what lies before the first day or beyond the last, with its reason", () => {
    const later = { ...problem, firstDay: addDays(problem.firstDay, 30) };
    const back = planFromRows(later, rows, [], plan.cost);
    expect(back.placed).toEqual([]);
    expect(back.unplaced).toHaveLength(4);
  });

  it("names the visits that should have ended before today, and those on hold that began before it", () => {
    const none = new Set<string>();
    expect(leftBehind(rows, MONDAY, none)).toEqual(none);
    expect(leftBehind(rows, addDays(MONDAY, 30), none).size).toBe(4);
    const long = [{ ...rows[0]!, endOn: addDays(rows[0]!.startOn!, 2) }];
    const nextDay = addDays(rows[0]!.startOn!, 1);
    expect(leftBehind(long, nextDay, none)).toEqual(none);
    expect(leftBehind(long, nextDay, new Set(["H1/near/install"]))).toEqual(new Set(["H1/near/install"]));
  });

  it("judges with its own pins and the frozen days of the plan in force", () => {
    const pinned = rows.map((r) => ({ ...r, isPinned: r.visitId === "H1/near/install" }));
    const against = problemAgainst(problem, pinned, rows, addDays(MONDAY, 2));
    expect(against.frozenUntilDay).toBe(2);
    expect(against.pinned).toEqual(placedFromRows(problem, [pinned[0]!]));
    expect(problemAgainst(problem, rows, [], addDays(MONDAY, 2)).frozenUntilDay).toBe(0);
    const moved = rows.map((r) =>
      r.visitId === "H1/near/install"
        ? { ...r, startOn: addDays(r.startOn!, 3), endOn: addDays(r.endOn!, 3) }
        : r,
    );
    const broken = judgeAgainst(against, planFromRows(against, moved, [], plan.cost), undefined).broken;
    expect(broken.map((b) => b.rule)).toContain("kept");
    const onHold = new Set(["H1/near/install"]);
    const kept = (of: readonly PlanRow[]) => {
      const judged = problemAgainst(problem, of, rows, addDays(MONDAY, 1), onHold);
      return judgeAgainst(judged, planFromRows(judged, of, [], plan.cost), undefined).broken.filter(
        (b) => b.rule === "kept",
      );
    };
    // On hold it may have left the frozen day, or stand there still; it may not go elsewhere in it.
    expect(kept(moved)).toEqual([]);
    expect(kept(rows)).toEqual([]);
    const later = rows.map((r) =>
      r.visitId === "H1/near/install" ? { ...r, startMin: r.startMin! + 5 } : r,
    );
    expect(kept(later).map((b) => b.visitId)).toEqual(["H1/near/install"]);
  });
});

describe("a plan whose data changed since", () => {
  const problem = hopProblem();
  const plan = solved(problem);
  const longer = {
    ...problem,
    visits: problem.visits.map((v, i) =>
      i === 0 ? { ...v, segments: v.segments.map((s) => ({ ...s, durationMin: s.durationMin + 10 })) } : v,
    ),
  };

  it("is not kept from being put in force by what the plan in force breaks as well", () => {
    const alone = judgeAgainst(longer, plan, undefined);
    expect(alone.broken.map((b) => b.rule)).toContain("work");
    expect(alone.brokenBefore).toEqual([]);
    const beside = judgeAgainst(longer, plan, plan);
    expect(beside.broken).toEqual([]);
    expect(beside.brokenBefore).toEqual(alone.broken);
    // The same fault of a visit that stands elsewhere is the draft's own.
    const later = plan.placed.map((x) => (x.visit === 0 ? { ...x, startMin: 1200, endMin: 1260 } : x));
    expect(judgeAgainst(longer, { ...plan, placed: later }, plan).broken.length).toBeGreaterThan(0);
  });

  it("takes the times of today's data with one press, every visit on its crew and day", () => {
    const effect = effectOfTimes(longer, plan);
    if (!effect.ok) throw new Error(JSON.stringify(effect.problems));
    expect(effect.value.broken).toEqual([]);
    expect(effect.value.brokenBefore).toEqual([]);
    expect(effect.value.shifts.map((s) => s.visitId)).toContain("H1/near/install");
    for (const { from, to } of effect.value.shifts)
      expect([to?.crewCode, to?.startOn]).toEqual([from?.crewCode, from?.startOn]);
    const same = effectOfTimes(problem, plan);
    expect(same.ok && same.value.shifts).toEqual([]);
  });
});

describe("a scarce item", () => {
  const named = (days: readonly number[], come: readonly number[], part: { unit?: Unit } = {}) => {
    const problem = tiny({
      scarce: [{ id: "x", code: "CBL", byDay: Float64Array.from(come), ...part }],
      visits: days.map((_, i) => visit({ label: `V${i}`, takes: [{ item: 0, quantity: 4 }] })),
    });
    const placed = days.map((day, visit) => ({
      ...{ visit, crew: 0, startDay: day, endDay: day },
      ...{ startMin: 510, endMin: 630 },
    }));
    const plan = { ...solved(problem), placed, unplaced: [] };
    return judgeAgainst({ ...problem, firstDay: MONDAY }, plan, undefined).broken.filter(
      (b) => b.rule === "kit",
    );
  };

  it("is said once, from the first day to the last and by the most that is short", () => {
    expect(named([0, 1, 2, 3], [4, 4, 5, 13, 13]).map((b) => b.message)).toEqual([
      "kits begun from 2026-03-03 to 2026-03-05 take up to 7 of CBL more than has come",
    ]);
  });

  it("of what is measured in metres is said in metres, to a hundredth", () => {
    const metres = { unit: "m" as const };
    expect(named([0, 1, 2, 3], [4, 4, 5, 13, 13], metres).map((b) => b.message)).toEqual([
      "kits begun from 2026-03-03 to 2026-03-05 take up to 7 m of CBL more than has come",
    ]);
    expect(named([0, 1], [4, 5.1 + 0.2, 9, 9, 9], metres).map((b) => b.message)).toEqual([
      "kits begun by 2026-03-03 take 8 m of CBL, of which 5.3 m have come",
    ]);
  });

  it("of what is counted is said with its unit, in any language", () => {
    const pieces = named([0, 1], [4, 5, 5, 5, 5], { unit: "piece" }).map((b) => b.message);
    expect(pieces).toEqual(["kits begun by 2026-03-03 take 8 pieces of CBL, of which 5 have come"]);
    expect(readBack(pieces[0]!, REASONS)).toMatchObject({
      text: "kits begun by {{day}} take {{n}} {{unit}} of {{item}}, of which {{m}} have come",
      values: { unit: { text: "pieces" } },
    });
    const one = named([0, 1, 2], [4, 7, 11, 99, 99], { unit: "piece" }).map((b) => b.message);
    expect(one).toEqual([
      "kits begun from 2026-03-03 to 2026-03-04 take up to 1 piece of CBL more than has come",
    ]);
  });

  it("of one day is said with both amounts", () => {
    expect(named([0, 1], [4, 5, 5, 5, 5]).map((b) => b.message)).toEqual([
      "kits begun by 2026-03-03 take 8 of CBL, of which 5 have come",
    ]);
  });
});

describe("a move by hand", () => {
  const problem = hopProblem();
  const plan = solved(problem);
  const alignedDay = plan.placed.find((p) => p.visit === 2)!.startDay;

  it("takes an alignment with its other end, to the same hours, and breaks nothing", () => {
    const on = addDays(problem.firstDay, alignedDay + 1);
    const effect = effectOfMove(problem, plan, { visitId: "H1/near/alignment", crewCode: "C1", on });
    expect(effect.ok && effect.value.broken).toEqual([]);
    if (!effect.ok) return;
    const [near, far] = effect.value.shifts;
    expect([near?.visitId, far?.visitId]).toEqual(["H1/near/alignment", "H1/far/alignment"]);
    expect(near?.to).toMatchObject({ crewCode: "C1", startOn: on });
    expect(far?.to).toMatchObject({ crewCode: "C2", startOn: on, startMin: near?.to?.startMin });
    expect(effect.value.after.total - effect.value.before.total).toBeGreaterThan(0);
  });

  it("keeps both crews when several are moved that each keep their own, though another would come cheaper", () => {
    // The third crew lives beside the far end, but the work stands with the second.
    const three: ScheduleProblem = {
      ...problem,
      crews: [...problem.crews, crew({ id: "c3", code: "C3", depotPlace: 2 })],
    };
    const far = plan.placed.find((p) => p.visit === 3)!;
    const rows = rowsOf(three, plan);
    const crewsAfter = (group: { byDays: number; crewCode?: string }) => {
      const visitIds = ["H1/near/alignment", "H1/far/alignment"];
      const moves = movesOfGroup(rows, { visitIds, ...group });
      if (!moves.ok) throw new Error("refused");
      const effect = effectOfMoves(three, plan, moves.value);
      if (!effect.ok) throw new Error("refused");
      return Object.fromEntries(effect.value.shifts.map((s) => [s.visitId, s.to?.crewCode]));
    };
    const [nearCrew, farCrew] = [rows[2]!.crewCode, three.crews[far.crew]!.code];
    expect(crewsAfter({ byDays: 1 })).toEqual({ "H1/near/alignment": nearCrew, "H1/far/alignment": farCrew });
    expect(crewsAfter({ byDays: 1, crewCode: nearCrew! })).toEqual({
      "H1/near/alignment": nearCrew,
      "H1/far/alignment": "C3",
    });
  });

  it("may move what the same hand pinned before", () => {
    const pinned = { ...problem, pinned: plan.placed.filter((p) => p.visit === 2 || p.visit === 3) };
    const on = addDays(problem.firstDay, alignedDay + 1);
    const effect = effectOfMove(pinned, plan, { visitId: "H1/near/alignment", crewCode: "C1", on });
    expect(effect.ok && effect.value.broken).toEqual([]);
  });

  it("says which hard rule breaks when an install goes behind its alignment", () => {
    const move = {
      visitId: "H1/near/install",
      crewCode: "C1",
      on: addDays(problem.firstDay, alignedDay + 1),
    };
    const effect = effectOfMove(problem, plan, move);
    expect(effect.ok && effect.value.broken.map((b) => b.rule)).toContain("order");
    if (effect.ok) for (const b of effect.value.broken) expect(b.message).not.toMatch(/\bday \d/);
  });

  it("refuses names that the plan does not know, with the field", () => {
    const move = { visitId: "H1/near/install", crewCode: "C1", on: MONDAY };
    const paths = [
      { ...move, visitId: "H9/near/install" },
      { ...move, crewCode: "C9" },
      { ...move, on: addDays(MONDAY, 99) },
    ].map((m) => {
      const answer = effectOfMove(problem, plan, m);
      return answer.ok ? "accepted" : answer.problems[0]!.path;
    });
    expect(paths).toEqual(["visitId", "crewCode", "on"]);
  });

  it("lists other places, none of them the one it has, cheapest first", () => {
    // Without the alignment, which would hold both installs where they are.
    const installs: ScheduleProblem = { ...problem, visits: problem.visits.slice(0, 2) };
    const theirPlan = solved(installs);
    const why = otherPlaces(installs, theirPlan, "H1/far/install", 3);
    if (!why.ok) throw new Error("refused");
    const now = rowsOf(installs, theirPlan)[1]!;
    expect(why.value.places.length).toBeGreaterThan(0);
    for (const p of why.value.places) {
      expect([p.visit.crewCode, p.visit.startOn]).not.toEqual([now.crewCode, now.startOn]);
    }
    // Its own pin does not hold the hand that asks.
    const pinned = otherPlaces({ ...installs, pinned: theirPlan.placed }, theirPlan, "H1/far/install", 3);
    expect(pinned.ok && pinned.value.places.length).toBe(3);
    const totals = why.value.places.map((p) => p.difference.total);
    expect(totals).toEqual([...totals].sort((a, b) => a - b));
  });
});
