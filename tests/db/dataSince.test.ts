/** What a plan does not know: gates, crews, reports and forecasts that came after it, and holds on the board. */

import { beforeAll, describe, expect, it } from "vitest";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase, writing } from "@/db/open";
import { loadCrews, saveMember } from "@/db/queries/crews";
import { dataSince, knownAt, loadDataSince, seenRows } from "@/db/queries/dataSince";
import { saveGate } from "@/db/queries/design";
import { loadVisitEstimate } from "@/db/queries/estimates";
import { addLogEntry, type LogAction } from "@/db/queries/log";
import { copyAsDraft, loadPlan, loadPlanVisits, type PlanHead, planInForce } from "@/db/queries/plans";
import { loadBoard, loadVisitView, planCounts, shutGatesOf } from "@/db/queries/planViews";
import { loadProgrammeInput } from "@/db/queries/programme";
import { loadProgrammeState } from "@/db/queries/progress";
import { loadPromiseCauses } from "@/db/queries/promiseCauses";
import { addReport, reportsSince } from "@/db/queries/reports";
import { loadRisk, saveRisk } from "@/db/queries/risk";
import { loadHopRows } from "@/db/queries/siteViews";
import { crewLimit } from "@/lib/programme";
import { addDays, type CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;
const HOUR = 3_600_000;

let db: Db;
let plan: PlanHead;

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
  plan = planInForce(db)!;
}, 300_000);

const entry = (action: LogAction, hours: number, userName = "Rita") =>
  addLogEntry(db, { at: plan.createdAt + hours * HOUR, userName, action, subject: "x" });

const holdOf = (visitId: string) => ({
  key: `${visitId} same time`,
  visitId,
  hopCode: visitId.split("/")[0]!,
  crewCode: "C1",
  workedOn: TODAY,
  outcome: "hold" as const,
  workedMin: 60,
  holdReason: "gate locked",
  note: "",
  reportedBy: "Lead",
  uses: [],
});

const report = (visitId: string, outcome: "done" | "hold", hours: number) =>
  addReport(db, {
    key: `${visitId} ${hours}`,
    visitId,
    hopCode: visitId.split("/")[0]!,
    crewCode: "C1",
    workedOn: TODAY,
    outcome,
    workedMin: 60,
    holdReason: outcome === "hold" ? "gate locked" : undefined,
    note: "",
    reportedBy: "Lead",
    reportedAt: plan.createdAt + hours * HOUR,
    uses: [],
  });

describe("data that came after a plan", () => {
  it("are none right after it was made", () => {
    expect(loadDataSince(db, plan)).toEqual([]);
  });

  it("are told by kind, with who was last; what came before and what no plan reads is left out", () => {
    entry("change gate", -1);
    entry("change gate", 1);
    entry("change gate", 3, "Omar");
    entry("add leave", 2);
    entry("kit issued", 4);
    expect(loadDataSince(db, plan)).toEqual([
      { kind: "gates", count: 2, lastAt: plan.createdAt + 3 * HOUR, by: "Omar" },
      { kind: "crews", count: 1, lastAt: plan.createdAt + 2 * HOUR, by: "Rita" },
    ]);
  });

  it("count for a copy from the search that its plan came from", () => {
    const copy = writing(db, () =>
      copyAsDraft(db, plan.id, {
        createdBy: "Rita",
        createdAt: plan.createdAt + 5 * HOUR,
        basis: { ...plan.basis, copyOf: plan.id },
      }),
    )!;
    const draft = loadPlan(db, copy)!;
    expect(knownAt(db, draft)).toEqual(knownAt(db, plan));
    expect(knownAt(db, plan).at).toBe(plan.createdAt);
    expect(loadDataSince(db, draft).map((c) => c.kind)).toContain("gates");
    // What it was copied from is gone: its own day is the best that is known.
    expect(knownAt(db, { ...draft, basis: { copyOf: 9999 } })).toEqual({ at: draft.createdAt });
  });
});

describe("a report of a hold", () => {
  it("tells the next plan which visits the frozen days do not keep", () => {
    const { visitId } = loadPlanVisits(db, plan.id)
      .filter((v) => v.kind === "install" && v.startOn !== null)
      .at(-1)!;
    const onHold = () => loadProgrammeInput(db, { today: TODAY, dayCount: 1, frozenDays: 2 }).onHold;
    expect(onHold()?.has(visitId)).toBe(false);
    report(visitId, "hold", 30);
    expect(onHold()?.has(visitId)).toBe(true);
    report(visitId, "done", 31);
    expect(onHold()?.has(visitId)).toBe(false);
  });
});

