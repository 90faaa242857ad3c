/** Takes a crew's report in: the report itself, and what it used from the vehicle into the ledger. */
import { partKeys } from "@/lib/calibration";
import { parseVisitId } from "@/lib/programme";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { type NewReading, storeReadings } from "./acceptance";
import { loadPlanVisits, planInForce } from "./plans";
import { rulesInForce } from "./programme";
import { addLogEntry, addReport, type ReportUse, reportsOfVisit } from "./reports";
import { loadBalances, postMovement } from "./stock";
import { loadCrewFacts } from "./week";

export interface VisitReportInput {
  visitId: string;
  workedOn: string;
  outcome: "done" | "part done" | "hold";
  workedMin: number;
  /** Part done: minutes left, coming back included; undefined = the whole visit again. */
  leftMin?: number;
  holdReason: string;
  note: string;
  /** The last report that the sender knew of (0 = none); undefined = do not look. */
  lastSeenReportId?: number;
  /** Acceptance readings taken on the visit. */
  readings: readonly NewReading[];
  /** Minutes of the tasks that the crew timed. */
  parts: readonly { part: string; workedMin: number }[];
  /** In the item's unit. */
  uses: { itemCode: string; runId: string | null; drumSerial: string | null; used: number; left: number }[];
}

export interface ReportingVisitor {
  userId: string;
  name: string;
  role: string;
  crewId: string | null;
}

export interface ReportTaken {
  reportId: number;
  /** Lines whose use was taken off the vehicle's stock. */
  booked: number;
  /** Lines that the vehicle did not hold: reported, but the ledger is untouched. */
  notOnVehicle: number;
  /** Revisits that failed readings asked for, by visit id. */
  revisits: string[];
}

/** Refused as a whole when a part is: the caller's transaction takes back what was written before. */
export function reportVisit(
  db: Db,
  input: VisitReportInput,
  by: { visitor: ReportingVisitor; now: number; today: CalendarDate },
): Result<ReportTaken, Problem> {
  const plan = planInForce(db);
  const visit = plan && loadPlanVisits(db, plan.id).find((v) => v.visitId === input.visitId);
  const parsed = parseVisitId(input.visitId);
  if (!visit?.crewCode || !parsed) {
    return refused({
      path: "visitId",
      rule: "visit-not-planned",
      value: input.visitId,
      message: "This visit is not in the plan in force.",
      remedy: "Open My week again: the plan may have changed since the page was loaded.",
    });
  }
  const { visitor } = by;
  if (visitor.role === "crew lead" && visitor.crewId !== visit.crewCode) {
    return refused({
      path: "visitId",
      rule: "other-crew",
      value: input.visitId,
      message: `This visit belongs to crew ${visit.crewCode}.`,
      remedy: "Only its own crew lead, a rollout manager or an administrator may report it.",
    });
  }
  if (input.workedOn > by.today) {
    return refused({
      path: "workedOn",
      rule: "future-report",
      value: input.workedOn,
      message: "The day worked lies in the future.",
      remedy: `Give a day up to ${by.today}.`,
    });
  }
  const known = partKeys(rulesInForce(db).norms);
  const foreign = input.parts.find((p) => !known.includes(p.part));
  if (foreign) {
    return refused({
      path: "parts",
      rule: "task-unknown",
      value: foreign.part,
      message: "The hour norms have no such task.",
      remedy: "Open the visit again, or leave its minutes empty.",
    });
  }
  const meanwhile = reportsOfVisit(db, input.visitId).at(-1);
  if (input.lastSeenReportId !== undefined && (meanwhile?.id ?? 0) > input.lastSeenReportId) {
    return refused({
      path: "visitId",
      // Known to app/(work)/week/OutboxPanel.tsx: a person decides which report is right.
      rule: "reported-meanwhile",
      value: input.visitId,
      message: `${meanwhile!.reportedBy} reported this visit as ${meanwhile!.outcome}, worked on ${meanwhile!.workedOn}, while this report was on its way.`,
      remedy: "Look at the visit. Send it anyway if it adds something, or discard it.",
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
    crewCode: visit.crewCode,
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
  });
  const readings = takeReadings(db, input, parsed.hopCode, id, by);
  if (!readings.ok) return readings;
  const vehicle = loadCrewFacts(db, visit.crewCode)?.vehiclePlace ?? undefined;
  const booked = uses.filter(
    (u, i) => u.usedC > 0 && takeOffVehicle(db, u, vehicle, `${key} ${i}`, input, by),
  ).length;
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
    },
  });
  return ok({
    reportId: id,
    booked,
    notOnVehicle: uses.filter((u) => u.usedC > 0).length - booked,
    revisits: readings.value,
  });
}

function takeReadings(
  db: Db,
  { readings, workedOn }: VisitReportInput,
  hopCode: string,
  reportId: number,
  { visitor, now, today }: { visitor: ReportingVisitor; now: number; today: CalendarDate },
): Result<string[], Problem> {
  if (readings.length === 0) return ok([]);
  const stored = storeReadings(
    db,
    { hopCode, readings, takenOn: workedOn as CalendarDate, note: "", reportId },
    { name: visitor.name, at: now, today },
  );
  return stored.ok ? ok(stored.value.opened) : stored;
}

/** Posts the use of one line from the vehicle's balances, first lot first; false when the vehicle holds too little. */
function takeOffVehicle(
  db: Db,
  use: ReportUse,
  vehicle: string | undefined,
  key: string,
  input: VisitReportInput,
  by: { visitor: ReportingVisitor; now: number; today: CalendarDate },
): boolean {
  if (!vehicle) return false;
  const rows = loadBalances(db, use.itemCode).filter((b) => b.placeCode === vehicle && b.drumSerial === "");
  if (rows.reduce((sum, b) => sum + b.quantityC, 0) < use.usedC) return false;
  let left = use.usedC;
  for (const [i, b] of rows.entries()) {
    const quantityC = Math.min(left, b.quantityC);
    if (quantityC === 0) continue;
    left -= quantityC;
    postMovement(db, {
      key: `installed ${key} ${i}`,
      kind: "installed",
      itemCode: use.itemCode,
      lotCode: b.lotCode || undefined,
      owner: b.owner,
      fromPlace: vehicle,
      quantityC,
      // Booked when it is reported: the issue to the vehicle may be younger than the work.
      effectiveOn: by.today,
      postedAt: by.now,
      visitId: input.visitId,
      runId: use.runId,
      reason: `Reported used by ${by.visitor.name}`,
      postedBy: by.visitor.name,
    });
  }
  return true;
}
