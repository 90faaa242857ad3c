/** A plan gives a visit to another crew while a report of the first is on its way: the work is what happened. */
import { beforeEach, expect, test } from "vitest";
import { setVehicle } from "@/db/queries/crews";
import { crewsGiven, givenTo, holderOf } from "@/db/queries/givenVisits";
import { postMovement } from "@/db/queries/ledger";
import { loadLog } from "@/db/queries/log";
import { crewsOfVisit } from "@/db/queries/photos";
import { copyAsDraft, loadPlan, planInForce, putInForce } from "@/db/queries/plans";
import { loadBoard } from "@/db/queries/planViews";
import { loadReports, reportsOfVisit } from "@/db/queries/reports";
import { loadBalances } from "@/db/queries/shelves";
import { loadVisitDesk } from "@/db/queries/visitDesk";
import { reportVisit, type VisitReportInput } from "@/db/queries/visitReport";
import { addDays } from "@/lib/time";
import { BY, PIECE, type TestStock, TODAY, testStock } from "./make";

const HOUR = 3_600_000;
let t: TestStock;
let now: number;

const draftCopy = () =>
  copyAsDraft(t.db, planInForce(t.db)!.id, { createdBy: "Rita", createdAt: BY.at, basis: {} })!;

/** Puts a copy of the plan in force in force, with the visit given to another crew (null = without a place). */
function replan(crewCode: string | null, at: number): void {
  const id = draftCopy();
  t.db.$client
    .prepare(
      crewCode === null
        ? `UPDATE plan_visit SET crew_code = NULL, start_on = NULL, start_min = NULL, end_on = NULL, end_min = NULL,
             unplaced_rule = 'no crew' WHERE @crewCode IS NULL AND plan_id = @id AND visit_id = @visitId`
        : "UPDATE plan_visit SET crew_code = @crewCode WHERE plan_id = @id AND visit_id = @visitId",
    )
    .run({ crewCode, id, visitId: t.visitId });
  expect(putInForce(t.db, id, loadPlan(t.db, id)!.revision, at)).toBe(true);
}

function report(crewId: string, part: Partial<VisitReportInput> = {}) {
  return reportVisit(
    t.db,
    {
      visitId: t.visitId,
      outcome: "done",
      workedOn: TODAY,
      workedMin: 240,
      holdReason: "",
      note: "",
      readings: [],
      parts: [],
      uses: [],
      ...part,
    },
    {
      visitor: { userId: crewId, name: `Lead ${crewId}`, role: "crew lead", crewId },
      now,
      today: TODAY,
      writtenAt: Date.parse("2026-03-17T08:00:00Z"),
    },
  );
}
const rulesOf = (r: ReturnType<typeof report>) => (r.ok ? "ok" : r.problems.map((p) => p.rule).join(" "));
const onVan = (place: string) =>
  loadBalances(t.db, PIECE.code)
    .filter((b) => b.placeCode === place)
    .reduce((sum, b) => sum + b.quantityC, 0);
const load = (place: string) =>
  postMovement(t.db, {
    key: `load ${place}`,
    kind: "transfer",
    itemCode: PIECE.code,
    owner: PIECE.owner,
    fromPlace: "WH-EAST",
    toPlace: place,
    quantityC: 500,
    effectiveOn: TODAY,
    postedAt: BY.at,
    reason: "test",
    postedBy: "Test",
  });

beforeEach(() => {
  t = testStock();
  now = BY.at + 9 * HOUR;
  setVehicle(t.db, "C1", "VAN-1");
  setVehicle(t.db, "C5", "VAN-5");
  t.db.$client.prepare("UPDATE plan SET published_at = created_at - 864000000").run();
});

test("who had the visit on the day worked reports it for the own crew, and the log and board name it", () => {
  replan("C5", BY.at + 2 * HOUR);
  expect(rulesOf(report("C1"))).toBe("ok");
  expect(loadReports(t.db).at(-1)).toMatchObject({ crewCode: "C1", reportedBy: "Lead C1", outcome: "done" });
  expect(loadLog(t.db, 5).find((e) => e.action === "report visit")?.detail).toMatchObject({
    crewCode: "C1",
    planned: "C5",
  });
  const row = loadBoard(t.db, planInForce(t.db)!, TODAY).visits.find((v) => v.visitId === t.visitId);
  expect([row?.crewCode, row?.report?.crewCode]).toEqual(["C5", "C1"]);
});

