/** Takes a crew's report in: the report itself, and what it used from its vehicles into the ledger. */

import { and, eq } from "drizzle-orm";
import { partKeys } from "@/lib/calibration";
import { phrase } from "@/lib/phrase";
import { parseVisitId, reportDoubts } from "@/lib/programme";
import { ok, type Problem, problem, type Result, refused, sentences } from "@/lib/result";
import type { EndSide } from "@/lib/site";
import { type FaultCause, serialAgainAt } from "@/lib/stock";
import { type CalendarDate, instantAt, localOf } from "@/lib/time";
import type { Db } from "../open";
import { kit } from "../schema";
import { type NewReading, storeReadings } from "./acceptance";
import { recordFault } from "./faultRecord";
import { type GivenVisit, givenTo } from "./givenVisits";
import { hangUnit, loadHung } from "./hung";
import { vehiclesOfReport } from "./kitOut";
import { addLogEntry } from "./log";
import { loadPlaces } from "./places";
import { loadPlanVisits, planInForce } from "./plans";
import { rulesInForce } from "./programme";
import { bookReportedUse, type UseBooked } from "./reportedUse";
import { addReport, latestOf, type ReportUse, reportsOfVisit } from "./reports";
import { loadBalances } from "./shelves";
import { loadVisitKnown } from "./visitKnown";
import { type CrewFacts, loadCrewFacts } from "./week";

export interface VisitReportInput {
  visitId: string;
  workedOn: string;
  outcome: "done" | "part done" | "hold";
  workedMin: number;
  /** Fields that the sender was asked about and says are right, by their path in this report. */
  sureOf?: readonly string[];
  /** Part done: minutes left, coming back included; undefined = the whole visit again. */
  leftMin?: number;
  holdReason: string;
  note: string;
  /** The last report that the sender knew of (0 = none); undefined = do not look. */
  lastSeenReportId?: number;
  /** Work after a report that says done: it is added to that one instead of standing in its place. */
  isOnTop?: boolean;
  /** Acceptance readings taken on the visit. */
  readings: readonly NewReading[];
  /** Minutes of the tasks that the crew timed. */
  parts: readonly { part: string; workedMin: number }[];
  /** Units found dead or failing on the visit: they go on hold. */
  faults?: readonly { itemCode: string; serial?: string; cause: FaultCause; symptom: string }[];
  /** Serials of the radios of the end, as hung: by the label of the radio in the design. */
  hung?: readonly { oduLabel: string; serial: string }[];
  /** In the item's unit. */
  uses: { itemCode: string; runId: string | null; drumSerial: string | null; used: number; left: number }[];
}

export interface ReportingVisitor {
  userId: string;
  name: string;
  role: string;
  crewId: string | null;
}

export interface ReportTaken extends UseBooked {
  reportId: number;
  /** Revisits that failed readings asked for, by visit id. */
  revisits: string[];
  /** Faulty units put on hold, by number. */
  faults: number[];
}