describe("with a clock that stands", () => {
  it("what is written after the plan is newer than it, and what was there before is not", () => {
    const other = openDatabase(":memory:");
    migrateDatabase(other);
    loadDemo(other, TODAY);
    const made = planInForce(other)!;
    const at = made.createdAt;
    const known = knownAt(other, made);
    expect(known.rows?.reportId).toBeGreaterThan(0);
    addLogEntry(other, { at, userName: "Rita", action: "change gate", subject: "x" });
    const visit = loadPlanVisits(other, made.id).find((v) => v.crewCode !== null && v.kind === "install")!;
    addReport(other, { ...holdOf(visit.visitId), reportedAt: at });
    expect(loadDataSince(other, made).map((c) => [c.kind, c.count])).toEqual([
      ["gates", 1],
      ["reports", 1],
    ]);
    // Said twice of one visit, it is still one visit that wants another place.
    addReport(other, { ...holdOf(visit.visitId), key: "again", reportedAt: at });
    expect(loadDataSince(other, made).find((c) => c.kind === "reports")?.count).toBe(1);
    expect(reportsSince(other, known).get(visit.visitId)).toMatchObject({ outcome: "hold" });
    // A plan made now has read both.
    const next: PlanHead = { ...made, basis: { ...made.basis, seen: seenRows(other) } };
    expect(loadDataSince(other, next)).toEqual([]);
    expect(reportsSince(other, knownAt(other, next)).get(visit.visitId)).toBeUndefined();
    // One that did not keep what it saw goes by the time alone.
    expect(loadDataSince(other, { ...made, basis: {} })).toEqual([]);
    other.$client.close();
  }, 120_000);
});

describe("what changes the shelves", () => {
  it.each(["kit returned", "order received", "receipt taken back", "ledger row taken back"] as const)(
    "is told: %s",
    (action) => {
      const later = 500 + action.length;
      const known = { at: plan.createdAt + later * HOUR };
      expect(dataSince(db, known, [])).toEqual([]);
      entry(action, later + 1, "Lena");
      expect(dataSince(db, known, [])).toMatchObject([{ kind: "orders", by: "Lena" }]);
    },
  );
});

describe("what crews report", () => {
  it("stands on the board and, a hold, among what holds its hop", () => {
    const placed = loadPlanVisits(db, plan.id).filter((v) => v.crewCode !== null && v.kind === "install");
    const [held, done, before] = [placed[0]!, placed[1]!, placed[2]!];
    report(held.visitId, "hold", 6);
    report(done.visitId, "done", 6);
    report(before.visitId, "hold", -6);
    const board = new Map(loadBoard(db, plan, TODAY).visits.map((v) => [v.visitId, v]));
    expect(board.get(held.visitId)?.report).toMatchObject({ outcome: "hold", holdReason: "gate locked" });
    expect(board.get(done.visitId)?.report).toMatchObject({ outcome: "done" });
    expect(board.get(before.visitId)?.report).toBeUndefined();
    expect(loadProgrammeState(db, TODAY).hops.find((h) => h.hopCode === held.hopCode)).toMatchObject({
      state: "held",
      heldBy: "put on hold by Lead: gate locked",
    });
    expect(loadDataSince(db, plan).find((c) => c.kind === "reports")).toMatchObject({ count: 1, by: "Lead" });
    // Moves by hand made since know nothing of it: a copy says it as well.
    const copy = writing(db, () =>
      copyAsDraft(db, plan.id, {
        createdBy: "Rita",
        createdAt: plan.createdAt + 8 * HOUR,
        basis: { ...plan.basis, copyOf: plan.id },
      }),
    )!;
    const copied = loadBoard(db, loadPlan(db, copy)!, TODAY).visits.find((v) => v.visitId === held.visitId);
    expect(copied?.report).toMatchObject({ outcome: "hold", holdReason: "gate locked" });
  });
});

