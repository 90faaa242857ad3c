import { expect, test } from "vitest";
import { refreshEstimates } from "@/app/_server/planning";
import { makeWords } from "@/app/_ui/language/words";
import { kitStateWords } from "@/app/(work)/kits/kitStateWords";
import { storeReadings, withdrawRevisit } from "@/db/queries/acceptance";
import { loadCalendarVisits } from "@/db/queries/crewCalendar";
import { loadDataSince, seenRows } from "@/db/queries/dataSince";
import { loadHop, saveGate, saveHop } from "@/db/queries/design";
import { findableThings } from "@/db/queries/find";
import { pickLine } from "@/db/queries/kitPicking";
import { loadKitRows } from "@/db/queries/kitRows";
import { labelRows } from "@/db/queries/labels";
import { addPlanVisits, loadKit, loadPlanVisits, planInForce, setKitState } from "@/db/queries/plans";
import { loadBoard, loadChangedVisits, planCounts } from "@/db/queries/planViews";
import { loadProgrammeInput } from "@/db/queries/programme";
import { loadProgrammeState } from "@/db/queries/progress";
import { addReport } from "@/db/queries/reports";
import { loadHopRows, loadReportsOfHops, loadVisitViews } from "@/db/queries/siteViews";
import { loadVisitDesk } from "@/db/queries/visitDesk";
import { loadCrewWeek } from "@/db/queries/week";
import { readingsAsked } from "@/lib/acceptance";
import { HELD_BY, visitIdOf } from "@/lib/programme";
import type { Gate } from "@/lib/site";
import { addDays } from "@/lib/time";
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
      leftMin: outcome === "part done" ? 240 : undefined,
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
  expect(loadReportsOfHops(t.db, [hopCode]).map((r) => r.leftMin)).toEqual([null, 240]);
  expect(states()).toEqual([
    ["near", "done", TODAY],
    ["far", null, null],
  ]);
});

