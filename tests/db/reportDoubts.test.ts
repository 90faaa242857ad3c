/** What of a report is asked about at the border, and that a person's answer stands for that question only. */
import { beforeEach, expect, test } from "vitest";
import { reportsOfVisit } from "@/db/queries/reports";
import { reportVisit, type VisitReportInput } from "@/db/queries/visitReport";
import type { Result } from "@/lib/result";
import { BY, CABLE, PIECE, sendReport, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
beforeEach(() => {
  t = testStock();
});

const doubts = (r: Result<unknown>) => (r.ok ? [] : r.problems.map((p) => `${p.rule} ${p.path}`));
const use = (used: number, itemCode = PIECE.code, runId: string | null = null) => ({
  itemCode,
  runId,
  drumSerial: null,
  used,
  left: 0,
});

test("hours that have not passed when the report was written are asked about", () => {
  // By the crew's clock 07:30, half an hour into its shift, though it comes in later.
  const early = Date.parse("2026-03-16T08:30:00Z");
  expect(doubts(sendReport(t, { workedMin: 480 }, early))).toEqual(["hours-doubtful workedMin"]);
  expect(doubts(sendReport(t, { workedMin: 30 }, early))).toEqual([]);
  expect(doubts(sendReport(t, { workedMin: 480, sureOf: ["workedMin"] }, early))).toEqual([]);
});

test("material that cannot be right is asked about line by line, with what was reported before", () => {
  const uses = [use(6), use(900, CABLE.code, t.runId)];
  expect(doubts(sendReport(t, { uses }))).toEqual(["report-doubtful uses.1.used"]);
  expect(doubts(sendReport(t, { uses: [use(13), use(23.5, CABLE.code, t.runId)] }))).toEqual([
    "report-doubtful uses.0.used",
  ]);
  expect(reportsOfVisit(t.db, t.visitId)).toEqual([]);
  expect(doubts(sendReport(t, { outcome: "part done", uses: [use(10)] }))).toEqual([]);
  expect(doubts(sendReport(t, { uses: [use(10)] }))).toEqual(["report-doubtful uses.0.used"]);
  expect(doubts(sendReport(t, { uses: [use(2)] }))).toEqual([]);
  // A correction stands in the place of the last one; on top of it everything counts.
  expect(doubts(sendReport(t, { uses: [use(2)] }))).toEqual([]);
  expect(doubts(sendReport(t, { isOnTop: true, uses: [use(2)] }))).toEqual(["report-doubtful uses.0.used"]);
});

test("a dead piece on top of a kit that is used up is asked about, and booked with a yes", () => {
  const faults = [{ itemCode: PIECE.code, cause: "dead on arrival" as const, symptom: "no power" }];
  const holds = () => t.db.$client.prepare("SELECT COUNT(*) FROM fault").pluck().get();
  expect(doubts(sendReport(t, { uses: [use(6)], faults }))).toEqual(["report-doubtful faults.0.itemCode"]);
  expect(doubts(sendReport(t, { uses: [use(5)], faults }))).toEqual([]);
  expect(holds()).toBe(1);
  // The dead one of the report that is corrected stays dead.
  expect(doubts(sendReport(t, { uses: [use(6)] }))).toEqual(["report-doubtful uses.0.used"]);
  expect(doubts(sendReport(t, { uses: [use(6)], faults, sureOf: ["faults.0.itemCode"] }))).toEqual([]);
  expect(holds()).toBe(2);
});

test("who is sure of the hours is asked about the rest all the same", () => {
  const part: Partial<VisitReportInput> = { workedMin: 30 * 60, uses: [use(60)] };
  expect(doubts(sendReport(t, part))).toEqual(["hours-doubtful workedMin", "report-doubtful uses.0.used"]);
  expect(doubts(sendReport(t, { ...part, sureOf: ["workedMin"] }))).toEqual(["report-doubtful uses.0.used"]);
  expect(doubts(sendReport(t, { ...part, sureOf: ["workedMin", "uses.0.used"] }))).toEqual([]);
});

test("an alignment done before both installs are is asked about", () => {
  const alignment = t.visitId.replace("install", "alignment");
  t.db.$client
    .prepare(
      `INSERT INTO plan_visit (plan_id, visit_id, kind, hop_code, side, site_code, duration_min, is_joint, crew_code, start_on, start_min, end_on, end_min)
       SELECT plan_id, ?, 'alignment', hop_code, side, site_code, 300, 1, crew_code, start_on, start_min, end_on, end_min
       FROM plan_visit WHERE visit_id = ?`,
    )
    .run(alignment, t.visitId);
  const align = (part: Partial<VisitReportInput> = {}) =>
    doubts(sendReport(t, { visitId: alignment, ...part }));
  expect(align()).toEqual(["report-doubtful outcome", "report-doubtful outcome"]);
  expect(align({ outcome: "part done" })).toEqual([]);
  expect(doubts(sendReport(t, {}))).toEqual([]);
  expect(align()).toEqual(["report-doubtful outcome"]);
  expect(doubts(sendReport(t, { visitId: t.laterId }))).toEqual([]);
  expect(align()).toEqual([]);
});

test("without word of when it was written, the time when it came in counts", () => {
  const by = { visitor: { userId: "u", name: "Lead", role: "administrator", crewId: null }, today: TODAY };
  const report = (now: number) =>
    reportVisit(
      t.db,
      {
        visitId: t.visitId,
        workedOn: TODAY,
        outcome: "done",
        workedMin: 480,
        holdReason: "",
        note: "",
        readings: [],
        parts: [],
        uses: [],
      },
      { ...by, now },
    );
  expect(doubts(report(BY.at))).toEqual(["hours-doubtful workedMin"]);
  expect(doubts(report(Date.parse("2026-03-16T17:00:00Z")))).toEqual([]);
});