test("a crew that never had it is refused, and one that lost it before the day worked, too", () => {
  replan("C5", BY.at - 4 * 24 * HOUR);
  replan("C4", BY.at + 2 * HOUR);
  expect(rulesOf(report("C2"))).toBe("other-crew");
  expect(rulesOf(report("C1"))).toBe("other-crew");
  expect(rulesOf(report("C1", { workedOn: addDays(TODAY, -5), sureOf: ["workedOn", "workedMin"] }))).toBe(
    "ok",
  );
  expect(rulesOf(report("C5", { isOnTop: true }))).toBe("ok");
});

test("a draft gives nothing to anybody", () => {
  const id = draftCopy();
  t.db.$client.prepare("UPDATE plan_visit SET crew_code = 'C3' WHERE plan_id = ?").run(id);
  expect(rulesOf(report("C3"))).toBe("other-crew");
  expect(crewsGiven(t.db, t.visitId)).toEqual(["C1"]);
});

test("a visit without a place in the plan in force is still reported by who worked there", () => {
  replan(null, BY.at + 2 * HOUR);
  expect(holderOf(t.db, t.visitId)).toBeUndefined();
  expect(rulesOf(report("C2"))).toBe("visit-not-planned");
  expect(rulesOf(report("C1"))).toBe("ok");
});

test("use is booked off the vehicle of the crew that did the work", () => {
  load("VAN-1");
  load("VAN-5");
  replan("C5", BY.at + 2 * HOUR);
  const uses = [{ itemCode: PIECE.code, runId: null, drumSerial: null, used: 3, left: 0 }];
  expect(rulesOf(report("C1", { uses }))).toBe("ok");
  expect([onVan("VAN-1"), onVan("VAN-5")]).toEqual([200, 500]);
});

test("a kit that went to the new crew's vehicle meanwhile is not what the first crew used", () => {
  load("VAN-1");
  postMovement(t.db, {
    key: "issue",
    kind: "issue",
    itemCode: PIECE.code,
    owner: PIECE.owner,
    fromPlace: "WH-EAST",
    toPlace: "VAN-5",
    quantityC: 500,
    effectiveOn: TODAY,
    postedAt: BY.at,
    visitId: t.visitId,
    reason: "test",
    postedBy: "Test",
  });
  replan("C5", BY.at + 2 * HOUR);
  const uses = [{ itemCode: PIECE.code, runId: null, drumSerial: null, used: 3, left: 0 }];
  expect(rulesOf(report("C1", { uses }))).toBe("ok");
  expect([onVan("VAN-1"), onVan("VAN-5")]).toEqual([200, 500]);
});

test("what the new crew reported meanwhile is a conflict, and sent anyway the first crew's comes on top", () => {
  replan("C5", BY.at + 2 * HOUR);
  expect(rulesOf(report("C5"))).toBe("ok");
  expect(rulesOf(report("C1", { lastSeenReportId: 0 }))).toBe("reported-meanwhile");
  expect(rulesOf(report("C1"))).toBe("ok");
  expect(reportsOfVisit(t.db, t.visitId).map((r) => [r.crewCode, r.correctsId])).toEqual([
    ["C5", null],
    ["C1", null],
  ]);
  // Its own it corrects.
  expect(rulesOf(report("C1", { workedMin: 200 }))).toBe("ok");
  expect(loadReports(t.db).map((r) => [r.crewCode, r.workedMin])).toEqual([
    ["C5", 240],
    ["C1", 200],
  ]);
});

test("the page of who had it knows whose it is, and gives the form of the own crew", () => {
  replan("C5", BY.at + 2 * HOUR);
  expect(holderOf(t.db, t.visitId)).toMatchObject({ crewCode: "C5", startOn: addDays(TODAY, 1) });
  expect(givenTo(t.db, t.visitId, "C2")).toBeUndefined();
  const given = givenTo(t.db, t.visitId, "C1")!;
  expect(given).toMatchObject({ crewCode: "C1", planId: planInForce(t.db)!.id, visit: { crewCode: "C1" } });
  expect(loadVisitDesk(t.db, t.visitId, given)).toMatchObject({ isHandedOver: true, crew: { code: "C1" } });
  expect(crewsOfVisit(t.db, t.visitId)).toEqual(new Set(["C5", "C1"]));
});
