/** A plan on its second day: what its crews have begun goes on, in a new plan and beside moves by hand. */
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { openPlan } from "@/app/_server/planEdits";
import { makePlan, refreshEstimates } from "@/app/_server/planning";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { loadPlan, loadPlanVisits, type PlannedVisit, planInForce } from "@/db/queries/plans";
import { loadBoard } from "@/db/queries/planViews";
import { loadProgrammeInput } from "@/db/queries/programme";
import { effectOfMove, otherPlaces, riskInputOf } from "@/lib/programme";
import { addDays, type CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

let db: Db;
let begun: PlannedVisit;
let today: CalendarDate;

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, "2026-03-16" as CalendarDate);
  begun = loadPlanVisits(db, planInForce(db)!.id)
    .filter((v) => v.crewCode !== null && v.startOn! < v.endOn!)
    .sort((a, b) => (a.startOn! < b.startOn! ? -1 : 1))[0]!;
  today = addDays(begun.startOn!, 1);
  vi.stubEnv("BOTHENDS_NOW", `${today}T06:00:00Z`);
}, 300_000);
afterAll(() => {
  vi.unstubAllEnvs();
});

const same = { crewCode: () => begun.crewCode, startOn: () => begun.startOn, startMin: () => begun.startMin };

describe("a visit that its crew began yesterday and ends today", () => {
  it("stands in the opened plan today, so that nothing is moved on top of it", () => {
    const open = openPlan(db, planInForce(db)!.id, today)!;
    const [x] = open.problem.underWay!.filter((u) => open.problem.visits[u.visit]!.id === begun.visitId);
    expect(open.problem.crews[x!.crew]!.code).toBe(begun.crewCode);
    expect([x!.startDay, x!.endDay]).toEqual([0, 0]);
    expect(Math.abs(x!.endMin - begun.endMin!)).toBeLessThanOrEqual(1);
    const other = open.rows.find((v) => v.kind === "install" && v.startOn! > today && v.crewCode !== null)!;
    const moved = effectOfMove(open.problem, open.plan, {
      visitId: other.visitId,
      crewCode: begun.crewCode!,
      on: today,
    });
    if (!moved.ok) throw new Error(JSON.stringify(moved.problems));
    const to = moved.value.shifts.find((s) => s.visitId === other.visitId)!.to;
    const isBehind = to !== undefined && to.startOn === today && to.startMin >= x!.endMin;
    expect(isBehind || moved.value.broken.length > 0 || to === undefined).toBe(true);
  });

  it("is not moved itself", () => {
    const open = openPlan(db, planInForce(db)!.id, today)!;
    const moved = effectOfMove(open.problem, open.plan, {
      visitId: begun.visitId,
      crewCode: begun.crewCode!,
      on: addDays(today, 3),
    });
    const places = otherPlaces(open.problem, open.plan, begun.visitId);
    for (const asked of [moved, places])
      expect(asked.ok ? [] : asked.problems.map((p) => [p.rule, p.remedy])).toEqual([
        ["not-in-plan", "It is done or under way: leave it where it is."],
      ]);
  });

  it("is run for its risk with what is left of it", () => {
    const loaded = loadProgrammeInput(db, { today, dayCount: 1, frozenDays: 0 });
    const input = { ...loaded, inForce: [], pinned: [] };
    const worked = refreshEstimates(db, input);
    const { problem } = riskInputOf(input, loadPlanVisits(db, planInForce(db)!.id), { worked }).input;
    const visit = problem.visits.find((v) => v.id === begun.visitId)!;
    const leftMin = visit.segments.reduce((sum, s) => sum + s.durationMin, 0);
    expect(leftMin).toBeGreaterThan(0);
    expect(leftMin).toBeLessThan(begun.durationMin / 2);
  });

  it("stays with its crew in a new plan, with the start that it had, and in the plan opened again", async () => {
    const made = await makePlan(
      db,
      {
        today,
        dayCount: 70,
        frozenDays: 3,
        seed: "second day",
        seconds: 60,
        maxIterations: 20,
        state: "draft",
        createdBy: "test",
        createdAt: 0,
      },
      { report: () => {}, shouldStop: () => false, nowMillis: () => 0 },
    );
    if (!made.ok) throw new Error(JSON.stringify(made.problems));
    const row = loadPlanVisits(db, made.value.planId).find((v) => v.visitId === begun.visitId)!;
    for (const [name, of] of Object.entries(same)) expect(row[name as keyof typeof same]).toBe(of());
    expect(row.endOn).toBe(begun.endOn);
    expect(Math.abs(row.endMin! - begun.endMin!)).toBeLessThanOrEqual(1);
    const shown = loadBoard(db, loadPlan(db, made.value.planId)!, today).visits.map((v) => v.visitId);
    expect(shown).toContain(begun.visitId);
    const open = openPlan(db, made.value.planId, today)!;
    const index = open.problem.visits.findIndex((v) => v.id === begun.visitId);
    expect(open.plan.placed.find((p) => p.visit === index)).toMatchObject({
      startDay: 0,
      endMin: row.endMin,
    });
    expect(open.plan.unplaced.filter((u) => u.visit === index)).toEqual([]);
  });
});
