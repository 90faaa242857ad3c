import { expect, test } from "vitest";
import { loadProgrammeInput } from "@/db/queries/programme";
import { reportsOfVisit } from "@/db/queries/reports";
import type { VisitReportInput } from "@/db/queries/visitReport";
import { sendReport, TODAY, testStock } from "./make";

const t = testStock();

const report = (part: Partial<VisitReportInput>) => sendReport(t, { outcome: "part done", ...part });

const planned = () =>
  loadProgrammeInput(t.db, { today: TODAY, dayCount: 28, frozenDays: 0 }).workLeft.get(t.visitId)?.leftMin;

test("the next plan counts what the crew says is left, by its latest report", () => {
  expect(planned()).toBeUndefined();
  expect(report({ leftMin: 150 }).ok).toBe(true);
  expect(planned()).toBe(150);
  expect(report({ leftMin: 45 }).ok).toBe(true);
  expect(planned()).toBe(45);
  // Nobody said how much is left: the whole visit again rather than an old figure.
  expect(report({}).ok).toBe(true);
  expect(planned()).toBeUndefined();
});

test("hours left belong to a visit that is part done", () => {
  expect(report({ outcome: "hold", holdReason: "wind", leftMin: 90 }).ok).toBe(true);
  expect(planned()).toBeUndefined();
  const insert = t.db.$client.prepare("UPDATE visit_report SET left_min = ? WHERE outcome = ?");
  expect(() => insert.run(90, "hold")).toThrow(/visit_report_left/);
  expect(() => insert.run(0, "part done")).toThrow(/visit_report_left/);
});

test("doubtful hours are asked about before they count, and taken when the sender is sure", () => {
  const stock = testStock();
  // Estimated at 400 minutes.
  const thirty = { workedMin: 30 * 60 };
  expect(sendReport(stock, thirty)).toMatchObject({
    ok: false,
    problems: [{ path: "workedMin", rule: "hours-doubtful", value: 1800 }],
  });
  expect(sendReport(stock, { workedMin: 801 })).toMatchObject({
    ok: false,
    problems: [{ rule: "hours-doubtful" }],
  });
  expect(reportsOfVisit(stock.db, stock.visitId)).toEqual([]);
  expect(sendReport(stock, { workedMin: 800 }).ok).toBe(true);
  expect(sendReport(stock, { ...thirty, sureOf: ["workedMin"] }).ok).toBe(true);
  expect(reportsOfVisit(stock.db, stock.visitId).map((r) => r.workedMin)).toEqual([800, 1800]);
});
