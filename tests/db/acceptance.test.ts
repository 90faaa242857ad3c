import { expect, test } from "vitest";
import {
  CORRECTED_WHY,
  hopAcceptances,
  loadReadings,
  loadRevisits,
  type NewReading,
  openAnotherRevisit,
  revisitsOfHop,
  storeReadings,
  withdrawRevisit,
} from "@/db/queries/acceptance";
import { addPolicyVersion } from "@/db/queries/catalogue";
import { loadHop, loadHops, saveHops } from "@/db/queries/design";
import { loadLog } from "@/db/queries/log";
import { addReport } from "@/db/queries/reports";
import { loadHopRows } from "@/db/queries/siteViews";
import { DEFAULT_ACCEPTANCE_LIMITS, readingsAsked } from "@/lib/acceptance";
import { addDays } from "@/lib/time";
import { TODAY, testStock } from "./make";

const by = { name: "Ana Vell", at: 1_700_000_000_000, today: TODAY };

function withHop(alignment: "both ends at once" | "end after end" = "both ends at once") {
  const { db } = testStock();
  const hop = { ...loadHops(db)[0]!, alignment };
  saveHops(db, [hop]);
  return { db, hop };
}

type Made = ReturnType<typeof withHop>;

const passing = ({ hop }: Made): NewReading[] =>
  readingsAsked(hop).map((a) => {
    if (a.form === "passed") return { askedId: a.id, passed: true };
    const value = { "receive level": a.targetLevelDbm, "cross-polar": 30, "earth resistance": 4 }[
      a.kind as string
    ];
    return { askedId: a.id, value: value ?? 0 };
  });

const store = ({ db, hop }: Made, readings: NewReading[], takenOn = TODAY) =>
  storeReadings(db, { hopCode: hop.code, readings, takenOn, note: "" }, by);

const reportDone = ({ db, hop }: Made, visitId: string) =>
  addReport(db, {
    key: visitId,
    visitId,
    hopCode: hop.code,
    crewCode: "C1",
    workedOn: TODAY,
    outcome: "done",
    workedMin: 60,
    note: "",
    reportedBy: "x",
    reportedAt: by.at,
    uses: [],
  });

const offBy = (made: Made, db: number): NewReading => {
  const level = readingsAsked(made.hop)[0]!;
  return { askedId: level.id, value: level.targetLevelDbm! + db };
};

test("a hop is done when its work is and every reading passed", () => {
  const made = withHop();
  for (const side of ["near", "far"]) reportDone(made, `${made.hop.code}/${side}/alignment`);
  const state = () => loadHopRows(made.db, TODAY, [made.hop.code])[0]!;
  expect(state()).toMatchObject({ state: "to accept", heldBy: "no acceptance reading yet" });
  const all = passing(made);
  expect(store(made, all.slice(0, -1)).ok).toBe(true);
  expect(state()).toMatchObject({ state: "to accept", heldBy: "missing: error run" });
  expect(store(made, all.slice(-1)).ok).toBe(true);
  expect(state()).toMatchObject({ state: "done", doneOn: TODAY, heldBy: null });
});

test("a failed level opens one joint revisit, and a second failing reading no other", () => {
  const made = withHop();
  const first = store(made, [...passing(made), offBy(made, -6)]);
  expect(first.ok && first.value.opened).toEqual([
    `${made.hop.code}/near/revisit`,
    `${made.hop.code}/far/revisit`,
  ]);
  expect(loadRevisits(made.db)).toMatchObject([
    { side: "far", no: 1, remedy: "align again", isJoint: true },
    { side: "near", no: 1, remedy: "align again", isJoint: true },
  ]);
  const again = store(made, [offBy(made, -5)]);
  expect(again.ok && again.value.opened).toEqual([]);
  expect(hopAcceptances(made.db).get(made.hop.code)).toMatchObject({ state: "failed" });
});