/** Refused as a whole when a part is: the caller's transaction takes back what was written before. */
export function reportVisit(
  db: Db,
  input: VisitReportInput,
  /** `writtenAt`: when the report was written, on the programme's clock; left out, when it came in. */
  by: { visitor: ReportingVisitor; now: number; today: CalendarDate; writtenAt?: number },
): Result<ReportTaken, Problem> {
  const { visitor } = by;
  const parsed = parseVisitId(input.visitId);
  const given = whoseReport(db, input, visitor);
  if (!given.ok) return given;
  if (!parsed) return notPlanned(input.visitId);
  const { visit, crewCode, plannedCrew, planId } = given.value;
  const isHandedOver = crewCode !== plannedCrew;
  if (input.workedOn > by.today) {
    return refused({
      path: "workedOn",
      rule: "future-report",
      value: input.workedOn,
      ...sentences(
        phrase("The day worked lies in the future."),
        phrase("Give a day up to {{today}}.", { today: by.today }),
      ),
    });
  }
  const meanwhile = latestOf(reportsOfVisit(db, input.visitId));
  // The work was finished: what is reported after that stands in the place of what was, unless it says otherwise.
  // A crew that had the visit before tells of its own work, never in the place of another crew's.
  const isOwn = !isHandedOver || meanwhile?.crewCode === crewCode;
  const correctsId = meanwhile?.outcome === "done" && !input.isOnTop && isOwn ? meanwhile.id : undefined;
  const crew = loadCrewFacts(db, crewCode)!;
  const doubts = doubtsOf(db, input, { planId, visit, crew, correctsId }, by.writtenAt ?? by.now);
  if (doubts.length > 0) return refused(...doubts);
  const known = partKeys(rulesInForce(db).norms);
  const foreign = input.parts.find((p) => !known.includes(p.part));
  if (foreign) {
    return refused({
      path: "parts",
      rule: "task-unknown",
      value: foreign.part,
      ...sentences(
        phrase("The hour norms have no such task."),
        phrase("Open the visit again, or leave its minutes empty."),
      ),
    });
  }
  if (input.lastSeenReportId !== undefined && (meanwhile?.id ?? 0) > input.lastSeenReportId) {
    return refused({
      path: "visitId",
      // Known to app/(work)/week/OutboxPanel.tsx: a person decides which report is right.
      rule: "reported-meanwhile",
      value: input.visitId,
      ...sentences(
        phrase(
          "{{name}} reported this visit as {{outcome}}, worked on {{day}}, while this report was on its way.",
          { name: meanwhile!.reportedBy, outcome: phrase(meanwhile!.outcome), day: meanwhile!.workedOn },
        ),
        phrase("Look at the visit. Send it anyway if it adds something, or discard it."),
      ),
    });
  }
  // The action's own key guards against repeated sending; this one numbers the reports of a visit.
  const key = `${input.visitId} report ${reportsOfVisit(db, input.visitId).length + 1}`;
  const uses = input.uses
    .filter((u) => u.used > 0 || u.left > 0)
    .map(
      (u): ReportUse => ({
        itemCode: u.itemCode,
        runId: u.runId ?? undefined,
        drumSerial: u.drumSerial ?? undefined,
        usedC: Math.round(u.used * 100),
        leftC: Math.round(u.left * 100),
      }),
    );
  const { id } = addReport(db, {
    key,
    visitId: input.visitId,
    hopCode: parsed.hopCode,
    crewCode,
    workedOn: input.workedOn as CalendarDate,
    outcome: input.outcome,
    workedMin: input.workedMin,
    leftMin: input.outcome === "part done" ? input.leftMin : undefined,
    holdReason: input.outcome === "hold" ? input.holdReason : undefined,
    note: input.note,
    reportedBy: visitor.name,
    reportedAt: by.now,
    uses,
    parts: input.parts,
    correctsId,
  });
  const readings = takeReadings(db, input, { hopCode: parsed.hopCode, reportId: id, correctsId }, by);
  if (!readings.ok) return readings;
  const vehicles = vehiclesOfReport(db, input.visitId, crew, isHandedOver);
  const hung = takeHung(db, input, { ...parsed, key }, by);
  if (!hung.ok) return hung;
  const bookings = bookReportedUse(
    db,
    { visitId: input.visitId, vehicles, key, serials: hung.value },
    { name: visitor.name, at: by.now, today: by.today },
  );
  if (!bookings.ok) return bookings;
  const faults = takeFaults(db, input, { planId, vehicles, key }, by);
  if (!faults.ok) return faults;
  addLogEntry(db, {
    at: by.now,
    userName: visitor.name,
    action: "report visit",
    subject: input.visitId,
    detail: {
      outcome: input.outcome,
      workedMin: input.workedMin,
      leftMin: input.leftMin,
      holdReason: input.holdReason,
      ...(isHandedOver ? { crewCode, planned: plannedCrew } : undefined),
    },
  });
  return ok({
    reportId: id,
    ...bookings.value,
    revisits: readings.value,
    faults: faults.value,
  });
}

const notPlanned = (visitId: string) =>
  refused({
    path: "visitId",
    rule: "visit-not-planned",
    value: visitId,
    ...sentences(
      phrase("This visit is not in the plan in force."),
      phrase("Open My week again: the plan may have changed since the page was loaded."),
    ),
  });

/**
 * For which crew the report counts: the one that has the visit by the plan in force. A crew lead whose crew had it by a
 * plan that was in force on the day worked, or at any time since, reports for that crew: the work is what happened.
 */
function whoseReport(
  db: Db,
  { visitId, workedOn }: VisitReportInput,
  visitor: ReportingVisitor,
): Result<GivenVisit & { plannedCrew: string | null }, Problem> {
  const plan = planInForce(db);
  const visit = plan && loadPlanVisits(db, plan.id).find((v) => v.visitId === visitId);
  const plannedCrew = visit?.crewCode ?? null;
  const own = visitor.role === "crew lead" ? (visitor.crewId ?? "") : plannedCrew;
  if (visit && plannedCrew !== null && own === plannedCrew)
    return ok({ visit, crewCode: plannedCrew, plannedCrew, givenBy: plan.id, planId: plan.id });
  const zone = own === null ? undefined : loadCrewFacts(db, own)?.zone;
  const given = zone && givenTo(db, visitId, own!, instantAt(workedOn as CalendarDate, 0, zone));
  if (given) return ok({ ...given, plannedCrew });
  if (plannedCrew === null) return notPlanned(visitId);
  return refused({
    path: "visitId",
    rule: "other-crew",
    value: visitId,
    ...sentences(
      phrase("This visit belongs to crew {{crew}}.", { crew: plannedCrew }),
      phrase(
        "Only its own crew lead, one whose crew had it on the day worked or since, a rollout manager or an administrator may report it.",
      ),
    ),
  });
}

