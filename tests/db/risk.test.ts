/** How sure the demonstration's plan is, from its rows to what is stored and shown. */
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { makePlan, refreshEstimates } from "@/app/_server/planning";
import { riskJob } from "@/app/_server/riskJob";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { storeReadings, withdrawRevisit } from "@/db/queries/acceptance";
import { loadCrews, saveMember } from "@/db/queries/crews";
import { loadHop } from "@/db/queries/design";
import { addLogEntry } from "@/db/queries/log";
import { addPlanVisits, deleteDraft, loadPlan, loadPlanVisits, planInForce } from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { loadProgrammeState } from "@/db/queries/progress";
import { loadPromiseCauses } from "@/db/queries/promiseCauses";
import { dataSinceRun, loadDrivers, loadRisk, type StoredRisk, saveRisk } from "@/db/queries/risk";
import { loadHopRows } from "@/db/queries/siteViews";
import { readingsAsked } from "@/lib/acceptance";
import { isStillSo, promiseChanges, riskInputOf, surenessOf, visitIdOf } from "@/lib/programme";
import { simulatePlan } from "@/lib/risk";
import { addDays, type CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;
const LATER = "9999-12-31" as CalendarDate;

let db: Db;
let stored: StoredRisk;
beforeAll(() => {
  vi.stubEnv("BOTHENDS_NOW", `${TODAY}T08:00:00Z`);
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
  stored = loadRisk(db, planInForce(db)!)!;
}, 300_000);
afterAll(() => {
  vi.unstubAllEnvs();
});

describe("the risk of the demonstration's plan", () => {
  it("keeps of every stand-in why its crew suffices no longer, as the crews still are", () => {
    const crews = new Map(loadCrews(db).map((c) => [c.code, c]));
    const rows = new Map(loadPlanVisits(db, planInForce(db)!.id).map((v) => [v.visitId, v]));
    const { standIns } = stored.risk;
    expect(standIns.length).toBeGreaterThan(0);
    for (const s of standIns) {
      expect(s.limit?.certificate ?? s.limit?.short, s.visitId).toBeDefined();
      expect(isStillSo(s.limit!, crews.get(s.crewCode)!, rows.get(s.visitId)!, stored.risk)).toBe(true);
    }
  });

  it("is stored with the plan, from its day on, over the past years that all places have", () => {
    const { risk, isOutdated } = stored;
    expect(isOutdated).toBe(false);
    expect(risk).toMatchObject({ asOf: TODAY, runs: 2000, weathers: 7 * risk.years.length });
    expect(risk.years.length).toBeGreaterThanOrEqual(5);
  });

  it("covers every hop whose visits all have a place, and no other", () => {
    const byHop = new Map<string, boolean>();
    for (const v of loadPlanVisits(db, planInForce(db)!.id))
      byHop.set(v.hopCode, (byHop.get(v.hopCode) ?? true) && v.crewCode !== null);
    const whole = [...byHop].filter(([, isPlaced]) => isPlaced).map(([code]) => code);
    expect(stored.risk.hops.map((h) => h.hopCode).sort()).toEqual(whole.sort());
  });

  it("is never surer than the plan: P50 on the planned day or later, P80 not before P50", () => {
    for (const f of [stored.risk.programme!, ...stored.risk.hops]) {
      expect((f.p50On ?? LATER) >= f.plannedOn).toBe(true);
      expect((f.p80On ?? LATER) >= (f.p50On ?? LATER)).toBe(true);
      expect(f.unfinishedShare).toBeLessThan(0.05);
    }
  });

  it("names critical visits with the crew that the plan gives them", () => {
    const crewOf = new Map(loadPlanVisits(db, planInForce(db)!.id).map((v) => [v.visitId, v.crewCode]));
    expect(stored.risk.visits.length).toBeGreaterThan(4);
    for (const v of stored.risk.visits) expect(v.crewCode).toBe(crewOf.get(v.visitId));
    // In every run something ends last, so some visit and its crew are critical in most.
    expect(stored.risk.crews[0]!.share).toBeGreaterThan(0.5);
  });

  it("ends no hop later than planned when nothing surprises: hours as planned, weather as the plan reckons with it", () => {
    const rows = loadPlanVisits(db, planInForce(db)!.id);
    const input = loadProgrammeInput(db, { today: TODAY, dayCount: 1, frozenDays: 0 });
    const { input: risky } = riskInputOf(input, rows, { worked: refreshEstimates(db, input) });
    const { problem } = risky;
    const calm = simulatePlan(
      {
        ...risky,
        past: undefined,
        ranges: problem.visits.map(() => ({ p10: 1, p50: 1, p80: 1, p90: 1 })),
        problem: {
          ...problem,
          windows: problem.windows.map((w) => ({ ...w, riskMinPerH: w.riskMinPerH.map(() => 0) })),
        },
      },
      { seed: "calm", runs: 1 },
    );
    expect(calm.hops.length).toBe(stored.risk.hops.length);
    for (const h of calm.hops)
      expect(h.finish.p50Min, problem.hops[h.hop]!.code).toBeLessThanOrEqual(h.finish.plannedMin);
  });

  it("names the item whenever the chain begins with a kit", () => {
    const { starts, items } = stored.risk;
    const kit = starts.find((s) => s.of === "kit")?.share ?? 0;
    expect(kit).toBeGreaterThan(0);
    expect(items.reduce((sum, i) => sum + i.share, 0)).toBeCloseTo(kit, 9);
  });

  it("comes out the same when it is worked out again, and tells how far it is", () => {
    const told: unknown[] = [];
    const made = riskJob({}, { db, report: (p) => told.push(p), shouldStop: () => false });
    expect(made).toEqual({ planId: planInForce(db)!.id, runs: 2000 });
    expect(told.at(-1)).toEqual({ done: 2000, of: 2000 });
    expect(loadRisk(db, planInForce(db)!)!.risk).toEqual(stored.risk);
  });

  it("is not stored when it was stopped before it began", () => {
    saveRisk(db, planInForce(db)!, { ...stored.risk, seed: "before" }, 1);
    expect(riskJob({}, { db, report: () => {}, shouldStop: () => true }).runs).toBe(0);
    expect(loadRisk(db, planInForce(db)!)).toMatchObject({ risk: { seed: "before" }, madeAt: 1 });
  });

  it("shows on the Programme page and in the list of hops the same dates", () => {
    saveRisk(db, planInForce(db)!, stored.risk, 2);
    const listed = new Map(loadHopRows(db, TODAY).map((h) => [h.code, h.p80On]));
    const state = loadProgrammeState(db, TODAY);
    expect(state.risk?.madeAt).toBe(2);
    for (const h of stored.risk.hops) {
      const shown = state.hops.find((row) => row.hopCode === h.hopCode)!;
      expect([shown.p50On, shown.p80On]).toEqual([h.p50On, h.p80On]);
      expect(listed.get(h.hopCode)).toBe(h.p80On);
    }
    const drivers = loadDrivers(db, planInForce(db)!, stored.risk);
    expect(drivers.visits.map((v) => v.visitId)).toEqual(stored.risk.visits.map((v) => v.visitId));
    expect(drivers.crews.every((c) => c.name.length > 0)).toBe(true);
    expect(drivers.items.every((i) => i.name.length > 0)).toBe(true);
  });

  it("names the visit that a crew's leave leaves undone as the cause of the hops behind it", () => {
    const plan = planInForce(db)!;
    const joint = loadPlanVisits(db, plan.id).find(
      (v) => v.kind === "alignment" && v.crewCode !== null && v.startOn! > TODAY,
    )!;
    const before = loadCrews(db).find((c) => c.code === joint.crewCode)!;
    const fromOn = joint.startOn!;
    const leave = [{ fromOn, toOn: addDays(fromOn, 59), reason: "holiday" }];
    for (const m of before.members) saveMember(db, before.code, { ...m, leave });
    riskJob({}, { db, report: () => {}, shouldStop: () => false });
    const { risk } = loadRisk(db, plan)!;
    const slip = risk.slips!.find((s) => s.visitId === joint.visitId)!;
    expect(slip).toMatchObject({ crewCode: before.code, gap: { fromOn, isLeave: true } });
    expect(slip.share).toBeGreaterThan(0.9);
    expect(slip.hops.length).toBeGreaterThan(1);
    expect(loadDrivers(db, plan, risk).slips.map((s) => s.visitId)).toContain(joint.visitId);
    const { hops } = loadProgrammeState(db, TODAY);
    const behind = hops.filter((h) => h.state === "at risk" && slip.hops.some((s) => s.of === h.hopCode));
    expect(behind.length).toBeGreaterThan(0);
    const causes = loadPromiseCauses(db, plan, behind, TODAY);
    for (const h of behind) expect(causes.get(h.hopCode)!.map((c) => c.kind)).toContain("crew away");
    for (const m of before.members) saveMember(db, before.code, m);
    saveRisk(db, plan, stored.risk, stored.madeAt, stored.seen);
  }, 60_000);

  it("is out of date once the plan was changed by hand", () => {
    const plan = planInForce(db)!;
    expect(loadRisk(db, { ...plan, revision: plan.revision + 1 })!.isOutdated).toBe(true);
  });

  it("is out of date once data changed, also at the run's own instant, until it is run again", () => {
    const plan = planInForce(db)!;
    const since = () => dataSinceRun(db, loadRisk(db, plan)!).map((c) => c.kind);
    saveRisk(db, plan, stored.risk, stored.madeAt, stored.seen);
    expect(since()).toEqual([]);
    const gate = { at: stored.madeAt, userName: "Rita", action: "change gate", subject: "x" } as const;
    addLogEntry(db, { ...gate, action: "sign in" as never });
    expect(since()).toEqual([]);
    addLogEntry(db, gate);
    expect(since()).toEqual(["gates"]);
    riskJob({}, { db, report: () => {}, shouldStop: () => false });
    expect(since()).toEqual([]);
  });

  it("has no finish of a hop of which only withdrawn revisits are left", () => {
    const plan = planInForce(db)!;
    const rows = loadPlanVisits(db, plan.id);
    const by = { name: "Rita", at: stored.madeAt };
    const planned = new Set(rows.map((v) => v.hopCode));
    const over = loadHopRows(db, TODAY).find((h) => h.doneOn !== null && !planned.has(h.code))!;
    const hop = loadHop(db, over.code)!;
    const level = readingsAsked(hop).find((a) => a.targetLevelDbm !== undefined)!;
    const readings = [{ askedId: level.id, value: level.targetLevelDbm! - 6 }];
    const taken = { hopCode: hop.code, readings, takenOn: TODAY, note: "" };
    expect(storeReadings(db, taken, { ...by, today: TODAY }).ok).toBe(true);
    const visitId = visitIdOf(hop.code, "near", "revisit");
    const like = rows.find((v) => v.crewCode !== null)!;
    addPlanVisits(db, plan.id, [{ ...like, visitId, hopCode: hop.code, kind: "revisit" }]);
    const finish = { ...stored.risk.hops[0]!, hopCode: hop.code };
    saveRisk(db, plan, { ...stored.risk, hops: [...stored.risk.hops, finish] }, 3);
    const isRun = () => loadRisk(db, plan)!.risk.hops.some((h) => h.hopCode === hop.code);
    expect(isRun()).toBe(true);
    expect(withdrawRevisit(db, { visitId, why: "the meter was wrong" }, by).ok).toBe(true);
    expect(isRun()).toBe(false);
    db.$client.prepare("DELETE FROM plan_visit WHERE visit_id = ?").run(visitId);
    saveRisk(db, plan, stored.risk, stored.madeAt, stored.seen);
  });
});

describe("the risk of a draft", () => {
  /** A draft that comes from the search's first plan. */
  function draft(seed: string): number {
    const made = makePlan(
      db,
      {
        today: TODAY,
        dayCount: 84,
        frozenDays: 0,
        seed,
        seconds: Number.POSITIVE_INFINITY,
        maxIterations: 0,
        state: "draft",
        createdBy: "Test",
        createdAt: 0,
      },
      { report: () => {}, shouldStop: () => false, nowMillis: () => 0 },
    );
    if (!made.ok) throw new Error(made.problems.map((p) => p.message).join());
    return made.value.planId;
  }

  it("is stored with the draft and leaves the one in force as it is, so that both can be compared", () => {
    const planId = draft("compare");
    const before = loadRisk(db, planInForce(db)!);
    expect(riskJob({ planId }, { db, report: () => {}, shouldStop: () => false })).toEqual({
      planId,
      runs: 2000,
    });
    const { risk } = loadRisk(db, loadPlan(db, planId)!)!;
    expect(loadRisk(db, planInForce(db)!)).toEqual(before);
    const [was, is] = [surenessOf(before!.risk), surenessOf(risk)];
    expect(is.promisedHops).toBeGreaterThan(0);
    expect(is.unsureHops).toBe(risk.hops.filter((h) => (h.promiseMetShare ?? 1) < 0.8).length);
    // A plan that was searched for keeps no fewer promises than the one that a search begins with.
    expect(was.unsureHops).toBeLessThanOrEqual(is.unsureHops);
    for (const { before: then, after: now } of promiseChanges(before!.risk, risk)) {
      if (then === undefined || now === undefined) expect(then ?? now).toBeLessThan(0.8);
      else expect(Math.abs(now - then)).toBeGreaterThan(0.0499);
    }
  });

  it("is dropped when the draft is discarded while it is worked out, and nothing is run for one that is gone", () => {
    const planId = draft("discarded");
    const report = () => void deleteDraft(db, planId, loadPlan(db, planId)?.revision ?? 0);
    expect(riskJob({ planId }, { db, report, shouldStop: () => false }).planId).toBe(planId);
    expect(loadPlan(db, planId)).toBeUndefined();
    expect(riskJob({ planId }, { db, report: () => {}, shouldStop: () => false })).toEqual({ runs: 0 });
  });
});
