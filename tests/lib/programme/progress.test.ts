import { expect, test } from "vitest";
import {
  addWorkdays,
  type DesignNow,
  type HopAcceptance,
  hopProgress,
  missedPromises,
  type PlannedVisitTimes,
  progressCurve,
  type SimulatedFinish,
  shutGates,
  summary,
} from "@/lib/programme";
import type { AcceptanceProcedure, Gate } from "@/lib/site";
import { type CalendarDate, calendarDate } from "@/lib/time";

const d = calendarDate;
const hop = (
  code: string,
  promisedOn?: CalendarDate,
  acceptance: AcceptanceProcedure = "with the alignment",
) => ({
  code,
  promisedOn,
  gates: [],
  acceptance,
});
const withOpenGate = (code: string) => ({
  ...hop(code),
  gates: [{ hopId: code, kind: "survey" as const, owner: "Somebody", state: "open" as const }],
});
const passed = (code: string, acceptedOn: CalendarDate) =>
  new Map<string, HopAcceptance>([[code, { state: "accepted", acceptedOn, lacking: "", openRevisits: [] }]]);
/** As of a day on which every promise is still to come, unless one is given. */
const progress = (
  hops: Parameters<typeof hopProgress>[0],
  visits: readonly PlannedVisitTimes[],
  done: ReadonlyMap<string, CalendarDate>,
  simulated?: ReadonlyMap<string, SimulatedFinish>,
  acceptance?: ReadonlyMap<string, HopAcceptance>,
  today = d("2026-02-01"),
) => hopProgress(hops, visits, done, today, simulated, acceptance);
const visit = (over: Partial<PlannedVisitTimes>): PlannedVisitTimes => ({
  visitId: "H/near/install",
  hopCode: "H",
  startOn: d("2026-03-10"),
  endOn: d("2026-03-10"),
  riskMin: 0,
  unplacedRule: null,
  unplacedDetail: null,
  ...over,
});

test("a hop is done when both ends report the alignment done and every reading passed, on the later day", () => {
  const done = new Map([
    ["H/near/alignment", d("2026-03-01")],
    ["H/far/alignment", d("2026-03-02")],
  ]);
  const state = (acceptance?: Map<string, HopAcceptance>) =>
    progress([hop("H", d("2026-03-01"))], [], done, new Map(), acceptance)[0]!;
  expect(state(passed("H", d("2026-03-02")))).toMatchObject({
    state: "done",
    doneOn: "2026-03-02",
    daysLate: 1,
  });
  expect(state(passed("H", d("2026-03-04")))).toMatchObject({ state: "done", doneOn: "2026-03-04" });
  expect(state()).toMatchObject({ state: "to accept", heldBy: "no acceptance reading yet" });
  const missing: HopAcceptance = { state: "open", lacking: "missing: error run", openRevisits: [] };
  expect(state(new Map([["H", missing]]))).toMatchObject({
    state: "to accept",
    plannedOn: "2026-03-02",
    heldBy: "missing: error run",
  });
  expect(state(new Map([["H", missing]])).doneOn).toBeUndefined();
  // Worked, not accepted: in every curve but that of finished hops.
  expect(progressCurve([state()], d("2026-03-16")).at(-1)).toMatchObject({ planned: 1, p50: 1, p80: 1 });
  expect(progressCurve([state()], d("2026-03-16")).find((p) => p.on === "2026-03-16")?.done).toBe(0);
  done.delete("H/far/alignment");
  expect(progress([hop("H")], [], done)[0]!.state).not.toBe("done");
});

test("an alignment that takes two visits is done when its last part is", () => {
  const parts = ["H/near/alignment", "H/far/alignment", "H/near/alignment-2", "H/far/alignment-2"];
  const visits = parts.map((visitId) => visit({ visitId }));
  const done = new Map([
    [parts[0]!, d("2026-03-01")],
    [parts[1]!, d("2026-03-01")],
  ]);
  const state = () => progress([hop("H")], visits, done, new Map(), passed("H", d("2026-03-04")))[0]!;
  expect(state().state).not.toBe("done");
  done.set(parts[2]!, d("2026-03-03"));
  expect(state().state).not.toBe("done");
  done.set(parts[3]!, d("2026-03-04"));
  expect(state()).toMatchObject({ state: "done", doneOn: "2026-03-04" });
});

test("planned after the promise is late, P80 after the promise is at risk, else on promise", () => {
  const state = (promise: string, riskMin: number) =>
    progress([hop("H", d(promise))], [visit({ riskMin })], new Map())[0]!.state;
  expect(state("2026-03-09", 0)).toBe("late");
  expect(state("2026-03-10", 0)).toBe("on promise");
  expect(state("2026-03-10", 30)).toBe("at risk");
  expect(state("2026-03-20", 30)).toBe("on promise");
});