test("once a revisit is done, a reading that fails again opens the next", () => {
  const made = withHop();
  store(made, [offBy(made, -6)]);
  for (const side of ["near", "far"]) reportDone(made, `${made.hop.code}/${side}/revisit`);
  expect(hopAcceptances(made.db).get(made.hop.code)!.openRevisits).toEqual([]);
  const again = store(made, [offBy(made, -6)]);
  expect(again.ok && again.value.opened).toEqual([
    `${made.hop.code}/near/revisit-2`,
    `${made.hop.code}/far/revisit-2`,
  ]);
});

test("where ends are aligned by themselves, only the end that is off is aligned again", () => {
  const made = withHop("end after end");
  const opened = store(made, [offBy(made, 4)]);
  expect(opened.ok && opened.value.opened).toEqual([`${made.hop.code}/near/revisit`]);
});

test("readings are refused as a whole, by name, when one is not asked for or has the wrong form", () => {
  const made = withHop();
  const refused = store(made, [
    offBy(made, 0),
    { askedId: "near/receive level/R9", value: -40 },
    { askedId: "near/photos", value: 1 },
    { askedId: "far/earth resistance", passed: true },
  ]);
  expect(refused.ok).toBe(false);
  expect(!refused.ok && refused.problems.map((p) => [p.path, p.rule])).toEqual([
    ["readings.near/receive level/R9", "reading-not-asked"],
    ["readings.near/photos", "reading-form"],
    ["readings.far/earth resistance", "reading-form"],
  ]);
  const level = offBy(made, 0);
  const plus = store(made, [{ ...level, value: -level.value! }]);
  expect(!plus.ok && plus.problems.map((p) => [p.path, p.rule])).toEqual([
    [`readings.${level.askedId}`, "level-above-zero"],
  ]);
  const future = store(made, [offBy(made, 0)], addDays(TODAY, 1));
  expect(!future.ok && future.problems[0]!.rule).toBe("future-reading");
  const nowhere = storeReadings(made.db, { hopCode: "NO", readings: [], takenOn: TODAY, note: "" }, by);
  expect(!nowhere.ok && nowhere.problems[0]!.rule).toBe("hop-unknown");
  expect(loadReadings(made.db)).toEqual([]);
});

test("a revisit is withdrawn at both ends with its reason, once, and never after it is done", () => {
  const made = withHop();
  store(made, [offBy(made, -6)]);
  const visitId = `${made.hop.code}/far/revisit`;
  expect(withdrawRevisit(made.db, { visitId, why: "the meter was wrong" }, by).ok).toBe(true);
  expect(loadRevisits(made.db)).toEqual([]);
  expect(revisitsOfHop(made.db, made.hop.code).map((r) => r.withdrawnWhy)).toEqual([
    "the meter was wrong",
    "the meter was wrong",
  ]);
  const twice = withdrawRevisit(made.db, { visitId, why: "again" }, by);
  expect(!twice.ok && twice.problems[0]!.rule).toBe("revisit-not-open");
  expect(loadLog(made.db, 5, `hop ${made.hop.code}`)[0]).toMatchObject({
    action: "withdraw revisit",
    userName: "Ana Vell",
  });

  store(made, [offBy(made, -6)]);
  const second = `${made.hop.code}/far/revisit-2`;
  reportDone(made, second);
  const late = withdrawRevisit(made.db, { visitId: second, why: "too late" }, by);
  expect(!late.ok && late.problems[0]!.message).toBe("This revisit was reported done.");
});

