/** A hold that was a slip, or whose reason is gone, is lifted: the visit stands as before it. */
import { expect, test } from "vitest";
import { loadCalendarVisits } from "@/db/queries/crewCalendar";
import { holdsOf, liftHold } from "@/db/queries/holds";
import { loadLog } from "@/db/queries/log";
import { planInForce } from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { doneVisits, isVisitDone, reportsOfVisit } from "@/db/queries/reports";
import { loadReportsOfHops } from "@/db/queries/siteViews";
import { sendReport, type TestStock, TODAY, testStock } from "./make";

const BY = { name: "Rita", at: Date.parse("2026-03-16T10:00:00Z") };
const WHY = "the owner came an hour later";

/** The plan was made before anything was reported. */
function stock(): TestStock {
  const t = testStock();
  t.db.$client.prepare("UPDATE plan SET created_at = created_at - 60000").run();
  return t;
}

const newest = (t: TestStock) => reportsOfVisit(t.db, t.visitId).at(-1)!;
const hold = (t: TestStock, workedMin = 0) => {
  expect(sendReport(t, { outcome: "hold", holdReason: "gate locked", workedMin }).ok).toBe(true);
  return newest(t).id;
};
const lift = (t: TestStock, reportId: number, by: Parameters<typeof liftHold>[2] = BY) => {
  const done = liftHold(t.db, { visitId: t.visitId, reportId, why: WHY }, by);
  return done.ok ? "ok" : done.problems.map((p) => p.rule).join(", ");
};
const leftMin = (t: TestStock) =>
  loadProgrammeInput(t.db, { today: TODAY, dayCount: 28, frozenDays: 0 }).workLeft.get(t.visitId)?.leftMin;
const isHeld = (t: TestStock) => holdsOf(t.db, planInForce(t.db)!).has(t.visitId);
const calendar = (t: TestStock) =>
  loadCalendarVisits(t.db, "C1", TODAY).find((v) => v.visitId === t.visitId)!;

test("it holds nothing any more, what was left stands again, and the record keeps who lifted it and why", () => {
  const t = stock();
  expect(sendReport(t, { outcome: "part done", leftMin: 150 }).ok).toBe(true);
  const before = calendar(t);
  const id = hold(t);
  expect([isHeld(t), leftMin(t), calendar(t).hold?.reason]).toEqual([true, undefined, "gate locked"]);
  expect(lift(t, id)).toBe("ok");
  expect([isHeld(t), leftMin(t), calendar(t).hold]).toEqual([false, 150, undefined]);
  expect(calendar(t)).toMatchObject({ changes: before.changes + 2, changedAt: BY.at });
  expect(newest(t)).toMatchObject({ outcome: "hold", liftedBy: "Rita", liftedAt: BY.at, liftedWhy: WHY });
  expect(loadReportsOfHops(t.db, [newest(t).hopCode])[0]).toMatchObject({ id, isOver: true, liftedWhy: WHY });
  // Sent twice by a phone it is written once.
  expect(lift(t, id)).toBe("ok");
  const logged = loadLog(t.db, 50).filter((e) => e.action === "lift hold");
  expect(logged).toMatchObject([{ userName: "Rita", subject: t.visitId }]);
});

test("who lifts a hold that was lifted already is told by whom and why, and nothing is written over", () => {
  const t = stock();
  const reportId = hold(t);
  expect(lift(t, reportId)).toBe("ok");
  const late = (name: string, why: string) => {
    const done = liftHold(t.db, { visitId: t.visitId, reportId, why }, { name, at: BY.at + 60000 });
    return done.ok ? "ok" : done.problems.map((p) => [p.rule, p.message]);
  };
  const told = [["lifted-meanwhile", `Lifted meanwhile by Rita: ${WHY}`]];
  expect(late("Olga", "it was a slip")).toEqual(told);
  expect(late("Olga", WHY)).toEqual(told);
  expect(late("Rita", "it was a slip")).toEqual(told);
  expect(late("Rita", WHY)).toBe("ok");
  expect(newest(t)).toMatchObject({ liftedBy: "Rita", liftedAt: BY.at, liftedWhy: WHY });
  expect(loadLog(t.db, 50).filter((e) => e.action === "lift hold")).toHaveLength(1);
});

test("hours worked before the hold leave nobody knows how much", () => {
  const t = stock();
  expect(sendReport(t, { outcome: "part done", leftMin: 150 }).ok).toBe(true);
  expect(lift(t, hold(t, 60))).toBe("ok");
  expect(leftMin(t)).toBeUndefined();
});

test("a visit that was done before the slip is done again", () => {
  const t = stock();
  expect(sendReport(t, { outcome: "done" }).ok).toBe(true);
  expect(sendReport(t, { outcome: "hold", holdReason: "wrong visit", workedMin: 0, isOnTop: true }).ok).toBe(
    true,
  );
  expect(isVisitDone(t.db, t.visitId)).toBe(false);
  expect(lift(t, newest(t).id)).toBe("ok");
  expect([isVisitDone(t.db, t.visitId), doneVisits(t.db).has(t.visitId)]).toEqual([true, true]);
});

test("a hold in the place of a report is not lifted: what it replaced counts no more", () => {
  const t = stock();
  expect(sendReport(t, { outcome: "done" }).ok).toBe(true);
  const id = hold(t);
  expect(newest(t).correctsId).not.toBeNull();
  expect(lift(t, id)).toBe("hold-corrects");
  expect(isHeld(t)).toBe(true);
  expect(sendReport(t, { outcome: "done" }).ok).toBe(true);
  expect([isHeld(t), isVisitDone(t.db, t.visitId)]).toEqual([false, true]);
});

test("only what is on hold is lifted, and by a crew lead only of the own crew", () => {
  const t = stock();
  expect(lift(t, 1)).toBe("not-on-hold");
  const id = hold(t);
  expect(lift(t, id, { ...BY, onlyCrew: "C2" })).toBe("other-crew");
  expect(isHeld(t)).toBe(true);
  expect(sendReport(t, { outcome: "part done", leftMin: 30 }).ok).toBe(true);
  expect(lift(t, id)).toBe("not-on-hold");
  const again = hold(t);
  expect(lift(t, again, { ...BY, onlyCrew: "C1" })).toBe("ok");
  expect(isHeld(t)).toBe(false);
});