test("an unplaced visit holds the hop, with the reason", () => {
  const visits = [
    visit({}),
    visit({ endOn: null, unplacedRule: "gate", unplacedDetail: "open gate: survey" }),
  ];
  expect(progress([withOpenGate("H")], visits, new Map())[0]).toMatchObject({
    state: "held",
    heldBy: "open gate: survey (Somebody), no date",
  });
  // Its gate has a date now: the plan in force does not know yet.
  const since = progress([hop("H")], visits, new Map())[0]!;
  expect(since.state).toBe("not planned");
  expect(since.heldBy).toContain("dated or met since");
});

test("a hop that no plan has seen is held by what its next plan would name first", () => {
  const state = (
    design?: DesignNow,
    of: ReturnType<typeof hop> | ReturnType<typeof withOpenGate> = hop("H"),
  ) => {
    const { state, heldBy } = progress([{ ...of, design }], [], new Map())[0]!;
    return [state, heldBy];
  };
  const nowhere = [{ side: "far" as const, siteCode: "B" }];
  expect(state()).toEqual(["not planned", undefined]);
  expect(state({ withoutCoordinate: [] })).toEqual(["not planned", undefined]);
  expect(state({ stop: "design check: X.", withoutCoordinate: nowhere }, withOpenGate("H"))).toEqual([
    "held",
    "design check: X.",
  ]);
  expect(state({ withoutCoordinate: nowhere }, withOpenGate("H"))[1]).toContain("open gate: survey");
  expect(state({ withoutCoordinate: nowhere })).toEqual([
    "held",
    "site B has no coordinate: add latitude and longitude",
  ]);
  expect(state({ lacksEnd: true, withoutCoordinate: [] })).toEqual([
    "held",
    "an end is missing in the design data",
  ]);
});

test("a hop that one gate lets go is held by what still stops its other end", () => {
  const visits = [
    visit({ endOn: null, unplacedRule: "gate", unplacedDetail: "open gate: survey (Somebody), no date" }),
    visit({
      visitId: "H/far/install",
      endOn: null,
      unplacedRule: "coordinate",
      unplacedDetail: "site B has no coordinate",
    }),
  ];
  expect(progress([hop("H")], visits, new Map())[0]).toMatchObject({
    state: "held",
    heldBy: "site B has no coordinate",
  });
});

test("a visit that its crew put on hold since the plan was made holds the hop, with the crew's reason", () => {
  const visits = [
    visit({}),
    visit({ visitId: "H/far/install", hold: { by: "Rita", reason: "gate locked, no key" } }),
  ];
  expect(progress([hop("H", d("2026-03-20"))], visits, new Map())[0]).toMatchObject({
    state: "held",
    heldBy: "put on hold by Rita: gate locked, no key",
  });
});

const siteReady = (over: Partial<Gate>): Gate => ({
  hopId: "H",
  side: "far",
  kind: "site ready",
  owner: "o",
  state: "dated",
  ...over,
});

test("a visit planned before its gate opens puts the hop at risk, and late when the gate alone opens after the promise", () => {
  const visits = [
    visit({ startOn: d("2026-03-09"), endOn: d("2026-03-09") }),
    visit({ visitId: "H/far/install" }),
    visit({ visitId: "H/far/alignment", startOn: d("2026-03-12"), endOn: d("2026-03-12") }),
  ];
  const of = (gate: Partial<Gate>, promise?: CalendarDate, done = new Map<string, CalendarDate>()) =>
    progress([{ ...hop("H", promise), gates: [siteReady(gate)] }], visits, done)[0]!;
  const promise = d("2026-03-25");
  expect(of({ dueOn: d("2026-03-10") }, promise)).toMatchObject({ state: "on promise", shutGates: [] });
  expect(of({ dueOn: d("2026-03-11") }, promise)).toMatchObject({
    state: "at risk",
    plannedOn: "2026-03-12",
    daysLate: -13,
    shutGates: [
      {
        gate: { kind: "site ready" },
        visits: [{ visitId: "H/far/install", startOn: "2026-03-10" }],
      },
    ],
  });
  expect(of({ dueOn: d("2026-03-27") }, promise)).toMatchObject({ state: "late", daysLate: 2 });
  // Without a promise too; a date that was taken away holds all but the other end's install.
  expect(of({ dueOn: d("2026-03-11") }).state).toBe("at risk");
  expect(of({ state: "open" }, promise)).toMatchObject({
    state: "at risk",
    shutGates: [{ visits: [{ visitId: "H/far/install" }, { visitId: "H/far/alignment" }] }],
  });
  // Met, or for work that was done all the same.
  expect(of({ state: "met", dueOn: d("2026-03-27") }, promise).state).toBe("on promise");
  const done = new Map([["H/far/install", d("2026-03-10")]]);
  expect(of({ dueOn: d("2026-03-11") }, promise, done).state).toBe("on promise");
  expect(of({ dueOn: d("2026-03-13") }, promise, done).shutGates).toMatchObject([
    { visits: [{ visitId: "H/far/alignment" }] },
  ]);
});

