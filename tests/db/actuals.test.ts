/** The demonstration's past hours: what they say, what a person accepts of it, and what follows. */
import { beforeAll, describe, expect, test } from "vitest";
import { effectOnHours, learnedHours, rejectProposalsAction } from "@/app/_server/calibrationEdits";
import { type ActionDefinition, carryOut } from "@/app/_server/carryOut";
import { refreshEstimates } from "@/app/_server/planning";
import type { WantedChange } from "@/app/_server/ruleChange";
import { saveRulesAction, showEffectAction } from "@/app/_server/ruleEdits";
import { ruleEffectJob } from "@/app/_server/ruleJobs";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { loadActuals, loadRejections, loadVisitPaces } from "@/db/queries/actuals";
import { claimNextJob, endJob } from "@/db/queries/jobs";
import { calibrationInForce, loadProgrammeInput } from "@/db/queries/programme";
import { addReport } from "@/db/queries/reports";
import { searchLog } from "@/db/queries/rules";
import { isRejected, NO_CALIBRATION } from "@/lib/calibration";
import type { CalendarDate, InstantMillis } from "@/lib/time";
import { loadDemo } from "@/seed/load";
import { visitorAs } from "../helpers/visitor";

const TODAY = "2026-03-16" as CalendarDate;
const at = Date.UTC(2026, 2, 16, 9) as InstantMillis;
const manager = visitorAs("manager");
let db: Db;

beforeAll(() => {
  process.env.BOTHENDS_NOW = new Date(at).toISOString();
  db = memoryDatabase();
  loadDemo(db, TODAY);
  return () => {
    delete process.env.BOTHENDS_NOW;
  };
}, 300_000);

// biome-ignore lint/suspicious/noExplicitAny: any action, whatever its input
const act = async <T>(definition: ActionDefinition<any, T, any>, input: unknown) =>
  (await carryOut(definition, input, { db, visitor: manager, key: undefined, now: at, machineNow: at }))
    .result;

async function acceptedWithEffect(ids: readonly string[]) {
  const known = new Map(learnedHours(db).open.map((p) => [p.id, p]));
  const change = { accept: ids.map((id) => ({ id, proposed: known.get(id)!.proposed })) };
  const wanted: WantedChange = {
    kind: "hour calibration",
    basedOn: calibrationInForce(db).version,
    change,
  };
  const shown = await act(showEffectAction, wanted);
  if (!shown.ok) throw new Error(shown.problems[0]?.message);
  // The estimate that an earlier version asked for may stand before it.
  let job = claimNextJob(db, 1, at)!;
  while (job.id !== shown.value) {
    endJob(db, job.id, { state: "done", result: {}, now: at });
    job = claimNextJob(db, 1, at)!;
  }
  const outcome = ruleEffectJob(job.input as never, { db, report: () => {}, shouldStop: () => false });
  endJob(db, job.id, { state: "done", result: outcome, now: at });
  const saved = await act(saveRulesAction, {
    ...wanted,
    reason: "after the spring review",
    effectJobId: shown.value,
  });
  return { outcome, saved };
}

const refresh = () =>
  refreshEstimates(db, loadProgrammeInput(db, { today: TODAY, dayCount: 1, frozenDays: 0 }));

test("every finished visit has its estimate, and crews are told apart", () => {
  const { actuals, fitted } = learnedHours(db);
  expect(actuals.waiting).toEqual([]);
  expect(actuals.visits.length).toBe(96);
  expect(actuals.parts.length).toBeGreaterThan(500);
  const { C1, C4 } = fitted.calibration.crews;
  expect(C4!.factor / C1!.factor).toBeGreaterThan(1.2);
  expect(fitted.calibration.parts["fix-cable"]!.factor).toBeGreaterThan(1.15);
});

test("proposals do better on hops held out than what is in force, and their range holds four fifths", () => {
  const { inForce, proposed } = learnedHours(db).test.all!;
  expect(proposed!.mape).toBeLessThan(0.85 * inForce.mape);
  expect(Math.abs(proposed!.bias)).toBeLessThan(Math.abs(inForce.bias));
  expect(proposed!.coverage).toBeGreaterThan(0.7);
  expect(proposed!.coverage).toBeLessThan(0.9);
});

test("no factor changes the plan's hours by nothing", () => {
  const effect = effectOnHours(db, NO_CALIBRATION);
  expect(effect.visitCount).toBeGreaterThan(40);
  expect(effect.afterMin).toBeCloseTo(effect.beforeMin, 6);
  expect(effect.most).toEqual([]);
});

