/** What the Programme page shows: each hop against its promise, and the load of the crews by week. */
import type { LatLon } from "@/lib/geo";
import {
  DEFAULT_ROADS,
  type HopProgress,
  hopProgress,
  type PlannedVisitTimes,
  roundMin,
} from "@/lib/programme";
import type { Scheme } from "@/lib/site";
import { addDays, type CalendarDate, daysBetween, type Weekday, weekdayOf } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { gate, hop, linkEnd } from "../schema";
import { hopAcceptances } from "./acceptance";
import { loadCrews } from "./crews";
import { gateOf, groupBy, loadSites } from "./design";
import { designsOfProgramme } from "./designNow";
import { holdsOf } from "./holds";
import { loadPlaces } from "./places";
import { loadPlanVisits, type PlanHead, planInForce } from "./plans";
import { doneVisits } from "./reports";
import { loadRisk, type StoredRisk, simulatedFinishes } from "./risk";

export interface HopRow extends HopProgress {
  scheme: Scheme;
  bandGhz: number;
  nearSite: string;
  farSite: string;
  weight: number;
}

export interface ProgrammeState {
  plan?: PlanHead;
  /** Of the plan; undefined until it was simulated. */
  risk?: StoredRisk;
  hops: HopRow[];
}

export function loadProgrammeState(db: Db, today: CalendarDate): ProgrammeState {
  return remembered(db, `programme state ${today}`, ["design", "plan", "reports", "rules"], () =>
    readProgrammeState(db, today),
  );
}

function readProgrammeState(db: Db, today: CalendarDate): ProgrammeState {
  const plan = planInForce(db);
  const gates = groupBy(db.select().from(gate).all(), (g) => g.hopCode);
  const ends = new Map(
    db
      .select()
      .from(linkEnd)
      .all()
      .map((e) => [e.id, e.siteCode]),
  );
  const rows = db.select().from(hop).orderBy(hop.code).all();
  const visits = plan ? withHolds(db, plan) : [];
  const designs = designsOfProgramme(db, visits);
  const progress = hopProgress(
    rows.map((h) => ({
      code: h.code,
      promisedOn: h.promisedOn ?? undefined,
      acceptance: h.acceptance,
      gates: (gates.get(h.code) ?? []).map(gateOf),
      design: designs.get(h.code),
    })),
    visits,
    doneVisits(db),
    today,
    simulatedFinishes(db, plan),
    hopAcceptances(db),
  );
  return {
    plan,
    risk: plan && loadRisk(db, plan),
    hops: progress.map((p, i) => ({
      ...p,
      scheme: rows[i]!.scheme,
      bandGhz: rows[i]!.bandGhz,
      weight: rows[i]!.weight,
      nearSite: ends.get(`${p.hopCode}/near`) ?? "",
      farSite: ends.get(`${p.hopCode}/far`) ?? "",
    })),
  };
}

/** The plan's visits, with what was put on hold or withdrawn since. */
function withHolds(db: Db, plan: PlanHead): PlannedVisitTimes[] {
  const holds = holdsOf(db, plan);
  return loadPlanVisits(db, plan.id).map((v) => ({ ...v, hold: holds.get(v.visitId) }));
}

export interface CrewWeeks {
  code: string;
  name: string;
  weeks: { workMin: number; travelMin: number; capacityMin: number }[];
}

/**
 * Planned work and travel against shifts, by crew and week, from the Monday of the plan's first week. A visit of several
 * days is spread evenly over them; travel counts a round from the depot on every day, nights away not told apart.
 */
export function loadCrewWeeks(db: Db, plan: PlanHead): { mondays: CalendarDate[]; crews: CrewWeeks[] } {
  return remembered(db, `crew weeks ${plan.id}`, ["design", "plan", "crews", "reports"], () =>
    readCrewWeeks(db, plan),
  );
}

function readCrewWeeks(db: Db, plan: PlanHead): { mondays: CalendarDate[]; crews: CrewWeeks[] } {
  const firstMonday = addDays(plan.firstDay, 1 - weekdayOf(plan.firstDay));
  const weekCount = Math.ceil((daysBetween(firstMonday, plan.firstDay) + plan.dayCount) / 7);
  const mondays = Array.from({ length: weekCount }, (_, w) => addDays(firstMonday, w * 7));
  const needed = loadPlanVisits(db, plan.id).filter((v) => !v.isWithdrawn);
  const visits = groupBy(needed, (v) => v.crewCode ?? "");
  const sites = new Map(loadSites(db).map((s) => [s.code, s.position]));
  const depots = new Map(loadPlaces(db).map((p) => [p.code, p]));
  const crews = loadCrews(db).map((c) => {
    const weeks = mondays.map(() => ({
      workMin: 0,
      travelMin: 0,
      capacityMin: c.weekdays.length * (c.shiftToMin - c.shiftFromMin),
    }));
    const stopsOn = new Map<CalendarDate, LatLon[]>();
    const weekOf = (on: CalendarDate) => weeks[Math.floor(daysBetween(firstMonday, on) / 7)];
    for (const v of visits.get(c.code) ?? []) {
      const days = workdaysOf(v.startOn!, v.endOn!, c.weekdays);
      const position = sites.get(v.siteCode);
      for (const on of days) {
        const week = weekOf(on);
        if (week) week.workMin += v.durationMin / days.length;
        if (position) stopsOn.set(on, [...(stopsOn.get(on) ?? []), position]);
      }
    }
    const depot = depots.get(c.depotPlace);
    for (const [on, stops] of stopsOn) {
      const week = weekOf(on);
      if (!week || !depot || depot.latDeg === null || depot.lonDeg === null) continue;
      week.travelMin += roundMin({ latDeg: depot.latDeg, lonDeg: depot.lonDeg }, stops, DEFAULT_ROADS);
    }
    return { code: c.code, name: c.name, weeks };
  });
  return { mondays, crews };
}

/** The crew's working days from the first to the last day; the first day itself when none is one. */
function workdaysOf(from: CalendarDate, to: CalendarDate, weekdays: readonly Weekday[]): CalendarDate[] {
  const days: CalendarDate[] = [];
  for (let on = from; on <= to; on = addDays(on, 1)) if (weekdays.includes(weekdayOf(on))) days.push(on);
  return days.length > 0 ? days : [from];
}
