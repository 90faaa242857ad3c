import { expect, test } from "vitest";
import { english } from "@/lib/phrase";
import {
  type DoubtedReport,
  hoursDoubt,
  type ReportedHours,
  reportDoubts,
  type VisitKnown,
} from "@/lib/programme";
import { calendarDate } from "@/lib/time";

const on = calendarDate("2026-03-16");
const h = (hours: number) => hours * 60;
const visit = { workedOn: on, startOn: on, plannedMin: h(20), shiftFromMin: h(7) };
const doubtOf = (report: ReportedHours) => {
  const doubt = hoursDoubt(report);
  return doubt && english(doubt);
};

test("more hours than the days since the visit's start have are asked about", () => {
  expect(doubtOf({ ...visit, workedMin: h(24) })).toBeUndefined();
  expect(doubtOf({ ...visit, workedMin: h(30) })).toBe(
    "30 h are more than the 24 h of the days from the visit's start to the day worked.",
  );
  const begun = calendarDate("2026-03-15");
  expect(doubtOf({ ...visit, startOn: begun, workedMin: h(30) })).toBeUndefined();
  // Done before its planned day: one day has 24 hours all the same.
  const later = calendarDate("2026-03-20");
  expect(doubtOf({ ...visit, startOn: later, workedMin: h(25) })).toContain("the 24 h of");
});

test("more than twice the estimate is asked about, up to twice is not", () => {
  const short = { ...visit, plannedMin: h(4) };
  expect(doubtOf({ ...short, workedMin: h(8) })).toBeUndefined();
  expect(doubtOf({ ...short, workedMin: h(8.5) })).toBe(
    "8.5 h are more than twice the 4 h estimated for the visit.",
  );
});

test("more hours of the day than have passed since the shift began are asked about, on that day only", () => {
  const written = (hours: number, day = on) => ({ on: day, atMin: h(hours) });
  expect(doubtOf({ ...visit, workedMin: h(8), written: written(7.5) })).toBe(
    "8 h on that day are more than can be: the shift starts at 07:00, and the report was written at 07:30.",
  );
  expect(doubtOf({ ...visit, workedMin: h(8), written: written(15) })).toBeUndefined();
  expect(doubtOf({ ...visit, workedMin: h(8.5), written: written(15) })).toContain("written at 15:00");
  // Before the shift nothing has passed, and nothing is not asked about.
  expect(doubtOf({ ...visit, workedMin: 30, written: written(6) })).toContain("written at 06:00");
  expect(doubtOf({ ...visit, workedMin: 0, written: written(6) })).toBeUndefined();
  // Written the morning after, or of a visit that began the day before.
  const next = calendarDate("2026-03-17");
  expect(doubtOf({ ...visit, workedMin: h(8), written: written(7.5, next) })).toBeUndefined();
  const begun = { ...visit, startOn: calendarDate("2026-03-15") };
  expect(doubtOf({ ...begun, workedMin: h(8), written: written(7.5) })).toBeUndefined();
});

const known: VisitKnown = { ...visit, kind: "install", openInstalls: [], uses: [] };
const report: DoubtedReport = { outcome: "done", workedOn: on, workedMin: h(6), uses: [] };
const said = (part: Partial<DoubtedReport>, of: Partial<VisitKnown>) =>
  reportDoubts({ ...report, ...part }, { ...known, ...of }).map((d) => [d.path, d.rule, english(d.words)]);

test("more metres of a run than were cut, or planned where nobody cut, are asked about", () => {
  const of = { itemCode: "CABLE", runId: "R1", planned: 24, cut: 25.5, before: 0 };
  const used = (metres: number, part: Partial<typeof of> = {}) =>
    said({ uses: [{ itemCode: "CABLE", runId: "R1", used: metres }] }, { uses: [{ ...of, ...part }] });
  expect(used(900)).toEqual([
    [
      "uses.0.used",
      "report-doubtful",
      "900 m used by all reports of the visit together, but 25.5 m cut for this run.",
    ],
  ]);
  expect(used(26.5)).toEqual([]);
  expect(used(26.51)).toHaveLength(1);
  expect(used(26.5, { cut: undefined })[0]?.[2]).toContain("but 24 m planned for this run");
  expect(used(25, { cut: undefined })).toEqual([]);
  // What was used on an earlier day counts too; nothing more used is no question.
  expect(used(6, { before: 21 })[0]?.[2]).toContain("27 m used by all");
  expect(used(0, { before: 900 })).toEqual([]);
});