test("a gate of one end leaves the other end's visits alone, unless it has no date", () => {
  const visits = [
    { visitId: "H/near/install", startOn: d("2026-03-09") },
    { visitId: "H/near/alignment", startOn: d("2026-03-10") },
  ];
  expect(shutGates(visits, [siteReady({ dueOn: d("2026-03-20") })])).toEqual([]);
  expect(shutGates(visits, [siteReady({ state: "open" })])).toMatchObject([
    { visits: [{ visitId: "H/near/alignment" }] },
  ]);
  expect(shutGates(visits, [siteReady({ side: undefined, dueOn: d("2026-03-20") })])).toMatchObject([
    { visits: [{ visitId: "H/near/install" }, { visitId: "H/near/alignment" }] },
  ]);
  expect(shutGates([{ visitId: "H/far/install", startOn: null }], [siteReady({ state: "open" })])).toEqual(
    [],
  );
});

test("working days skip weekends", () => {
  expect(addWorkdays(d("2026-03-06"), 1)).toBe("2026-03-09");
  expect(addWorkdays(d("2026-03-02"), 5)).toBe("2026-03-09");
  expect(addWorkdays(d("2026-03-02"), 0)).toBe("2026-03-02");
});

test("the curve never falls, P80 is never ahead of the plan, and it ends with every planned hop", () => {
  const hops = progress(
    [hop("A", d("2026-03-12")), hop("B", d("2026-03-15")), withOpenGate("C")],
    [
      visit({ hopCode: "A", endOn: d("2026-03-11"), riskMin: 400 }),
      visit({ hopCode: "B", endOn: d("2026-04-02"), riskMin: 1300 }),
      visit({ hopCode: "C", endOn: null, unplacedRule: "gate" }),
    ],
    new Map(),
  );
  const curve = progressCurve(hops, d("2026-03-02"));
  for (let i = 1; i < curve.length; i++) {
    expect(curve[i]!.planned).toBeGreaterThanOrEqual(curve[i - 1]!.planned);
    expect(curve[i]!.p80).toBeLessThanOrEqual(curve[i]!.p50);
  }
  expect(curve.at(-1)).toMatchObject({ planned: 2, p80: 2, promised: 2 });
  expect(curve.filter((p) => p.done !== undefined).every((p) => p.on <= "2026-03-02")).toBe(true);
  expect(summary(hops)).toMatchObject({
    done: 0,
    late: 1,
    lateDays: 18,
    held: 1,
    atRisk: 0,
    onPromise: 1,
  });
});

test("a hop that is not accepted when its promise has passed is late by the days since, whatever its plan says", () => {
  const today = d("2026-03-16");
  const both = new Map([
    ["H/near/alignment", d("2026-03-09")],
    ["H/far/alignment", d("2026-03-09")],
  ]);
  const failed = (openRevisits: string[]): HopAcceptance => ({
    state: "failed",
    lacking: "far end, receive level R1 failed",
    openRevisits,
  });
  const of = (
    visits: PlannedVisitTimes[],
    done = new Map<string, CalendarDate>(),
    acceptance?: HopAcceptance,
  ) =>
    progress(
      [hop("H", d("2026-03-10"))],
      visits,
      done,
      new Map([["H", { p50On: today, p80On: today, promiseMetShare: 0.4 }]]),
      acceptance && new Map([["H", acceptance]]),
      today,
    )[0]!;
  // Its work was done in time; the reading failed, and its revisits were withdrawn.
  const withdrawn = visit({ visitId: "H/near/revisit", endOn: d("2026-03-20"), isWithdrawn: true });
  expect(of([withdrawn], both, failed([]))).toMatchObject({
    state: "late",
    byPlan: "to accept",
    plannedOn: "2026-03-09",
    daysLate: 6,
    promiseMetShare: 0,
    heldBy: "work done, readings missing or failed, no revisit planned: far end, receive level R1 failed",
  });
  // The plan's own end lies further behind.
  expect(of([visit({ endOn: d("2026-03-30") })])).toMatchObject({ state: "late", daysLate: 20 });
  expect(of([visit({ endOn: d("2026-03-09") })])).toMatchObject({ state: "late", daysLate: 6 });
  expect(of([])).toMatchObject({ state: "late", byPlan: "not planned", daysLate: 6 });
  const held = of([visit({ hold: { by: "Rita", reason: "no key" } })]);
  expect(held).toMatchObject({ state: "late", byPlan: "held", heldBy: "put on hold by Rita: no key" });
  expect(of([], both, passed("H", d("2026-03-12")).get("H"))).toMatchObject({ state: "done", daysLate: 2 });
  const hops = [held, of([], both, passed("H", d("2026-03-12")).get("H"))];
  expect([...missedPromises(hops, today)]).toEqual(["H"]);
  expect(missedPromises(hops, d("2026-03-10")).size).toBe(0);
  expect(summary(hops)).toMatchObject({ late: 1, lateDays: 6, held: 0, done: 1 });
});

