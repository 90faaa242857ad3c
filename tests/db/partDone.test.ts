import { expect, test } from "vitest";
import { loadProgrammeInput } from "@/db/queries/programme";
import type { VisitReportInput } from "@/db/queries/visitReport";
import { sendReport, TODAY, testStock } from "./make";

const t = testStock();

const report = (part: Partial<VisitReportInput>) => sendReport(t, { outcome: "part done", ...part });

const planned = () =>
  loadProgrammeInput(t.db, { today: TODAY, dayCount: 28, frozenDays: 0 }).workLeftMin.get(t.visitId);

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