test("the crew's page knows the day for which the other end of joint work was reported done", () => {
  const t = testStock();
  t.db.$client.prepare("UPDATE plan_visit SET is_joint = 1").run();
  expect(loadVisitDesk(t.db, t.visitId)?.otherEndDoneOn).toBeUndefined();
  const report = (outcome: "done" | "part done") =>
    addReport(t.db, {
      key: outcome,
      visitId: t.visitId.replace("near", "far"),
      hopCode: t.visitId.split("/")[0]!,
      crewCode: "C1",
      workedOn: TODAY,
      outcome,
      workedMin: 200,
      note: "",
      reportedBy: BY.name,
      reportedAt: BY.at,
      uses: [],
    });
  report("part done");
  expect(loadVisitDesk(t.db, t.visitId)?.otherEndDoneOn).toBeUndefined();
  report("done");
  expect(loadVisitDesk(t.db, t.visitId)?.otherEndDoneOn).toBe(TODAY);
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

test("a design that was mended, or a coordinate that was given, stops being the reason, in list, page, board and programme", () => {
  const t = testStock();
  const hopCode = t.visitId.split("/")[0]!;
  const stopBy = (rule: string, detail: string) =>
    t.db.$client
      .prepare(
        `UPDATE plan_visit SET crew_code = NULL, start_on = NULL, start_min = NULL, end_on = NULL, end_min = NULL,
           unplaced_rule = ?, unplaced_detail = ? WHERE hop_code = ?`,
      )
      .run(rule, detail, hopCode);
  const takeOff = () =>
    refreshEstimates(
      t.db,
      loadProgrammeInput(t.db, { today: TODAY, dayCount: 1, frozenDays: 0 }),
      () => {},
      () => false,
    );
  const told = () => [
    loadVisitViews(t.db, { hopCode }).find((v) => v.visitId === t.visitId)?.unplacedReason,
    loadBoard(t.db, planInForce(t.db)!, TODAY).visits.find((v) => v.visitId === t.visitId)?.unplacedDetail,
    loadHopRows(t.db, TODAY, [hopCode])[0]?.heldBy,
    loadProgrammeState(t.db, TODAY).hops.find((h) => h.hopCode === hopCode)?.heldBy,
  ];
  const everywhere = (reason: string) => Array(4).fill(reason);

  const halves = (near: string, far: string) => {
    for (const [side, half] of [
      ["near", near],
      ["far", far],
    ])
      t.db.$client.prepare("UPDATE odu SET half = ? WHERE end_id = ?").run(half, `${hopCode}/${side}`);
    takeOff();
  };
  halves("high", "high");
  const bothHigh = "design check: Both ends transmit in the high half.";
  stopBy("design check", bothHigh);
  expect(told()).toEqual(everywhere(bothHigh));
  halves("low", "high");
  expect(told()).toEqual(everywhere(HELD_BY.designMendedSince));
  expect(loadHopRows(t.db, TODAY, [hopCode])[0]?.state).toBe("not planned");

  const { siteCode } = loadPlanVisits(t.db, t.plan.id).find((v) => v.visitId === t.visitId)!;
  const position = t.db.$client.prepare("SELECT lat_deg, lon_deg FROM site WHERE code = ?").get(siteCode) as {
    lat_deg: number;
    lon_deg: number;
  };
  const put = (lat: number | null, lon: number | null) =>
    t.db.$client.prepare("UPDATE site SET lat_deg = ?, lon_deg = ? WHERE code = ?").run(lat, lon, siteCode);
  const nowhere = `site ${siteCode} has no coordinate: add latitude and longitude`;
  put(null, null);
  stopBy("coordinate", nowhere);
  expect(told()).toEqual(everywhere(nowhere));
  put(position.lat_deg, position.lon_deg);
  expect(told()).toEqual(everywhere(HELD_BY.coordinateSince));
});

test("a hold reported at the plan's own instant holds its hop in the list as on the Programme page", () => {
  const t = testStock();
  const hopCode = t.visitId.split("/")[0]!;
  t.db.$client
    .prepare("UPDATE plan SET basis = json_set(basis, '$.seen', json(?)) WHERE id = ?")
    .run(JSON.stringify(seenRows(t.db)), t.plan.id);
  addReport(t.db, {
    key: "held",
    visitId: t.visitId,
    hopCode,
    crewCode: "C1",
    workedOn: TODAY,
    outcome: "hold",
    holdReason: "gate locked",
    workedMin: 60,
    note: "",
    reportedBy: BY.name,
    reportedAt: t.plan.createdAt,
    uses: [],
  });
  const held = { state: "held", heldBy: `put on hold by ${BY.name}: gate locked` };
  expect(loadHopRows(t.db, TODAY, [hopCode])[0]).toMatchObject(held);
  expect(loadProgrammeState(t.db, TODAY).hops.find((h) => h.hopCode === hopCode)).toMatchObject(held);
  const week = () =>
    loadCrewWeek(t.db, "C1", TODAY, addDays(TODAY, 60)).visits.find((v) => v.visitId === t.visitId);
  const told = () => ({
    hop: loadHopRows(t.db, TODAY, [hopCode])[0]?.state === "held",
    programme: loadProgrammeState(t.db, TODAY).hops.find((h) => h.hopCode === hopCode)?.state === "held",
    table: loadVisitViews(t.db, { hopCode }).find((v) => v.visitId === t.visitId)?.outcome,
    record: loadReportsOfHops(t.db, [hopCode])[0]?.isOver,
    desk: loadVisitDesk(t.db, t.visitId)?.hold?.reason,
    week: week()?.hold?.by,
    banner: loadDataSince(t.db, planInForce(t.db)!).some((c) => c.kind === "reports"),
  });
  expect(told()).toEqual({
    hop: true,
    programme: true,
    table: "hold",
    record: false,
    desk: "gate locked",
    week: BY.name,
    banner: true,
  });

  // The next plan read the report: it gave the visit its place anew, and no page says on hold any more.
  t.db.$client
    .prepare("UPDATE plan SET basis = json_set(basis, '$.seen', json(?)) WHERE id = ?")
    .run(JSON.stringify(seenRows(t.db)), t.plan.id);
  expect(told()).toEqual({
    hop: false,
    programme: false,
    table: "planned again",
    record: true,
    desk: undefined,
    week: undefined,
    banner: false,
  });
  expect(week()?.report).toMatchObject({ outcome: "hold", holdReason: "gate locked" });
});

test("a kit that is begun says how many of its lines are whole, on the crew's week and the hop's page alike", () => {
  const t = testStock();
  const hopCode = t.visitId.split("/")[0]!;
  const kit = loadKit(t.db, t.plan.id, t.visitId)!;
  const line = kit.lines.findIndex((l) => !l.runId && l.neededC > 0);
  expect(
    pickLine(t.db, t.plan.id, t.visitId, line + 1, Math.ceil(kit.lines[line]!.neededC / 100) * 100, BY).ok,
  ).toBe(true);
  const of = { lineCount: kit.lines.length, pickedCount: 1 };
  const week = loadCrewWeek(t.db, "C1", TODAY, addDays(TODAY, 60)).visits.find(
    (v) => v.visitId === t.visitId,
  );
  expect(week?.kit).toMatchObject({ state: "picked", ...of });
  const view = loadVisitViews(t.db, { hopCode }).find((v) => v.visitId === t.visitId);
  expect(view).toMatchObject({ kitState: "picked", ...of });
  const words = (pickedCount: number) =>
    kitStateWords({ state: "picked", lineCount: 26, pickedCount }, makeWords("en", {}).t);
  expect(words(1)).toBe("Picking, 1 of 26 lines");
});

test("a withdrawn revisit stays in the plan's rows, marked, and counts nowhere: late, to come, kits, calendar, comparison", () => {
  const t = testStock();
  const plan = planInForce(t.db)!;
  const hopCode = t.visitId.split("/")[0]!;
  const promisedOn = addDays(TODAY, 5);
  // Nothing but its revisit threatens it.
  saveHop(t.db, { ...loadHop(t.db, hopCode)!, gates: [] });
  t.db.$client.prepare("UPDATE hop SET promised_on = ? WHERE code = ?").run(promisedOn, hopCode);
  const [level] = readingsAsked(loadHop(t.db, hopCode)!);
  const readings = [{ askedId: level!.id, value: level!.targetLevelDbm! - 6 }];
  const stored = storeReadings(
    t.db,
    { hopCode, readings, takenOn: TODAY, note: "" },
    { ...BY, today: TODAY },
  );
  expect(stored.ok).toBe(true);
  const install = loadPlanVisits(t.db, plan.id).find((v) => v.visitId === t.visitId)!;
  const on = addDays(TODAY, 8);
  const visitId = visitIdOf(hopCode, "near", "revisit");
  addPlanVisits(t.db, plan.id, [{ ...install, visitId, kind: "revisit", startOn: on, endOn: on }]);
  t.db.$client
    .prepare(
      `INSERT INTO kit (plan_id, visit_id, pick_on, place_code, state, mass_kg, volume_l)
       SELECT plan_id, ?, pick_on, place_code, 'planned', 1, 1 FROM kit WHERE visit_id = ?`,
    )
    .run(visitId, t.visitId);
  const seen = () => ({
    late: loadBoard(t.db, plan, TODAY).visits.filter((v) => v.isLate).length,
    counted: planCounts(t.db, plan.id, TODAY).lateHops,
    page: loadVisitViews(t.db, { hopCode }).find((v) => v.visitId === visitId)?.outcome,
    week: loadCrewWeek(t.db, install.crewCode!, TODAY, on).visits.find((v) => v.visitId === visitId)
      ?.isWithdrawn,
    calendar: loadCalendarVisits(t.db, install.crewCode!, TODAY).some((v) => v.visitId === visitId),
    kits: loadKitRows(t.db, plan.id).some((k) => k.visitId === visitId),
    labels: labelRows(t.db, plan, { kind: "kit" }, (day) => day).some((r) => r.code === visitId),
    found: findableThings(t.db)
      .flat()
      .filter((f) => f.code === visitId)
      .map((f) => (f.isWithdrawn ? `${f.kind}, withdrawn` : f.kind)),
    changed: loadChangedVisits(t.db, plan.id, undefined, TODAY).some((c) => c.visitId === visitId),
  });
  const before = seen();
  expect(before).toMatchObject({ counted: 1, page: null, calendar: true, kits: true, changed: true });
  expect(before).toMatchObject({ labels: true, found: ["kit", "visit"] });
  expect(before.late).toBeGreaterThan(0);
  expect(withdrawRevisit(t.db, { visitId, why: "the meter was wrong" }, BY).ok).toBe(true);
  expect(seen()).toEqual({
    late: 0,
    counted: 0,
    page: "withdrawn",
    week: true,
    calendar: false,
    kits: false,
    labels: false,
    found: ["visit, withdrawn"],
    changed: false,
  });
  // What somebody picked for it has to go back, so its box keeps its label.
  setKitState(t.db, plan.id, visitId, "picked");
  expect(seen()).toMatchObject({ kits: true, labels: true, found: ["kit, withdrawn", "visit, withdrawn"] });
  expect(labelRows(t.db, plan, { kind: "kit", code: visitId }, (day) => day)[0]?.lines[0]).toMatchObject({
    text: "Withdrawn: what is in it goes back",
  });
  setKitState(t.db, plan.id, visitId, "planned");
  const [row] = loadHopRows(t.db, TODAY).filter((h) => h.code === hopCode);
  expect([row?.plannedOn, row?.state]).toEqual([
    loadProgrammeState(t.db, TODAY).hops.find((h) => h.hopCode === hopCode)?.plannedOn,
    "on promise",
  ]);
  addReport(t.db, {
    key: "all the same",
    visitId,
    hopCode,
    crewCode: install.crewCode!,
    workedOn: TODAY,
    outcome: "done",
    workedMin: 60,
    note: "",
    reportedBy: BY.name,
    reportedAt: BY.at,
    uses: [],
  });
  expect(seen().page).toBe("done");
});
