import { expect, test } from "vitest";
import { addReport } from "@/db/queries/reports";
import { loadVisitViews } from "@/db/queries/siteViews";
import { BY, TODAY, testStock } from "./make";

test("a visit of the plan in force says what its crew reported last, and the day when it was done", () => {
  const t = testStock();
  const hopCode = t.visitId.split("/")[0]!;
  const states = () => loadVisitViews(t.db, { hopCode }).map((v) => [v.side, v.outcome, v.doneOn]);
  const report = (outcome: "done" | "part done", key: string) =>
    addReport(t.db, {
      key,
      visitId: t.visitId,
      hopCode,
      crewCode: "C1",
      workedOn: TODAY,
      outcome,
      workedMin: 200,
      note: "",
      reportedBy: BY.name,
      reportedAt: BY.at,
      uses: [],
    });
  expect(states()).toEqual([
    ["near", null, null],
    ["far", null, null],
  ]);
  report("part done", "first");
  expect(states()[0]).toEqual(["near", "part done", null]);
  report("done", "second");
  expect(states()).toEqual([
    ["near", "done", TODAY],
    ["far", null, null],
  ]);
});
