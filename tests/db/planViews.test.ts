/** The board's rows, and plans under a planner's hands: drafts, moves, putting in force. */
import { and, eq, inArray } from "drizzle-orm";
import { beforeAll, describe, expect, it } from "vitest";
import {
  brokenRules,
  costsSideBySide,
  effectFor,
  type OpenPlan,
  openPlan,
  otherPlacesFor,
  publish,
  staleEdit,
} from "@/app/_server/planEdits";
import { acceptMoves } from "@/app/_server/planMoves";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase, writing } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { standingEdits } from "@/db/queries/planEdits";
import {
  copyAsDraft,
  loadKit,
  loadKits,
  loadPlan,
  loadPlanVisits,
  type PlannedVisit,
  pickedLineCounts,
  planInForce,
  setKitState,
} from "@/db/queries/plans";
import { loadBoard, loadPlanChoices, loadVisitView, planCounts } from "@/db/queries/planViews";
import { addReport, doneVisits } from "@/db/queries/reports";
import { unreportedVisits } from "@/db/queries/unreported";
import { loadVisitDesk } from "@/db/queries/visitDesk";
import { kit, plan, planVisit } from "@/db/schema";
import { english } from "@/lib/phrase";
import { effectOfMove, type NamedMove } from "@/lib/programme";
import type { Result } from "@/lib/result";
import { addDays, type CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;
const HAND = { userId: "p", by: "Planner", at: 1_773_646_200_000 };

let db: Db;
let inForceId: number;
let rows: PlannedVisit[];

const expectOk = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};
const open = (id: number): OpenPlan => openPlan(db, id, TODAY)!;

/** A visit and another place for it that breaks no rule. */
function legalMove(id: number, kind: PlannedVisit["kind"]): NamedMove {
  for (const v of rows.filter((r) => r.kind === kind && r.crewCode !== null).reverse()) {
    const why = otherPlacesFor(db, id, v.visitId, TODAY);
    const place = why.ok ? why.value.places[0] : undefined;
    if (place) return { visitId: v.visitId, crewCode: place.visit.crewCode, on: place.visit.startOn };
  }
  throw new Error("no visit of the demonstration has another place");
}

function accept(id: number, move: NamedMove) {
  const plan = open(id);
  const effect = expectOk(effectOfMove(plan.problem, plan.plan, move));
  return { effect, result: writing(db, () => acceptMoves(db, plan, [move.visitId], effect, HAND)) };
}

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
  inForceId = planInForce(db)!.id;
  rows = loadPlanVisits(db, inForceId);
}, 300_000);

