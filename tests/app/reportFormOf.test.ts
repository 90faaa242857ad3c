/** The report form of a crew that had the visit by an earlier plan: its own work, beside the other crew's. */
import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { reportFormOf } from "@/app/(work)/week/visit/[...visitId]/reportFormOf";
import { givenTo } from "@/db/queries/givenVisits";
import { copyAsDraft, loadPlan, planInForce, putInForce } from "@/db/queries/plans";
import { latestOf, reportsOfVisit } from "@/db/queries/reports";
import { loadVisitDesk } from "@/db/queries/visitDesk";
import { BY, sendReport, testStock } from "../db/make";

const words = makeWords("en", wholeCatalogueOf("en"));

test("it begins anew where the other crew reported done, and knows of that report", () => {
  const t = testStock();
  const { db, visitId } = t;
  const id = copyAsDraft(db, planInForce(db)!.id, { createdBy: "Rita", createdAt: BY.at, basis: {} })!;
  db.$client.prepare("UPDATE plan_visit SET crew_code = 'C5' WHERE plan_id = ?").run(id);
  expect(putInForce(db, id, loadPlan(db, id)!.revision, BY.at + 1000)).toBe(true);
  expect(sendReport(t, {}).ok).toBe(true);
  const last = latestOf(reportsOfVisit(db, visitId))!;
  expect(last.crewCode).toBe("C5");

  const before = reportFormOf(
    db,
    loadVisitDesk(db, visitId, givenTo(db, visitId, "C1"))!,
    "lead of C1",
    words,
  );
  expect(before).toMatchObject({ lastSeenReportId: last.id, last: undefined });
  expect(before.lines.length).toBeGreaterThan(0);
  const own = reportFormOf(db, loadVisitDesk(db, visitId)!, "lead of C5", words);
  expect(own.last).toMatchObject({ workedMin: 240 });
});