test("another revisit is opened for a reading that still fails once the one before is done or withdrawn", () => {
  const made = withHop();
  const bad = offBy(made, -6);
  store(made, [bad]);
  const wish = { hopCode: made.hop.code, askedId: bad.askedId };
  const rule = (r: ReturnType<typeof openAnotherRevisit>) => (r.ok ? r.value.opened : r.problems[0]!.rule);
  expect(rule(openAnotherRevisit(made.db, wish, by))).toBe("revisit-open");
  for (const side of ["near", "far"]) reportDone(made, `${made.hop.code}/${side}/revisit`);
  expect(hopAcceptances(made.db).get(made.hop.code)).toMatchObject({ state: "failed", openRevisits: [] });
  const second = ["near", "far"].map((side) => `${made.hop.code}/${side}/revisit-2`);
  expect(rule(openAnotherRevisit(made.db, wish, by))).toEqual(second);
  expect([...hopAcceptances(made.db).get(made.hop.code)!.openRevisits].sort()).toEqual([...second].sort());
  expect(loadLog(made.db, 5, `hop ${made.hop.code}`)[0]).toMatchObject({
    action: "open revisit",
    userName: "Ana Vell",
  });
  expect(rule(openAnotherRevisit(made.db, wish, by))).toBe("revisit-open");
  withdrawRevisit(made.db, { visitId: second[0]!, why: "crew is there anyway" }, by);
  expect(rule(openAnotherRevisit(made.db, wish, by))).toHaveLength(2);
  store(made, [offBy(made, 0)]);
  expect(rule(openAnotherRevisit(made.db, wish, by))).toBe("reading-not-failed");
});

test("of joint work the end that was reported done keeps its row when the other is withdrawn", () => {
  const made = withHop();
  store(made, [offBy(made, -6)]);
  reportDone(made, `${made.hop.code}/far/revisit`);
  const near = `${made.hop.code}/near/revisit`;
  expect(withdrawRevisit(made.db, { visitId: near, why: "not needed" }, by).ok).toBe(true);
  expect(revisitsOfHop(made.db, made.hop.code).map((r) => [r.side, r.withdrawnWhy])).toEqual([
    ["far", null],
    ["near", "not needed"],
  ]);
  expect(hopAcceptances(made.db).get(made.hop.code)!.openRevisits).toEqual([]);
});

test("a corrected reading that passes withdraws what only it asked for, unless that has begun", () => {
  const made = withHop();
  const { db, hop } = made;
  const send = (n: number, readings: NewReading[], correctsId?: number) => {
    const at = by.at + n;
    const { id: reportId } = addReport(db, {
      key: `report ${n}`,
      visitId: `${hop.code}/near/alignment`,
      hopCode: hop.code,
      crewCode: "C1",
      workedOn: TODAY,
      outcome: "done",
      workedMin: 60,
      note: "",
      reportedBy: "x",
      reportedAt: at,
      uses: [],
      correctsId,
    });
    const taken = { hopCode: hop.code, readings, takenOn: TODAY, note: "", reportId, correctsId };
    const stored = storeReadings(db, taken, { ...by, at });
    if (!stored.ok) throw new Error(stored.problems[0]!.message);
    return { reportId, ...stored.value };
  };
  const first = send(1, [offBy(made, -6)]);
  expect(first.opened).toEqual([`${hop.code}/near/revisit`, `${hop.code}/far/revisit`]);
  const stillOff = send(2, [offBy(made, -5)], first.reportId);
  expect(stillOff.withdrawn).toEqual([]);
  const right = send(3, [offBy(made, 0)], stillOff.reportId);
  expect([...right.withdrawn].sort()).toEqual([...first.opened].sort());
  expect(loadRevisits(db)).toEqual([]);
  expect(loadLog(db, 1, `hop ${hop.code}`)[0]).toMatchObject({
    action: "withdraw revisit",
    detail: { why: CORRECTED_WHY },
  });

  const again = send(4, [offBy(made, -6)], right.reportId);
  reportDone(made, again.opened[1]!);
  expect(send(5, [offBy(made, 0)], again.reportId).withdrawn).toEqual([]);
  expect(loadRevisits(db)).toHaveLength(2);
});