describe("the board", () => {
  it("shows every visit, weather only inside the forecast, kits only where there is material", () => {
    const board = loadBoard(db, planInForce(db)!, TODAY);
    expect(board.visits).toHaveLength(rows.length);
    expect(board.crews.every((c) => c.days.length === board.plan.dayCount)).toBe(true);
    for (const v of board.visits) {
      if (v.weather) expect(v.startOn! < addDays(TODAY, 11), v.visitId).toBe(true);
      if (v.kind === "alignment") expect(v.kit, v.visitId).toBeUndefined();
      if (v.isLate) expect(v.promisedOn, v.visitId).toBeDefined();
    }
    expect(board.visits.some((v) => v.weather)).toBe(true);
    expect(board.visits.some((v) => v.kit?.state === "ready")).toBe(true);
    expect(board.dayHours[0]).not.toBeNull();
    expect(board.dayHours.at(-1)).toBeNull();
  });

  it("knows up to which day of a visit the forecast reaches", () => {
    const untilOf = (v: PlannedVisit) => loadVisitView(db, inForceId, v.visitId, TODAY)!.forecastUntil;
    const placed = rows.filter((v) => v.startOn !== null && v.startOn >= TODAY);
    const untils = placed.map((v) => [v, untilOf(v)] as const);
    for (const [v, until] of untils)
      if (until !== null) expect(v.startOn! <= until && until <= v.endOn!, v.visitId).toBe(true);
    const last = untils
      .flatMap(([, until]) => until ?? [])
      .sort()
      .at(-1)!;
    expect(untils.filter(([v]) => v.startOn! > addDays(last, 1)).every(([, until]) => until === null)).toBe(
      true,
    );
    // The end of one lies beyond the forecast: only its beginning is inside.
    const [over] = untils.filter(([, until]) => until === last).map(([v]) => v);
    const endOn = addDays(last, 3);
    db.update(planVisit).set({ endOn }).where(eq(planVisit.visitId, over!.visitId)).run();
    expect(untilOf(over!)).not.toBeNull();
    expect(untilOf(over!)! < endOn).toBe(true);
    db.update(planVisit).set({ endOn: over!.endOn }).where(eq(planVisit.visitId, over!.visitId)).run();
  });

  it("tells days off from leave", () => {
    const board = loadBoard(db, planInForce(db)!, TODAY);
    const why = new Set(board.crews.flatMap((c) => c.days.map((d) => d.why && english(d.why))));
    expect(why.has("no shift")).toBe(true);
    expect([...why].some((w) => w?.includes("away:"))).toBe(true);
  });

  it("names visits whose days are over and that nobody reported on", () => {
    const head = planInForce(db)!;
    const day = addDays(TODAY, 9);
    const over = loadPlanVisits(db, head.id).filter(
      (v) => v.crewCode !== null && v.endOn! < day && !doneVisits(db).has(v.visitId),
    );
    const names = (on: CalendarDate) => unreportedVisits(db, head, on).map((v) => v.visitId);
    expect(names(TODAY)).toEqual([]);
    expect(names(day).sort()).toEqual(over.map((v) => v.visitId).sort());
    const [one] = over;
    const report = db.$client.prepare(
      `INSERT INTO visit_report (key, visit_id, hop_code, crew_code, worked_on, outcome, worked_min, left_min, reported_by, reported_at)
       VALUES ('unreported', ?, ?, ?, ?, 'part done', 60, 60, 'test', 1)`,
    );
    report.run(one!.visitId, one!.hopCode, one!.crewCode, one!.startOn);
    expect(names(day)).not.toContain(one!.visitId);
    // It stays part done on the board of a plan that has only what is left of it.
    expect(loadBoard(db, head, TODAY).visits.find((v) => v.visitId === one!.visitId)?.report?.outcome).toBe(
      "part done",
    );
    db.$client.prepare("DELETE FROM visit_report WHERE key = 'unreported'").run();
  });

  it("counts as the rows do", () => {
    const counts = planCounts(db, inForceId, TODAY);
    expect(counts.placed + counts.unplaced).toBe(rows.length);
    expect(counts.placed).toBe(rows.filter((r) => r.crewCode !== null).length);
    expect(loadPlanChoices(db).inForce?.id).toBe(inForceId);
    // What was done stays among them, and is said apart: a plan made since does not have it.
    const isDone = doneVisits(db);
    expect(counts.done).toBe(rows.filter((r) => isDone.has(r.visitId)).length);
    const next = rows.find((r) => r.crewCode !== null && !isDone.has(r.visitId))!;
    db.$client
      .prepare(
        `INSERT INTO visit_report (key, visit_id, hop_code, crew_code, worked_on, outcome, worked_min, left_min, reported_by, reported_at)
         VALUES ('counted', ?, ?, ?, ?, 'done', 60, NULL, 'test', 1)`,
      )
      .run(next.visitId, next.hopCode, next.crewCode, next.startOn);
    expect(planCounts(db, inForceId, TODAY)).toMatchObject({
      visits: counts.visits,
      placed: counts.placed,
      done: counts.done + 1,
    });
    db.$client.prepare("DELETE FROM visit_report WHERE key = 'counted'").run();
  });

  it("looks at one visit with its kit, hours and promise; knows no other", () => {
    const install = rows.find((r) => r.kind === "install" && r.crewCode !== null)!;
    const view = loadVisitView(db, inForceId, install.visitId, TODAY)!;
    expect(view.p80Min!).toBeGreaterThanOrEqual(view.p50Min!);
    expect(view.kit?.lines.length).toBeGreaterThan(3);
    expect(view.finish?.hopCode).toBe(install.hopCode);
    const lineCount = view.kit!.lines.length;
    expect(view.picked).toEqual(pickedLineCounts(db, inForceId).get(install.visitId));
    expect(view.picked).toMatchObject({ lineCount });
    const pick = db.$client.prepare("UPDATE kit_line SET picked_c = ? WHERE plan_id = ? AND visit_id = ?");
    pick.run(1_000_000, inForceId, install.visitId);
    const { picked } = loadVisitView(db, inForceId, install.visitId, TODAY)!;
    pick.run(0, inForceId, install.visitId);
    expect(picked).toEqual({ lineCount, pickedCount: lineCount });
    expect(view.picked.pickedCount).toBeLessThan(lineCount);
    expect(loadVisitView(db, inForceId, "nowhere/near/install", TODAY)).toBeUndefined();
  });

  it("says a kit whole not before the last of what it lacks comes", () => {
    const install = rows.find((r) => r.kind === "install" && r.crewCode !== null)!;
    const { itemCode } = loadVisitView(db, inForceId, install.visitId, TODAY)!.kit!.lines[0]!;
    const lack = db.$client.prepare(
      "UPDATE kit_line SET short_c = ? WHERE plan_id = ? AND visit_id = ? AND item_code = ?",
    );
    lack.run(100, inForceId, install.visitId, itemCode);
    const { shortItems, kitWholeOn } = loadVisitView(db, inForceId, install.visitId, TODAY)!;
    lack.run(0, inForceId, install.visitId, itemCode);
    const own = shortItems.find((i) => i.itemCode === itemCode)!;
    expect(own.comesOn).toBe(own.transferOn ?? addDays(TODAY, own.leadTimeDays));
    expect(
      kitWholeOn! >=
        shortItems
          .map((i) => i.comesOn)
          .sort()
          .at(-1)!,
    ).toBe(true);
    expect(loadVisitView(db, inForceId, install.visitId, TODAY)!.kitWholeOn).toBe(install.kitReadyOn);
  });

  it("puts whole units into a box, metres as they are, and lacks whole units", () => {
    const units = new Map(loadCatalogue(db).map((i) => [i.code, i.unit]));
    const lines = db.$client
      .prepare(
        "SELECT item_code AS itemCode, needed_c AS neededC, box_c AS boxC, short_c AS shortC FROM kit_line WHERE plan_id = ?",
      )
      .all(inForceId) as { itemCode: string; neededC: number; boxC: number; shortC: number }[];
    const metres = lines.filter((l) => units.get(l.itemCode) === "m");
    const whole = lines.filter((l) => units.get(l.itemCode) !== "m");
    expect(metres.every((l) => l.boxC === l.neededC)).toBe(true);
    expect(whole.every((l) => l.boxC % 100 === 0 && l.shortC % 100 === 0)).toBe(true);
    // Of what is used up bit by bit some kits open one, and others need none.
    const bitByBit = whole.filter((l) => l.neededC < 100);
    expect(new Set(bitByBit.map((l) => l.boxC))).toEqual(new Set([0, 100]));
  });
});

