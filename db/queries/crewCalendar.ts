/** A crew's secret calendar address, and the visits that are read under it. */
import { eq, sql } from "drizzle-orm";
import { unmetGates } from "@/lib/programme";
import type { AcceptanceProcedure, Gate } from "@/lib/site";
import type { CalendarDate, InstantMillis } from "@/lib/time";
import type { Db } from "../open";
import { crewCalendar } from "../schema";
import { knownAt } from "./dataSince";
import { acceptanceProcedures, gatesOfHops, loadSite } from "./design";
import { setupDue } from "./estimates";
import { loadCrewVisits, type PlannedVisit, planInForce } from "./plans";
import { type LastReport, reportsOfVisit, reportsSince, type StoredReport } from "./reports";

export interface CalendarAddress {
  madeBy: string;
  madeAt: InstantMillis;
}

export function calendarAddressOf(db: Db, crewCode: string): CalendarAddress | undefined {
  return db
    .select({ madeBy: crewCalendar.madeBy, madeAt: crewCalendar.madeAt })
    .from(crewCalendar)
    .where(eq(crewCalendar.crewCode, crewCode))
    .get();
}

/** All of them: a caller compares each, so that the time it takes tells nothing. */
export function calendarSecrets(db: Db): { crewCode: string; secretHash: string }[] {
  return db
    .select({ crewCode: crewCalendar.crewCode, secretHash: crewCalendar.secretHash })
    .from(crewCalendar)
    .orderBy(crewCalendar.crewCode)
    .all();
}

/** A crew has one address: an earlier one leads nowhere from now on. */
export function setCalendarAddress(db: Db, row: typeof crewCalendar.$inferInsert): void {
  const { crewCode: _, ...rest } = row;
  db.insert(crewCalendar).values(row).onConflictDoUpdate({ target: crewCalendar.crewCode, set: rest }).run();
}

/** False when there was none. */
export function removeCalendarAddress(db: Db, crewCode: string): boolean {
  return db.delete(crewCalendar).where(eq(crewCalendar.crewCode, crewCode)).run().changes > 0;
}

export interface CalendarVisit extends PlannedVisit {
  siteName: string;
  zone: string;
  /** From arrival until work begins; null = no hours are kept for it. */
  setupMin: number | null;
  acceptance: AcceptanceProcedure;
  position?: { latDeg: number; lonDeg: number };
  /** Why and by whom it was reported on hold since the plan was made; undefined = it is not on hold. */
  hold?: { reason: string; by: string };
  /** Of its end, or both for joint work: what the visit still waits for, as in `unmetGates`. */
  unmetGates: Gate[];
  /** How often plans that were put in force gave it another crew or other times, and reports put it on hold or lifted that. */
  changes: number;
  /** When the plan that gave it its crew and times was put in force, or the report of the last change came. */
  changedAt: InstantMillis;
}

/** The crew's visits of the plan in force that end on `from` or later, by start; not a revisit that was withdrawn. */
export function loadCalendarVisits(db: Db, crewCode: string, from: CalendarDate): CalendarVisit[] {
  const plan = planInForce(db);
  if (!plan) return [];
  const history = historyOf(db, plan.id, crewCode);
  const ofCrew = loadCrewVisits(db, plan.id, crewCode).filter((v) => !v.isWithdrawn);
  const visits = ofCrew.filter((v) => v.endOn! >= from);
  const gates = gatesOfHops(db, [...new Set(visits.map((v) => v.hopCode))]);
  const reports = reportsSince(db, knownAt(db, plan));
  const acceptance = acceptanceProcedures(db);
  return visits
    .map((v) => {
      const site = loadSite(db, v.siteCode)!;
      return {
        ...v,
        siteName: site.name,
        zone: site.zone,
        acceptance: acceptance.get(v.hopCode)!,
        setupMin: setupDue(db, v, ofCrew),
        position: site.position,
        ...doubtsOf(v, gates.get(v.hopCode) ?? [], reports.get(v.visitId)),
        ...changesByHolds(reportsOfVisit(db, v.visitId), history.get(v.visitId)!),
      };
    })
    .sort((a, b) => (`${a.startOn} ${a.visitId}` < `${b.startOn} ${b.visitId}` ? -1 : 1));
}

type Change = Pick<CalendarVisit, "changes" | "changedAt">;

/** A report that puts a visit on hold, and one that lifts it, is a change as a move is: calendars are to take it over. */
function changesByHolds(reports: readonly StoredReport[], placed: Change): Change {
  let { changes, changedAt } = placed;
  let held: string | null = null;
  const said = reports.flatMap((r) => [
    { reason: r.outcome === "hold" ? r.holdReason : null, at: r.reportedAt },
    ...(r.liftedAt === null ? [] : [{ reason: null, at: r.liftedAt }]),
  ]);
  for (const { reason, at } of said) {
    if (reason === held) continue;
    held = reason;
    changes += 1;
    if (at > changedAt) changedAt = at as InstantMillis;
  }
  return { changes, changedAt };
}

/** What stands against a visit as planned; nothing against one that is done. */
function doubtsOf(
  v: PlannedVisit,
  gates: readonly Gate[],
  last: LastReport | undefined,
): Pick<CalendarVisit, "hold" | "unmetGates"> {
  if (last?.outcome === "done") return { unmetGates: [] };
  return {
    hold: last?.outcome === "hold" ? { reason: last.holdReason ?? "", by: last.reportedBy } : undefined,
    unmetGates: unmetGates(gates, v.isJoint ? ["near", "far"] : [v.side]),
  };
}

interface Placing {
  visitId: string;
  /** Crew and times in one text. */
  placed: string;
  at: number;
}

/** What plans in force, one after the other, said of the visits that the crew has now. Drafts never counted. */
function historyOf(db: Db, planId: number, crewCode: string): Map<string, Change> {
  const placings = db.all<Placing>(sql`
    SELECT v.visit_id AS visitId, coalesce(p.published_at, p.created_at) AS at,
      coalesce(v.crew_code, '') || ' ' || coalesce(v.start_on, '') || ' ' || coalesce(v.start_min, '') || ' '
        || coalesce(v.end_on, '') || ' ' || coalesce(v.end_min, '') AS placed
    FROM plan_visit v JOIN plan p ON p.id = v.plan_id
    WHERE p.state <> 'draft'
      AND v.visit_id IN (SELECT visit_id FROM plan_visit WHERE plan_id = ${planId} AND crew_code = ${crewCode})
    ORDER BY v.visit_id, p.state = 'in force', at, p.id`);
  const history = new Map<string, Change>();
  let before: Placing | undefined;
  for (const placing of placings) {
    const known = history.get(placing.visitId);
    if (!known) history.set(placing.visitId, { changes: 0, changedAt: placing.at as InstantMillis });
    else if (before?.placed !== placing.placed)
      history.set(placing.visitId, { changes: known.changes + 1, changedAt: placing.at as InstantMillis });
    before = placing;
  }
  return history;
}