test("at the desk a reading in place of a wrong one withdraws what only that one asked for", () => {
  const made = withHop();
  const { db, hop } = made;
  let now = by.at;
  const enter = (readings: NewReading[], isCorrection = false, takenOn = TODAY) => {
    const taken = { hopCode: hop.code, readings, takenOn, note: "", isCorrection };
    const stored = storeReadings(db, taken, { ...by, at: ++now });
    if (!stored.ok) throw new Error(stored.problems[0]!.message);
    return stored.value;
  };
  const wrong = enter([...passing(made).slice(1), offBy(made, -6)]);
  expect(wrong.opened).toHaveLength(2);
  // Read anew and passed is mended, not entered wrongly: a person decides about the visit.
  expect(enter([offBy(made, 0)]).withdrawn).toEqual([]);
  expect(enter([offBy(made, -6)]).opened).toEqual([]);
  expect(enter([offBy(made, -5)], true).withdrawn).toEqual([]);
  // Only the last two were wrong: the first asked for it as well.
  expect(enter([offBy(made, 0)], true).withdrawn).toEqual([]);
  expect(loadRevisits(db)).toHaveLength(2);
  withdrawRevisit(db, { visitId: wrong.opened[0]!, why: "not needed" }, by);

  const second = enter([offBy(made, -6)]);
  enter([offBy(made, -5)], true);
  // Taken the day before: the wrong one counts no more all the same.
  const right = enter([offBy(made, 0)], true, addDays(TODAY, -1));
  expect([...right.withdrawn].sort()).toEqual([...second.opened].sort());
  expect(loadRevisits(db)).toEqual([]);
  expect(hopAcceptances(db).get(hop.code)).toMatchObject({ state: "accepted" });
  expect(loadLog(db, 1, `hop ${hop.code}`)[0]).toMatchObject({
    action: "withdraw revisit",
    detail: { why: CORRECTED_WHY },
  });

  const third = enter([offBy(made, -6)]);
  reportDone(made, third.opened[1]!);
  expect(enter([offBy(made, 0)], true).withdrawn).toEqual([]);
});

test("a wrong reading beside a right one that asks for the same revisit leaves it open", () => {
  const made = withHop();
  const { db, hop } = made;
  const other = readingsAsked(hop).filter((a) => a.kind === "receive level")[1]!;
  const enter = (readings: NewReading[], at: number, isCorrection = false) => {
    const taken = { hopCode: hop.code, readings, takenOn: TODAY, note: "", isCorrection };
    const stored = storeReadings(db, taken, { ...by, at });
    return stored.ok && stored.value.withdrawn;
  };
  enter([offBy(made, -6), { askedId: other.id, value: other.targetLevelDbm! - 6 }], 1);
  enter([{ askedId: other.id, value: other.targetLevelDbm! }], 2);
  expect(enter([offBy(made, 0)], 3, true)).toEqual([]);
  expect(loadRevisits(db)).toHaveLength(2);
});

test("limits that change judge the readings that are there anew", () => {
  const made = withHop();
  store(made, [...passing(made), offBy(made, -4)]);
  const state = () => hopAcceptances(made.db).get(made.hop.code)!.state;
  expect(state()).toBe("failed");
  addPolicyVersion(
    made.db,
    "acceptance limits",
    { ...DEFAULT_ACCEPTANCE_LIMITS, levelToleranceDb: 5 },
    { by: "x", at: by.at, reason: "the customer's procedure" },
  );
  expect(state()).toBe("accepted");
});

test("procedures and target levels are stored with the design", () => {
  const made = withHop("end after end");
  const read = loadHop(made.db, made.hop.code)!;
  expect(read).toMatchObject({ alignment: "end after end", acceptance: "with the alignment" });
  expect(read.near.odus[0]!.targetLevelDbm).toBe(made.hop.near.odus[0]!.targetLevelDbm);
  const [first, ...others] = read.near.odus;
  const { targetLevelDbm: _, ...bare } = first!;
  saveHops(made.db, [{ ...read, near: { ...read.near, odus: [bare, ...others] } }]);
  expect(loadHop(made.db, made.hop.code)!.near.odus[0]).not.toHaveProperty("targetLevelDbm");
});