describe("moves by hand", () => {
  it("never touch the plan in force: the first one makes a draft with kits, pinned where it was put", () => {
    const move = legalMove(inForceId, "install");
    const before = loadPlanVisits(db, inForceId);
    const { effect, result } = accept(inForceId, move);
    const done = expectOk(result);
    expect(done.planId).not.toBe(inForceId);
    expect(loadPlanVisits(db, inForceId)).toEqual(before);
    const draft = loadPlanVisits(db, done.planId);
    expect(draft.find((v) => v.visitId === move.visitId)).toMatchObject({
      crewCode: move.crewCode,
      startOn: move.on,
      isPinned: true,
    });
    expect(draft.filter((v) => v.crewCode !== null)).toHaveLength(
      before.filter((v) => v.crewCode !== null).length,
    );
    expect(loadKits(db, done.planId)).toHaveLength(loadKits(db, inForceId).length);
    expect(loadKit(db, done.planId, move.visitId)!.pickOn <= move.on).toBe(true);
    expect(loadPlan(db, done.planId)!.cost.total).toBeCloseTo(effect.after.total, 6);
    expect(brokenRules(open(done.planId)).broken).toEqual([]);
  });

  it("of the second of two planners are refused, and say what changed", () => {
    const id = writing(db, () => copyAsDraft(db, inForceId, { createdBy: "P", createdAt: 0, basis: {} }))!;
    const move = legalMove(id, "install");
    const stale = open(id);
    expectOk(accept(id, move).result);
    const effect = expectOk(effectOfMove(stale.problem, stale.plan, move));
    const second = writing(db, () => acceptMoves(db, stale, [move.visitId], effect, HAND));
    expect(second.ok).toBe(false);
    const problem = staleEdit(db, id, 1);
    expect(problem?.rule).toBe("changed-meanwhile");
    expect(problem?.message).toContain(move.visitId.replaceAll("/", " "));
    expect(staleEdit(db, id, 2)).toBeUndefined();
  });

  it("onto a day off break a rule by name, and the judge then refuses the draft", () => {
    const v = rows.find(
      (r) => r.kind === "install" && r.crewCode !== null && r.startOn! > addDays(TODAY, 14),
    )!;
    const sunday = Array.from({ length: 7 }, (_, i) => addDays(v.startOn!, i)).find(
      (d) => new Date(`${d}T12:00:00Z`).getUTCDay() === 0,
    )!;
    const move = { visitId: v.visitId, crewCode: v.crewCode!, on: sunday };
    const effect = expectOk(effectFor(db, inForceId, move, TODAY));
    expect(effect.broken.length).toBeGreaterThan(0);
    const done = expectOk(accept(inForceId, move).result);
    expect(standingEdits(db, done.planId)[0]!.broken.length).toBeGreaterThan(0);
    const { broken } = brokenRules(open(done.planId));
    expect(broken.map((b) => b.rule)).toContain("calendar");
    expect(broken.every((b) => b.message.length > 0)).toBe(true);
  });
});

