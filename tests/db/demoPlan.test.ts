/** The demonstration's plan, held to the rules by the judge and, from its rows alone, by a check of this file's own. */
import { beforeAll, describe, expect, it } from "vitest";
import { openPlan } from "@/app/_server/planEdits";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { ledgerReasonWords } from "@/app/(work)/stock/ledgerWords";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { type PlannedVisit, planInForce } from "@/db/queries/plans";
import { loadRunsOut } from "@/db/queries/runsOut";
import { netProgramme } from "@/lib/programme";
import { judge } from "@/lib/schedule";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { type CalendarDate, dayNumber, daysBetween, weekdayOf } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;

let db: Db;
let open: NonNullable<ReturnType<typeof openPlan>>;
let placed: (PlannedVisit & { crewCode: string; startOn: CalendarDate; endOn: CalendarDate })[];

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
  open = openPlan(db, planInForce(db)!.id, TODAY)!;
  placed = open.rows.filter((r): r is (typeof placed)[number] => r.crewCode !== null);
}, 300_000);

describe("the demonstration's plan", () => {
  it("reads back whole: every row is a visit of the problem, placed or with its reason", () => {
    expect(open.plan.placed.length).toBe(placed.length);
    expect(open.plan.placed.length + open.plan.unplaced.length).toBe(open.problem.visits.length);
    expect(open.plan.unplaced.every((u) => u.rule.length > 0 && u.detail.length > 0)).toBe(true);
    expect(placed.length).toBeGreaterThan(100);
  });

  it("breaks no rule of the judge", () => {
    expect(judge(open.problem, open.plan)).toEqual([]);
  });

  it("places no visit whose kit its warehouse cannot fill by its day, transfers and an order of today counted", () => {
    const { rows } = netProgramme(open.input, open.prepared.visits, open.plan);
    const waits = rows.flatMap((r) =>
      r.withTransfers.waits.map((w) => `${w.visitId}: ${r.itemCode} at ${r.placeCode}`),
    );
    expect(rows.length).toBeGreaterThan(100);
    expect(waits.filter((w) => !w.endsWith(" at "))).toEqual([]);
  });

  it("stops first for something that a logistics person would read about, not for a tube", () => {
    const [first] = loadRunsOut(db, planInForce(db)!.id).rows.filter((r) => r.firstStopOn !== null);
    const category = DEFAULT_CATALOGUE.find((i) => i.code === first?.itemCode)?.category;
    expect(
      ["antenna", "ODU", "IF cable", "surge arrestor", "hybrid coupler"],
      `${first?.itemCode} ${first?.placeCode}`,
    ).toContain(category);
  });

  it("never sends a crew to two visits at once, by the rows alone", () => {
    const minute = (on: CalendarDate, min: number) => dayNumber(on) * 1440 + min;
    const clashes: string[] = [];
    for (const a of placed) {
      for (const b of placed) {
        if (a.visitId >= b.visitId || a.crewCode !== b.crewCode) continue;
        const begins = Math.max(minute(a.startOn, a.startMin!), minute(b.startOn, b.startMin!));
        const ends = Math.min(minute(a.endOn, a.endMin!), minute(b.endOn, b.endMin!));
        if (begins < ends) clashes.push(`${a.crewCode}: ${a.visitId} and ${b.visitId}`);
      }
    }
    expect(clashes).toEqual([]);
  });

  it("aligns both ends at the same hours with two crews, after both installs", () => {
    const byId = new Map(placed.map((v) => [v.visitId, v]));
    for (const hopCode of new Set(placed.map((v) => v.hopCode))) {
      const near = byId.get(`${hopCode}/near/alignment`);
      const far = byId.get(`${hopCode}/far/alignment`);
      if (!near && !far) continue;
      if (!near?.isJoint && !far?.isJoint) {
        expect(near!.endOn <= far!.startOn, `${hopCode}, end after end`).toBe(true);
        continue;
      }
      expect(near?.crewCode, hopCode).not.toBe(far?.crewCode);
      expect([near?.startOn, near?.startMin, near?.endOn, near?.endMin], hopCode).toEqual([
        far?.startOn,
        far?.startMin,
        far?.endOn,
        far?.endMin,
      ]);
      for (const side of ["near", "far"]) {
        const install = byId.get(`${hopCode}/${side}/install`);
        if (install) expect(install.endOn <= near!.startOn, `${hopCode} ${side}`).toBe(true);
      }
    }
  });

  it("plans a revisit for the hop that failed, acceptance visits where they are asked for, and one end after the other", () => {
    const kinds = (kind: string) => placed.filter((v) => v.kind === kind);
    expect(kinds("revisit").map((v) => v.isJoint)).toEqual([true, true]);
    expect(kinds("acceptance")).toHaveLength(2);
    expect(kinds("alignment").filter((v) => !v.isJoint)).toHaveLength(2);
  });

  it("closes the two ends of a hop within days of each other", () => {
    const apart = new Map<string, number>();
    for (const v of placed) {
      const other = placed.find((o) => o.hopCode === v.hopCode && o.kind === "install" && o.side === "far");
      if (v.kind !== "install" || v.side !== "near" || !other) continue;
      apart.set(v.hopCode, Math.abs(daysBetween(v.endOn, other.endOn)));
    }
    const days = [...apart.values()].sort((a, b) => a - b);
    console.log(`ends of a hop: median ${days[days.length >> 1]} d, most ${days.at(-1)} d apart`);
    expect(days.length).toBeGreaterThan(20);
    expect(days.at(-1)!).toBeLessThanOrEqual(21);
    expect(days[days.length >> 1]!).toBeLessThanOrEqual(3);
  });

  it("starts no visit in an hour in which its first work is closed by daylight or forecast", () => {
    for (const p of open.plan.placed) {
      const visit = open.problem.visits[p.visit]!;
      const first = WORK_CLASSES.indexOf(visit.segments[0]!.workClass);
      const mask = open.problem.windows[visit.window]!.masks[first * open.problem.dayCount + p.startDay]!;
      expect((mask >> Math.floor(p.startMin / 60)) & 1, visit.id).toBe(1);
    }
  });

  it("stays within the sites' access, the crews' shifts and nobody's leave, by the rows alone", () => {
    const sites = new Map(open.input.sites.map((s) => [s.code, s]));
    const crews = new Map(open.input.crews.map((c) => [c.code, c]));
    for (const v of placed) {
      const { access } = sites.get(v.siteCode)!;
      const crew = crews.get(v.crewCode)!;
      for (const on of [v.startOn, v.endOn]) {
        expect(access.weekdays, `${v.visitId} on ${on}`).toContain(weekdayOf(on));
        expect(crew.weekdays, `${v.visitId} on ${on}`).toContain(weekdayOf(on));
        const present = crew.members.filter((m) => !m.leave.some((l) => l.fromOn <= on && on <= l.toOn));
        expect(present.length, `${v.visitId} on ${on}`).toBeGreaterThan(0);
      }
      expect(v.startMin!, v.visitId).toBeGreaterThanOrEqual(Math.max(access.fromMin, crew.shiftFromMin));
      expect(v.endMin!, v.visitId).toBeLessThanOrEqual(
        Math.min(access.toMin, crew.shiftToMin + crew.overtimeMaxMin),
      );
    }
  });
});

it("the demonstration's ledger gives every reason in words that a reader's language has", () => {
  const de = makeWords("de", wholeCatalogueOf("de"));
  // Steps of a fault have the words of who decided.
  const reasons = db.$client
    .prepare("SELECT DISTINCT reason FROM movement WHERE fault_id IS NULL OR kind = 'quality hold'")
    .pluck()
    .all() as string[];
  expect(reasons.some((r) => r.startsWith("Received from "))).toBe(true);
  expect(reasons.filter((r) => ledgerReasonWords(r, de) === undefined)).toEqual([]);
});