describe("accepting", () => {
  test("a crew's factor: the effect first, then a version; kept estimates stay, its own hours stretch", async () => {
    const before = loadActuals(db, TODAY).visits;
    const paceOf = (crew: string) => loadVisitPaces(db, TODAY)(crew, before[0]!.hopCode);
    const [slow, other] = [paceOf("C4"), paceOf("C2")];
    const { outcome, saved } = await acceptedWithEffect(["crew: C4"]);
    expect(saved).toMatchObject({ ok: true, value: { version: 1 } });
    const { hours } = outcome as { hours: ReturnType<typeof effectOnHours> };
    const own = hours.crews.find((c) => c.code === "C4")!;
    expect(own.afterMin).toBeGreaterThan(1.1 * own.beforeMin);
    const others = hours.crews.filter((c) => c.code !== "C4");
    for (const c of others) expect(c.afterMin).toBeCloseTo(c.beforeMin, 6);
    expect(loadActuals(db, TODAY).waiting).toEqual([]);
    expect(loadActuals(db, TODAY).visits).toEqual(before);
    expect(paceOf("C4") / slow).toBeCloseTo(calibrationInForce(db).crews.C4!.factor, 9);
    expect(paceOf("C2")).toBe(other);
    expect(learnedHours(db).open.map((p) => p.id)).not.toContain("crew: C4");
    expect(searchLog(db, { words: "calibration spring", limit: 5 }).count).toBe(1);
  });

  test("factors of all work and of a task: actuals wait for the new estimates, which then hold them", async () => {
    const visit = (list: ReturnType<typeof loadActuals>) => list.visits.find((v) => v.kind === "install")!;
    const before = visit(loadActuals(db, TODAY));
    const { saved } = await acceptedWithEffect(["work: install", "part: fix-cable", "range: all"]);
    expect(saved).toMatchObject({ ok: true, value: { version: 2 } });
    expect(loadActuals(db, TODAY).waiting.length).toBe(96);
    const worked = refresh();
    const { waiting, calibration } = loadActuals(db, TODAY);
    expect(waiting).toEqual([]);
    const after = visit(loadActuals(db, TODAY));
    // Longer by the cable only: the factor of all work is taken out again before anything is learned.
    expect(after.workMin).toBeGreaterThan(before.workMin);
    expect(after.workMin).toBeLessThan(1.15 * before.workMin);
    const estimate = worked.get(after.hopCode)!.estimates[after.side];
    const factor = calibration.work.install!.factor;
    expect(estimate.durationMin).toBeGreaterThan(estimate.setupMin + factor * 0.9 * before.workMin);
    expect(learnedHours(db).open.map((p) => p.id)).not.toContain("range: all");
  }, 60_000);

  test("what moved meanwhile is refused with its new figure", async () => {
    const p = learnedHours(db).open.find((x) => x.level === "crew")!;
    const change = { accept: [{ id: p.id, proposed: p.proposed + 0.1 }] };
    const refusedChange = await act(showEffectAction, { kind: "hour calibration", basedOn: 2, change });
    expect(refusedChange).toMatchObject({ ok: false, problems: [{ rule: "proposal-moved", path: p.id }] });
  });
});

describe("rejecting", () => {
  test("keeps the reason, hides the proposal, and lets it come back with more actuals", async () => {
    const p = learnedHours(db).open.find((x) => x.level === "crew")!;
    const wanted = { proposals: [{ id: p.id, proposed: p.proposed }], reason: "two new people" };
    expect(await act(rejectProposalsAction, wanted)).toEqual({ ok: true, value: { rejected: 1 } });
    const rejections = loadRejections(db);
    expect(rejections).toMatchObject([
      { proposalId: p.id, reason: "two new people", rejectedBy: "manager", actuals: p.actuals },
    ]);
    expect(isRejected(p, rejections)).toBe(true);
    const again = await act(rejectProposalsAction, {
      ...wanted,
      proposals: [{ id: p.id, proposed: p.proposed + 1 }],
    });
    expect(again).toMatchObject({ ok: false, problems: [{ rule: "proposal-moved" }] });
  });
});

test("a visit that was reported done in two parts counts once, with all its hours", () => {
  const open = db.$client
    .prepare("SELECT visit_id AS visitId, hop_code AS hopCode FROM plan_visit WHERE kind = 'install' LIMIT 1")
    .get() as { visitId: string; hopCode: string };
  const report = (n: number, outcome: "part done" | "done", crewCode: string, workedMin: number) =>
    addReport(db, {
      ...open,
      key: `two days ${n}`,
      crewCode,
      workedOn: TODAY,
      outcome,
      workedMin,
      note: "",
      reportedBy: "x",
      reportedAt: at,
      uses: [],
      parts: [{ part: "fix-cable", workedMin: 20 }],
    });
  report(1, "part done", "C1", 200);
  const found = () => loadActuals(db, TODAY).visits.find((v) => v.visitId === open.visitId);
  expect(found()).toBeUndefined();
  report(2, "done", "C2", 150);
  expect(found()).toMatchObject({ workedMin: 350, crewCode: "C1" });
  const timed = loadActuals(db, TODAY).parts.filter((p) => p.visitId === open.visitId);
  expect(timed).toMatchObject([{ part: "fix-cable", workedMin: 40 }]);
});