test("hops without a place count as not planned while their promise lies ahead", () => {
  const hops = progress([hop("A", d("2026-02-20")), hop("B", d("2026-03-20")), hop("C")], [], new Map());
  expect(summary(hops)).toMatchObject({ late: 0, lateDays: 0, notPlanned: 3 });
});

test("a simulation of the plan gives P50 and P80 and decides who is at risk", () => {
  const simulated = (p50: string, p80: string, promiseMetShare?: number) =>
    new Map([["H", { p50On: d(p50), p80On: d(p80), promiseMetShare }]]);
  const visits = [visit({ riskMin: 6000 })];
  const of = (promise: string, s: ReturnType<typeof simulated>) =>
    progress([hop("H", d(promise))], visits, new Map(), s)[0]!;
  // By its own visits alone it would be at risk: ten working days of weather.
  expect(of("2026-03-12", simulated("2026-03-10", "2026-03-12", 0.85))).toMatchObject({
    state: "on promise",
    plannedOn: "2026-03-10",
    p50On: "2026-03-10",
    p80On: "2026-03-12",
    promiseMetShare: 0.85,
  });
  const late = of("2026-03-12", simulated("2026-03-11", "2026-03-13"));
  expect(late.state).toBe("at risk");
  const curve = progressCurve([late], d("2026-03-09"));
  expect(curve.map((p) => [p.on, p.planned, p.p50, p.p80])).toEqual([
    ["2026-03-09", 0, 0, 0],
    ["2026-03-16", 1, 1, 1],
  ]);
});

test("a revisit that no plan has placed yet leaves the hop unplanned, one in the plan counts for its date", () => {
  const done = new Map([
    ["H/near/alignment", d("2026-03-01")],
    ["H/far/alignment", d("2026-03-01")],
  ]);
  const failed = new Map<string, HopAcceptance>([
    [
      "H",
      {
        state: "failed",
        lacking: "far end, receive level R1 failed",
        openRevisits: ["H/near/revisit", "H/far/revisit"],
      },
    ],
  ]);
  const state = (visits: PlannedVisitTimes[]) =>
    progress([hop("H", d("2026-03-20"))], visits, done, new Map(), failed)[0]!;
  expect(state([])).toMatchObject({
    state: "not planned",
    heldBy: "revisit not in the plan yet: far end, receive level R1 failed",
  });
  const placed = ["H/near/revisit", "H/far/revisit"].map((visitId) =>
    visit({ visitId, endOn: d("2026-03-12") }),
  );
  expect(state(placed)).toMatchObject({ state: "on promise", plannedOn: "2026-03-12" });
});

test("acceptance on a visit of its own keeps the hop open until both ends had theirs", () => {
  const done = new Map([
    ["H/near/alignment", d("2026-03-01")],
    ["H/far/alignment", d("2026-03-01")],
    ["H/near/acceptance", d("2026-03-05")],
  ]);
  const state = () =>
    progress([hop("H", undefined, "own visit")], [], done, new Map(), passed("H", d("2026-03-05")))[0]!;
  expect(state().state).not.toBe("done");
  done.set("H/far/acceptance", d("2026-03-06"));
  expect(state()).toMatchObject({ state: "done", doneOn: "2026-03-06" });
});

test("a withdrawn revisit counts as nothing left to do", () => {
  const off = visit({ visitId: "H/near/revisit", endOn: d("2026-03-20"), isWithdrawn: true });
  const [h] = progress([hop("H", d("2026-03-15"))], [visit({}), off], new Map());
  expect(h).toMatchObject({ state: "on promise", plannedOn: "2026-03-10" });
  const done = new Map([
    ["H/near/alignment", d("2026-03-01")],
    ["H/far/alignment", d("2026-03-01")],
  ]);
  const again = { ...off, visitId: "H/near/revisit-2" };
  expect(progress([hop("H")], [again], done, new Map(), passed("H", d("2026-03-02")))[0]!.state).toBe("done");
});
