/** A crew's visits from a day on, with all that the crew lead needs to get there with the right kit. */
import { eq, inArray } from "drizzle-orm";
import type { CrewMember } from "@/lib/programme";
import type { AcceptanceProcedure } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { crew, crewMember, leave } from "../schema";
import { hasFailedReading } from "./acceptance";
import { acceptanceProcedures, loadSite } from "./design";
import { setupDue } from "./estimates";
import { type Hold, holdsOf } from "./holds";
import {
  loadCrewVisits,
  loadKits,
  type PlannedVisit,
  pickedLineCounts,
  planInForce,
  type StoredKit,
  shortLineCounts,
} from "./plans";
import { latestOf, reportsOfVisit, type StoredReport } from "./reports";

export interface WeekVisit extends PlannedVisit {
  siteName: string;
  /** Of its hop. */
  acceptance: AcceptanceProcedure;
  zone: string;
  /** From arrival until work begins; null = not estimated. */
  setupMin: number | null;
  position?: { latDeg: number; lonDeg: number };
  kit?: Omit<StoredKit, "lines"> & { shortLines: number; lineCount: number; pickedCount: number };
  /** The latest report, if any; `hasFailed`: a reading that it brought did. */
  report?: StoredReport & { hasFailed: boolean };
  /** That it is on hold: a hold that the plan in force knew of lasts no more. */
  hold?: Hold;
}

export interface CrewWeek {
  planId?: number;
  visits: WeekVisit[];
}

export function loadCrewWeek(db: Db, crewCode: string, from: CalendarDate, to: CalendarDate): CrewWeek {
  const plan = planInForce(db);
  if (!plan) return { visits: [] };
  const kits = new Map(loadKits(db, plan.id).map((k) => [k.visitId, k]));
  const short = shortLineCounts(db, plan.id);
  const picked = pickedLineCounts(db, plan.id);
  const holds = holdsOf(db, plan);
  const acceptance = acceptanceProcedures(db);
  const ofCrew = loadCrewVisits(db, plan.id, crewCode);
  const visits = ofCrew
    .filter((v) => v.endOn! >= from && v.startOn! <= to)
    .map((v): WeekVisit => {
      const site = loadSite(db, v.siteCode)!;
      const kit = kits.get(v.visitId);
      const report = latestOf(reportsOfVisit(db, v.visitId));
      return {
        ...v,
        siteName: site.name,
        acceptance: acceptance.get(v.hopCode)!,
        zone: site.zone,
        setupMin: setupDue(db, v, ofCrew),
        position: site.position,
        kit: kit && {
          ...kit,
          ...(picked.get(v.visitId) ?? { lineCount: 0, pickedCount: 0 }),
          shortLines: short.get(v.visitId) ?? 0,
        },
        report: report && { ...report, hasFailed: hasFailedReading(db, report) },
        hold: holds.get(v.visitId),
      };
    });
  return { planId: plan.id, visits };
}

export interface CrewFacts {
  code: string;
  name: string;
  zone: string;
  /** Minutes after midnight, by the clock of its zone. */
  shiftFromMin: number;
  vehiclePlace: string | null;
  people: Pick<CrewMember, "name" | "isLead" | "leave">[];
}

export function loadCrewFacts(db: Db, crewCode: string): CrewFacts | undefined {
  const row = db.select().from(crew).where(eq(crew.code, crewCode)).get();
  if (!row) return undefined;
  const people = db
    .select()
    .from(crewMember)
    .where(eq(crewMember.crewCode, crewCode))
    .orderBy(crewMember.code)
    .all();
  const away = db
    .select()
    .from(leave)
    .where(
      inArray(
        leave.memberCode,
        people.map((p) => p.code),
      ),
    )
    .orderBy(leave.fromOn)
    .all();
  return {
    code: row.code,
    name: row.name,
    zone: row.zone,
    shiftFromMin: row.shiftFromMin,
    vehiclePlace: row.vehiclePlace,
    people: people.map(({ code, name, isLead }) => ({
      name,
      isLead,
      leave: away
        .filter((l) => l.memberCode === code)
        .map(({ fromOn, toOn, reason }) => ({ fromOn, toOn, reason })),
    })),
  };
}

export function crewCodes(db: Db): { code: string; name: string }[] {
  return db.select({ code: crew.code, name: crew.name }).from(crew).orderBy(crew.code).all();
}