describe("causes of promises at risk", () => {
  it("name whose certificate ends where the simulation needs a stand-in, and leave hops on promise alone", () => {
    const { hops } = loadProgrammeState(db, TODAY);
    const toExplain = new Set(
      hops.filter((h) => h.state === "late" || h.state === "at risk").map((h) => h.hopCode),
    );
    // The crew of one of them loses its rescuers' certificates soon after the visit, which slips past that day.
    const visit = loadPlanVisits(db, plan.id).find(
      (v) => v.kind === "install" && v.endOn !== null && v.crewCode !== null && toExplain.has(v.hopCode),
    )!;
    const endsOn = addDays(visit.endOn!, 3);
    const crew = loadCrews(db).find((c) => c.code === visit.crewCode)!;
    for (const member of crew.members)
      saveMember(db, crew.code, {
        ...member,
        skills: member.skills.map((s) => (s.skill === "rescue" ? { ...s, validUntil: endsOn } : s)),
      });
    const { risk } = loadRisk(db, plan)!;
    const limitOf = (by: typeof crew) => crewLimit(by, loadVisitEstimate(db, visit)!.needs, visit, risk);
    const limit = limitOf(loadCrews(db).find((c) => c.code === crew.code)!);
    const standIns = [{ visitId: visit.visitId, crewCode: crew.code, share: 0.4, limit }];
    saveRisk(db, plan, { ...risk, standIns }, plan.createdAt);

    const causes = loadPromiseCauses(db, plan, hops, TODAY);
    const certificates = [...causes.values()].flat().filter((c) => c.kind === "certificate");
    expect(certificates).toMatchObject([
      { share: 0.4, visit: { visitId: visit.visitId }, certificate: { skill: "rescue", endsOn } },
    ]);
    // With the rescuers' certificates gone, the share of those runs is given to no other that ends later.
    for (const member of crew.members)
      saveMember(db, crew.code, { ...member, skills: member.skills.filter((s) => s.skill !== "rescue") });
    const since = [...loadPromiseCauses(db, plan, hops, TODAY).values()].flat();
    expect(since.filter((c) => c.kind === "certificate")).toEqual([]);
    expect(since.find((c) => c.kind === "people changed")).toMatchObject({
      visit: { visitId: visit.visitId },
    });
    for (const h of hops) {
      if (h.state === "on promise" || h.state === "held") expect(causes.get(h.hopCode) ?? []).toEqual([]);
      if (h.state === "late") expect(causes.get(h.hopCode)?.length).toBeGreaterThan(0);
    }
  });

  it("tell a gate that was moved past the planned visit, with one state on every page", () => {
    const { hops } = loadProgrammeState(db, TODAY);
    const onPromise = new Set(hops.filter((h) => h.state === "on promise").map((h) => h.hopCode));
    const visit = loadPlanVisits(db, plan.id).find(
      (v) => v.kind === "install" && v.startOn !== null && v.startOn > TODAY && onPromise.has(v.hopCode),
    )!;
    const { hopCode, startOn, side } = visit;
    const { promisedOn, plannedOn } = hops.find((h) => h.hopCode === hopCode)!;
    const stateWith = (dueOn: CalendarDate | undefined) => {
      const state = dueOn ? ("dated" as const) : ("open" as const);
      saveGate(db, { hopId: hopCode, side, kind: "supply", owner: "grid company", state, dueOn });
      const now = loadProgrammeState(db, TODAY).hops.find((h) => h.hopCode === hopCode)!;
      const row = loadHopRows(db, TODAY, [hopCode])[0]!;
      expect([row.state, row.daysLate]).toEqual([now.state, now.daysLate]);
      expect(row.openGates).toBe(dueOn ? 0 : 1);
      const onBoard = loadBoard(db, plan, TODAY).visits.find((v) => v.visitId === visit.visitId)!;
      const panel = loadVisitView(db, plan.id, visit.visitId, TODAY)!.finish!;
      expect([onBoard.isLate, panel.daysLate]).toEqual([now.state === "late", now.daysLate]);
      expect(onBoard.isBeforeGate).toBe(now.shutGates!.length > 0);
      expect(shutGatesOf(db, loadPlanVisits(db, plan.id)).get(hopCode) ?? []).toEqual(now.shutGates);
      const late = planCounts(db, plan.id, TODAY).lateHops;
      return { now, late, causes: loadPromiseCauses(db, plan, [now], TODAY).get(hopCode) ?? [] };
    };
    const { now: before, late } = stateWith(startOn!);
    expect(before.state).toBe("on promise");
    const moved = stateWith(addDays(startOn!, 1));
    expect(moved.now).toMatchObject({ state: "at risk", plannedOn });
    expect(moved.causes[0]).toMatchObject({
      kind: "shut gate",
      visits: [{ visitId: visit.visitId, startOn }],
    });
    const byGate = stateWith(addDays(promisedOn!, 14));
    expect(byGate.now).toMatchObject({ state: "late", daysLate: 14 });
    expect(byGate.late).toBe(late + 1);
    const open = stateWith(undefined);
    expect(open.now.state).toBe("at risk");
    expect(open.causes[0]).toMatchObject({ kind: "shut gate", gate: { state: "open" } });
  });
});