test("more than twice the planned need of an item, and three more at the least, is asked about", () => {
  const used = (pieces: number, planned: number) =>
    said(
      { uses: [{ itemCode: "CLAMP", runId: null, used: pieces }] },
      { uses: [{ itemCode: "CLAMP", runId: null, planned, before: 0 }] },
    ).map((d) => d[2]);
  expect(used(12, 6)).toEqual([]);
  expect(used(13, 6)).toEqual(["13 used by all reports of the visit together, but 6 planned."]);
  expect(used(3, 1)).toEqual([]);
  expect(used(4, 1)).toHaveLength(1);
  // A new unit opened for a bit of it, and an item that the kit does not have.
  expect(used(1, 0.04)).toEqual([]);
  expect(said({ uses: [{ itemCode: "OTHER", runId: null, used: 50 }] }, {})).toEqual([]);
});

test("pieces used and dead that are together more than the kit held are asked about", () => {
  const of = { itemCode: "ODU", runId: null, planned: 2, before: 0, held: 2, deadBefore: 0 };
  const asked = (
    used: number,
    faults: NonNullable<DoubtedReport["faults"]>,
    part: Partial<typeof of> & { held?: number | undefined } = {},
  ) =>
    said(
      { uses: [{ itemCode: "ODU", runId: null, used }], faults },
      { uses: [{ ...of, ...part } as typeof of] },
    );
  const dead = { itemCode: "ODU", cause: "dead on arrival" as const };
  expect(asked(2, [dead])).toEqual([
    [
      "faults.0.itemCode",
      "report-doubtful",
      "2 used and 1 dead or doubtful by all reports of the visit together, but 2 in its kit.",
    ],
  ]);
  expect(asked(1, [dead])).toEqual([]);
  expect(asked(1, [dead, { ...dead, cause: "doubtful" }])[0]?.[0]).toBe("faults.1.itemCode");
  // What hung there came out of no kit; a piece of another item is not counted here.
  expect(asked(2, [{ ...dead, cause: "failed in service" }])).toEqual([]);
  expect(asked(2, [{ ...dead, itemCode: "ANT" }])).toEqual([]);
  expect(asked(2, [dead], { held: 3 })).toEqual([]);
  // By a page that knows nothing of what the kit held.
  expect(asked(2, [dead], { held: undefined })).toEqual([]);
  // What was reported before counts, but is asked about only where something is added.
  expect(asked(1, [], { before: 1, deadBefore: 1 })[0]?.[0]).toBe("uses.0.used");
  expect(asked(0, [], { before: 2, deadBefore: 1 })).toEqual([]);
  expect(asked(0, [dead], { before: 2 })).toHaveLength(1);
});

test("an alignment or acceptance done before both installs is asked about, once for each end", () => {
  const openInstalls = [
    { visitId: "H/near/install", side: "near" as const },
    { visitId: "H/near/install/2", side: "near" as const },
    { visitId: "H/far/install", side: "far" as const },
  ];
  expect(said({}, { kind: "alignment", openInstalls })).toEqual([
    ["outcome", "report-doubtful", "The install at the near end of the hop is not reported done."],
    ["outcome", "report-doubtful", "The install at the far end of the hop is not reported done."],
  ]);
  expect(said({}, { kind: "acceptance", openInstalls })).toHaveLength(2);
  expect(said({ outcome: "part done" }, { kind: "alignment", openInstalls })).toEqual([]);
  expect(said({}, { kind: "alignment" })).toEqual([]);
  for (const kind of ["install", "revisit"] as const) expect(said({}, { kind, openInstalls })).toEqual([]);
});