/** What a person has to look at before the report counts, without what its sender is sure of. */
function doubtsOf(
  db: Db,
  input: VisitReportInput,
  of: Pick<GivenVisit, "planId" | "visit"> & { crew: CrewFacts; correctsId: number | undefined },
  writtenAt: number,
): Problem[] {
  const { date, minuteOfDay } = localOf(writtenAt, of.crew.zone);
  return reportDoubts(
    {
      ...input,
      workedOn: input.workedOn as CalendarDate,
      written: { on: date, atMin: minuteOfDay },
    },
    loadVisitKnown(db, of.planId, of.visit, {
      shiftFromMin: of.crew.shiftFromMin,
      correctedId: of.correctsId,
    }),
  )
    .filter((d) => !input.sureOf?.includes(d.path))
    .map((d) =>
      problem(
        d.path,
        d.rule,
        d.value,
        d.words,
        phrase("Correct it, or send the report anyway when it is right."),
      ),
    );
}

/** Records which serials hang at the end now; gives those that were not known there, by item. */
function takeHung(
  db: Db,
  { hung = [], visitId, workedOn }: VisitReportInput,
  { hopCode, side, key }: { hopCode: string; side: EndSide; key: string },
  by: { visitor: ReportingVisitor; now: number; today: CalendarDate },
): Result<Map<string, string[]>, Problem> {
  const again = serialAgainAt(hung.map((h) => h.serial));
  if (again) {
    const { serial, oduLabel } = hung[again.at]!;
    return refused(
      problem(
        `hung.${again.at}.serial`,
        "serial-twice",
        serial,
        phrase("{{serial}} stands at {{odu}} and {{other}}.", {
          serial,
          odu: hung[again.before]!.oduLabel,
          other: oduLabel,
        }),
        phrase("Read each label once."),
      ),
    );
  }
  const fresh = new Map<string, string[]>();
  for (const [i, { oduLabel, serial }] of hung.entries()) {
    const stored = hangUnit(
      db,
      {
        key: `${key} hung ${i}`,
        serial,
        hopCode,
        side,
        oduLabel,
        on: workedOn as CalendarDate,
        today: by.today,
        visitId,
      },
      { name: by.visitor.name, at: by.now },
    );
    if (!stored.ok) return refused(...stored.problems.map((p) => ({ ...p, path: `hung.${i}.${p.path}` })));
    if (!stored.value.isNew) continue;
    const unit = loadHung(db, { serial, onlyStanding: true })[0]!;
    fresh.set(unit.itemCode, [...(fresh.get(unit.itemCode) ?? []), unit.serial]);
  }
  return ok(fresh);
}

/**
 * Puts what the crew found faulty on the hold of the warehouse that its kit came from. A unit that a vehicle still holds
 * by the books leaves it; any other was installed already and comes from outside.
 */
function takeFaults(
  db: Db,
  { faults = [], visitId, workedOn }: VisitReportInput,
  { planId, vehicles, key }: { planId: number; vehicles: readonly string[]; key: string },
  by: { visitor: ReportingVisitor; now: number; today: CalendarDate },
): Result<number[], Problem> {
  const ids: number[] = [];
  for (const [i, found] of faults.entries()) {
    const held = loadBalances(db, found.itemCode).filter((b) => b.drumSerial === "" && b.quantityC >= 100);
    const vehicle = vehicles.find((v) => held.some((b) => b.placeCode === v));
    const stored = recordFault(
      db,
      {
        ...found,
        key: `${key} fault ${i}`,
        quantity: 1,
        fromPlace: vehicle,
        warehouseCode: kitWarehouse(db, planId, visitId),
        visitId,
        // What is on the vehicle by the books may have come there after the work: booked when it is reported.
        foundOn: vehicle ? by.today : (workedOn as CalendarDate),
        today: by.today,
      },
      { name: by.visitor.name, at: by.now },
    );
    if (!stored.ok) return refused(...stored.problems.map((p) => ({ ...p, path: `faults.${i}.${p.path}` })));
    ids.push(stored.value.id);
  }
  return ok(ids);
}

/** The warehouse that the visit's kit comes from; without a kit the first. */
function kitWarehouse(db: Db, planId: number, visitId: string): string {
  const own = db
    .select({ placeCode: kit.placeCode })
    .from(kit)
    .where(and(eq(kit.planId, planId), eq(kit.visitId, visitId)))
    .get();
  return own?.placeCode || (loadPlaces(db).find((p) => p.kind === "warehouse")?.code ?? "");
}

function takeReadings(
  db: Db,
  { readings, workedOn }: VisitReportInput,
  of: { hopCode: string; reportId: number; correctsId?: number },
  { visitor, now, today }: { visitor: ReportingVisitor; now: number; today: CalendarDate },
): Result<string[], Problem> {
  if (readings.length === 0) return ok([]);
  const stored = storeReadings(
    db,
    { ...of, readings, takenOn: workedOn as CalendarDate, note: "" },
    { name: visitor.name, at: now, today },
  );
  return stored.ok ? ok(stored.value.opened) : stored;
}
