/** Leave given on days on which the plan in force has visits of the crew, and certificates taken away. */
import { afterEach, expect, test, vi } from "vitest";
import { removeCertificateAction, setCertificateAction, setLeaveAction } from "@/app/_server/crewEdits";
import { loadCrews, saveMember } from "@/db/queries/crews";
import { endId } from "@/db/queries/design";
import { saveEndEstimate } from "@/db/queries/estimates";
import { countOnLeave, loadVisitsMissingPeople } from "@/db/queries/missingPeople";
import { planInForce } from "@/db/queries/plans";
import { loadBoard } from "@/db/queries/planViews";
import { setLeave } from "@/db/queries/rules";
import { loadCrewFacts } from "@/db/queries/week";
import { addDays } from "@/lib/time";
import { demoCrews } from "@/seed/crews";
import { BY, sendReport, TODAY, testStock } from "./make";

afterEach(() => {
  vi.unstubAllEnvs();
});

test("the visits of the member's crew are counted until they are done, and what is left of it is held against their needs", () => {
  const t = testStock();
  const [near, far] = [t.visitId, t.laterId];
  const hopCode = near.split("/")[0]!;
  for (const m of demoCrews(TODAY).find((c) => c.code === "C1")!.members)
    saveMember(t.db, "C1", { ...m, leave: [] });
  const member = loadCrews(t.db).find((c) => c.code === "C1")!.members[0]!;
  const away = {
    memberCode: member.code,
    memberCodes: [member.code],
    fromOn: addDays(TODAY, 1),
    toOn: addDays(TODAY, 2),
    reason: "course",
  };
  expect(loadVisitsMissingPeople(t.db, TODAY)).toEqual([]);
  const { memberCodes: _, ...wanted } = away;
  expect(setLeave(t.db, wanted, BY).ok).toBe(true);
  expect(countOnLeave(t.db, TODAY, away)).toEqual({ visits: 2, short: 0 });
  const needs = { climbers: 0, rescuers: 0, riggers: 0, technicians: 0, people: 40 };
  saveEndEstimate(t.db, {
    endId: endId(hopCode, "near"),
    basis: "test",
    takeoff: { checks: [], drivers: { cableM: 0 }, massKg: 0 } as never,
    estimate: { needs, durationMin: 400, p80Min: 500 } as never,
  });
  expect(countOnLeave(t.db, TODAY, away)).toEqual({ visits: 2, short: 1 });
  expect(loadVisitsMissingPeople(t.db, TODAY).map((v) => [v.visit.visitId, v.short !== ""])).toEqual([
    [near, true],
    [far, false],
  ]);
  // The board marks what is short, and says from when.
  const board = loadBoard(t.db, planInForce(t.db)!, TODAY);
  expect(board.visits.flatMap((v) => (v.missing ? [[v.visitId, v.missing.on]] : []))).toEqual([
    [near, away.fromOn],
  ]);
  // The other day's visit is not on a leave of one day.
  expect(countOnLeave(t.db, TODAY, { ...away, toOn: away.fromOn })).toEqual({ visits: 1, short: 1 });
  expect(sendReport(t, {}).ok).toBe(true);
  expect(loadBoard(t.db, planInForce(t.db)!, TODAY).visits.filter((v) => v.missing)).toEqual([]);
  expect(countOnLeave(t.db, TODAY, away)).toEqual({ visits: 1, short: 0 });
  expect(loadCrewFacts(t.db, "C1")?.people.find((p) => p.name === member.name)?.leave).toContainEqual({
    fromOn: away.fromOn,
    toOn: away.toOn,
    reason: "course",
  });
  expect(setLeaveAction.roles).toEqual(["administrator", "manager"]);
});

test("a certificate taken away names the visits that their crew can no longer do, and one given back takes them off", () => {
  vi.stubEnv("BOTHENDS_NOW", `${TODAY}T08:00:00Z`);
  const t = testStock();
  const [near, far] = [t.visitId, t.laterId];
  for (const m of demoCrews(TODAY).find((c) => c.code === "C1")!.members)
    saveMember(t.db, "C1", {
      ...m,
      leave: [],
      skills: m.isLead ? [{ skill: "climber" }, { skill: "rescue" }] : [{ skill: "climber" }],
    });
  const lead = loadCrews(t.db)
    .find((c) => c.code === "C1")!
    .members.find((m) => m.isLead)!;
  const needs = { climbers: 1, rescuers: 1, riggers: 0, technicians: 0, people: 2 };
  saveEndEstimate(t.db, {
    endId: endId(near.split("/")[0]!, "near"),
    basis: "test",
    takeoff: { checks: [], drivers: { cableM: 0 }, massKg: 0 } as never,
    estimate: { needs, durationMin: 400, p80Min: 500 } as never,
  });
  const context = { db: t.db, visitor: { name: BY.name }, now: BY.at } as never;
  const rescue = { memberCode: lead.code, skill: "rescue" as const };
  expect(loadVisitsMissingPeople(t.db, TODAY)).toEqual([]);
  expect(
    removeCertificateAction.run({ ...rescue, reason: "expired early" }, context, undefined),
  ).toMatchObject({
    value: { short: 1 },
  });
  const row = loadVisitsMissingPeople(t.db, TODAY);
  expect(row).toMatchObject([{ visit: { visitId: near }, away: [], short: "1 rescuer" }]);
  // Of the other visit nothing is known that the crew lacks.
  expect(row.map((v) => v.visit.visitId)).not.toContain(far);
  const ends = addDays(TODAY, 30);
  expect(setCertificateAction.run({ ...rescue, validUntil: ends }, context, undefined)).toMatchObject({
    value: { short: 0 },
  });
  expect(loadVisitsMissingPeople(t.db, TODAY)).toEqual([]);
});
