/** What the demonstration's ends used, the allowances that follow, and what accepting and rejecting them does. */
import { beforeAll, expect, test } from "vitest";
import { type ActionDefinition, carryOut } from "@/app/_server/carryOut";
import type { WantedChange } from "@/app/_server/ruleChange";
import { saveRulesAction, showEffectAction } from "@/app/_server/ruleEdits";
import { ruleEffectJob } from "@/app/_server/ruleJobs";
import { learnedUse, rejectUseAction } from "@/app/_server/useEdits";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { loadRejections } from "@/db/queries/actuals";
import { loadHop } from "@/db/queries/design";
import { claimNextJob, endJob } from "@/db/queries/jobs";
import { loadTakeoffContext, rulesInForce } from "@/db/queries/programme";
import { doneVisits } from "@/db/queries/reports";
import { FARTHEST_USE, isRejected } from "@/lib/calibration";
import { takeOff } from "@/lib/takeoff";
import type { CalendarDate, InstantMillis } from "@/lib/time";
import { loadDemo } from "@/seed/load";
import { visitorAs } from "../helpers/visitor";

const TODAY = "2026-03-16" as CalendarDate;
const at = Date.UTC(2026, 2, 16, 9) as InstantMillis;
const logistics = visitorAs("logistics");
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
const act = async <T>(definition: ActionDefinition<any, T, any>, input: unknown, visitor = logistics) =>
  (await carryOut(definition, input, { db, visitor, key: undefined, now: at, machineNow: at })).result;
const proposal = (ruleId: string) => learnedUse(db).open.find((p) => p.ruleId === ruleId)!;

test("the rows that the made-up crews use more of are found, near what was planted, and no row that fits", () => {
  const { open, material, test: errors } = learnedUse(db);
  expect(material.ends).toBeGreaterThan(40);
  const near = (ruleId: string, truth: number) =>
    expect(Math.abs(proposal(ruleId).proposed - 1 - truth), ruleId).toBeLessThan(0.05);
  near("connectors", 0.11);
  near("ties-outdoor", 0.22);
  near("ties-indoor", 0.16);
  near("wipes", 0.32);
  near("tape-pvc", 0.24);
  expect(open.map((p) => p.ruleId)).not.toContain("grips");
  for (const ruleId of ["ties-outdoor", "tape-pvc", "wipes"]) {
    const row = errors.find((e) => e.ruleId === ruleId)!;
    expect(row.proposed, ruleId).toBeLessThan(row.inForce);
    expect(Math.abs(row.biasProposed), ruleId).toBeLessThan(0.04);
  }
});

test("accepting shows the effect first and makes a new version of the rows; the others stay as they are", async () => {
  const before = new Map(rulesInForce(db).takeoffRules.map((r) => [r.id, r]));
  const wanted: WantedChange = {
    kind: "takeoff rules",
    basedOn: 0,
    change: {
      accept: ["ties-outdoor", "wipes"].map((id) => ({
        id: proposal(id).id,
        proposed: proposal(id).proposed,
      })),
    },
  };
  const blind = await act(saveRulesAction, { ...wanted, reason: "without looking" });
  expect(blind.ok).toBe(false);
  const shown = await act(showEffectAction, wanted);
  if (!shown.ok) throw new Error(shown.problems[0]?.message);
  const job = claimNextJob(db, 1, at)!;
  const outcome = ruleEffectJob(job.input as never, { db, report: () => {}, shouldStop: () => false });
  expect(outcome).toMatchObject({ lines: expect.any(Array) });
  endJob(db, job.id, { state: "done", result: outcome, now: at });
  const saved = await act(saveRulesAction, {
    ...wanted,
    reason: "a year of reports",
    effectJobId: shown.value,
  });
  expect(saved).toMatchObject({ ok: true, value: { version: 1 } });
  const after = new Map(rulesInForce(db).takeoffRules.map((r) => [r.id, r]));
  expect(after.get("ties-outdoor")!.allowance).toBeGreaterThan(0.15);
  expect(after.get("ties-outdoor")!.allowanceFrom).toBeUndefined();
  expect(after.get("ties-indoor")).toEqual(before.get("ties-indoor"));
  // What was accepted is in force: nothing more is proposed of it, and the counts beneath did not move.
  expect(proposal("ties-outdoor")).toBeUndefined();
  expect(proposal("wipes")).toBeUndefined();
  expect(proposal("ties-indoor")).toBeDefined();
}, 300_000);

test("what moved meanwhile is refused, a rejected one is kept with its reason", async () => {
  const p = proposal("tape-pvc");
  const moved = { proposals: [{ id: p.id, proposed: p.proposed + 0.1 }], reason: "too much" };
  expect(await act(rejectUseAction, moved)).toMatchObject({
    ok: false,
    problems: [{ rule: "proposal-moved" }],
  });
  const wanted = { proposals: [{ id: p.id, proposed: p.proposed }], reason: "two rolls were lost" };
  expect(await act(rejectUseAction, wanted)).toEqual({ ok: true, value: { rejected: 1 } });
  const rejections = loadRejections(db, "material");
  expect(rejections).toMatchObject([{ proposalId: p.id, reason: "two rolls were lost", actuals: p.actuals }]);
  expect(isRejected(p, rejections)).toBe(true);
  expect(loadRejections(db)).toEqual([]);
  expect((await act(rejectUseAction, wanted, visitorAs("manager"))).ok).toBe(false);
});

test("one whole unit opened where less was planned is neither learned from nor an error of entry; many are", () => {
  const done = [...doneVisits(db).keys()].find((id) => id.endsWith("/near/install"))!;
  const hopCode = done.split("/")[0]!;
  const { lines } = takeOff(loadHop(db, hopCode)!, loadTakeoffContext(db, rulesInForce(db))).near;
  const line = lines.find(
    (l) =>
      l.unit !== "m" &&
      l.exact < 1 / FARTHEST_USE &&
      lines.filter((one) => one.itemCode === l.itemCode).length === 1,
  )!;
  const opened = (used: number) => {
    db.$client
      .prepare(
        "DELETE FROM report_use WHERE item_code = ? AND report_id IN (SELECT id FROM visit_report WHERE visit_id = ?)",
      )
      .run(line.itemCode, done);
    const { id } = db.$client
      .prepare("SELECT max(id) AS id FROM visit_report WHERE visit_id = ?")
      .get(done) as {
      id: number;
    };
    db.$client
      .prepare(
        "INSERT INTO report_use (report_id, line_no, item_code, used_c, left_c) VALUES (?, 999, ?, ?, 0)",
      )
      .run(id, line.itemCode, used * 100);
    const { material, fitted } = learnedUse(db);
    const isOurs = (l: { hopCode: string; ruleId: string; used: number }) =>
      l.hopCode === hopCode && l.ruleId === line.ruleId && l.used === used;
    return [material.lines.some(isOurs), fitted.leftOut.some(isOurs)];
  };
  expect(opened(1)).toEqual([false, false]);
  expect(opened(7)).toEqual([true, true]);
}, 300_000);
