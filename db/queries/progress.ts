/** What the Programme page shows: each hop against its promise, and the load of the crews by week. */
import { type HopProgress, hopProgress } from "@/lib/programme";
import type { Scheme } from "@/lib/site";
import { addDays, type CalendarDate, daysBetween, weekdayOf } from "@/lib/time";
import type { Db } from "../open";
import { gate, hop, linkEnd } from "../schema";
import { loadCrews } from "./crews";
import { groupBy } from "./design";
import { loadPlanVisits, type PlanHead, planInForce } from "./plans";
import { doneVisits } from "./reports";

export interface HopRow extends HopProgress {
  scheme: Scheme;
  bandGhz: number;
  nearSite: string;
  farSite: string;
  weight: number;
}

export interface ProgrammeState {
  plan?: PlanHead;
  hops: HopRow[];
}

export function loadProgrammeState(db: Db): ProgrammeState {
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
  const progress = hopProgress(
    rows.map((h) => ({
      code: h.code,
      promisedOn: h.promisedOn ?? undefined,
      gates: (gates.get(h.code) ?? []).map((g) => ({
        hopId: g.hopCode,
        side: g.side === "both" ? undefined : g.side,
        kind: g.kind,
        owner: g.owner,
        state: g.state,
        dueOn: g.dueOn ?? undefined,
      })),
    })),
    plan ? loadPlanVisits(db, plan.id) : [],
    doneVisits(db),
  );
  return {
    plan,
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

export interface CrewWeeks {
  code: string;
  name: string;
  weeks: { workMin: number; capacityMin: number }[];
}

/** Planned work against shifts, by crew and week, from the Monday of the plan's first week. */
export function loadCrewWeeks(db: Db, plan: PlanHead): { mondays: CalendarDate[]; crews: CrewWeeks[] } {
  const firstMonday = addDays(plan.firstDay, 1 - weekdayOf(plan.firstDay));
  const weekCount = Math.ceil((daysBetween(firstMonday, plan.firstDay) + plan.dayCount) / 7);
  const mondays = Array.from({ length: weekCount }, (_, w) => addDays(firstMonday, w * 7));
  const visits = groupBy(loadPlanVisits(db, plan.id), (v) => v.crewCode ?? "");
  const crews = loadCrews(db).map((c) => {
    const weeks = mondays.map(() => ({
      workMin: 0,
      capacityMin: c.weekdays.length * (c.shiftToMin - c.shiftFromMin),
    }));
    for (const v of visits.get(c.code) ?? []) {
      const week = weeks[Math.floor(daysBetween(firstMonday, v.startOn!) / 7)];
      if (week) week.workMin += v.durationMin;
    }
    return { code: c.code, name: c.name, weeks };
  });
  return { mondays, crews };
}