describe("putting in force", () => {
  it("prices both plans by one problem, nights away included", () => {
    const { basis } = loadPlan(db, inForceId)!;
    const id = writing(db, () => copyAsDraft(db, inForceId, { createdBy: "P", createdAt: 0, basis }))!;
    const costs = costsSideBySide(open(id));
    expect(costs.other?.total).toBeCloseTo(costs.plan.total, 6);
  });

  it("refuses against another plan in force, then replaces it and keeps what was picked", () => {
    const id = writing(db, () => copyAsDraft(db, inForceId, { createdBy: "P", createdAt: 0, basis: {} }))!;
    const picked = loadKits(db, inForceId)[0]!.visitId;
    setKitState(db, inForceId, picked, "picked");
    const wrong = writing(db, () => publish(db, open(id), null, HAND));
    expect(wrong.ok ? "" : wrong.problems[0]!.rule).toBe("changed-meanwhile");
    expect(planInForce(db)!.id).toBe(inForceId);
    const done = expectOk(writing(db, () => publish(db, open(id), inForceId, HAND)));
    expect(done).toEqual({ planId: id, replaced: inForceId });
    expect(planInForce(db)!.id).toBe(id);
    expect(loadPlan(db, inForceId)!.state).toBe("past");
    expect(loadKit(db, id, picked)!.state).toBe("picked");
    expect(staleEdit(db, inForceId, 3)?.rule).toBe("plan-is-past");
  });

  it("keeps visits that were done, their kits too, when a plan that does not know them comes in force", () => {
    const before = planInForce(db)!;
    const placed = loadPlanVisits(db, before.id).filter((v) => v.kind === "install" && v.crewCode !== null);
    const [own, longAgo] = placed.filter((v) => loadKit(db, before.id, v.visitId)) as [
      PlannedVisit,
      PlannedVisit,
    ];
    const done = (v: PlannedVisit, workedOn: CalendarDate) =>
      addReport(db, {
        key: `carried ${v.visitId}`,
        visitId: v.visitId,
        hopCode: v.hopCode,
        crewCode: v.crewCode!,
        workedOn,
        outcome: "done",
        workedMin: 300,
        note: "",
        reportedBy: "Lead",
        reportedAt: HAND.at,
        uses: [],
      });
    done(own, own.startOn!);
    done(longAgo, addDays(TODAY, -40));
    setKitState(db, before.id, own.visitId, "issued");
    const id = writing(db, () => copyAsDraft(db, before.id, { createdBy: "P", createdAt: 1, basis: {} }))!;
    // As a plan that was made since has it: without what is done, and from the day after on.
    const gone = [own.visitId, longAgo.visitId];
    db.delete(planVisit)
      .where(and(eq(planVisit.planId, id), inArray(planVisit.visitId, gone)))
      .run();
    db.delete(kit)
      .where(and(eq(kit.planId, id), inArray(kit.visitId, gone)))
      .run();
    const firstDay = addDays(own.startOn!, 1);
    db.update(plan).set({ firstDay }).where(eq(plan.id, id)).run();
    expectOk(writing(db, () => publish(db, open(id), before.id, HAND)));
    const now = new Map(loadPlanVisits(db, id).map((v) => [v.visitId, v]));
    expect(now.get(own.visitId)).toMatchObject({ crewCode: own.crewCode, startOn: own.startOn });
    expect(now.has(longAgo.visitId)).toBe(false);
    expect(loadKit(db, id, own.visitId)!.state).toBe("issued");
    expect(loadVisitDesk(db, own.visitId)?.reports).toHaveLength(1);
    // The board begins with its first day.
    expect(loadBoard(db, planInForce(db)!, TODAY).visits.some((v) => v.visitId === own.visitId)).toBe(false);
  });
});
