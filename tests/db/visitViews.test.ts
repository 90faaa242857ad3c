import { expect, test } from "vitest";
import { saveGate } from "@/db/queries/design";
import { planInForce } from "@/db/queries/plans";
import { loadBoard } from "@/db/queries/planViews";
import { addReport } from "@/db/queries/reports";
import { loadVisitViews } from "@/db/queries/siteViews";
import { HELD_BY } from "@/lib/programme";
import type { Gate } from "@/lib/site";
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

test("a gate that gets its date stops being the reason why a visit has no place, on the hop's page and on the board", () => {
  const t = testStock();
  const hopId = t.visitId.split("/")[0]!;
  const licence: Gate = { hopId, kind: "spectrum licence", owner: "regulator", state: "open" };
  const words = "open gate: spectrum licence (regulator), no date";
  t.db.$client
    .prepare(
      `UPDATE plan_visit SET crew_code = NULL, start_on = NULL, start_min = NULL, end_on = NULL, end_min = NULL,
         unplaced_rule = 'gate', unplaced_detail = ? WHERE visit_id = ?`,
    )
    .run(words, t.visitId);
  const reasons = () => [
    loadVisitViews(t.db, { hopCode: hopId }).find((v) => v.visitId === t.visitId)?.unplacedReason,
    loadBoard(t.db, planInForce(t.db)!, TODAY).visits.find((v) => v.visitId === t.visitId)?.unplacedDetail,
  ];
  saveGate(t.db, licence);
  expect(reasons()).toEqual([words, words]);
  saveGate(t.db, { ...licence, state: "dated", dueOn: TODAY });
  expect(reasons()).toEqual([HELD_BY.gateDatedSince, HELD_BY.gateDatedSince]);
});
