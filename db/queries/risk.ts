/** How sure plans are, as it was worked out last. */
import { eq } from "drizzle-orm";
import { parseVisitId, type RiskByName, type SimulatedFinish, type VisitShare } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { crew, item, planRisk } from "../schema";
import { loadPlanVisits, type PlanHead, type PlannedVisit } from "./plans";

export interface StoredRisk {
  risk: RiskByName;
  /** Was the plan changed by hand since? */
  isOutdated: boolean;
  madeAt: number;
}

/** Replaces what was known of the plan's risk. */
export function saveRisk(db: Db, { id, revision }: PlanHead, body: RiskByName, madeAt: number): void {
  const row = { planRevision: revision, madeAt, body };
  db.insert(planRisk)
    .values({ planId: id, ...row })
    .onConflictDoUpdate({ target: planRisk.planId, set: row })
    .run();
}

/** undefined while the plan has not been simulated. */
export function loadRisk(db: Db, { id, revision }: PlanHead): StoredRisk | undefined {
  const row = db.select().from(planRisk).where(eq(planRisk.planId, id)).get();
  return row && { risk: row.body, isOutdated: row.planRevision !== revision, madeAt: row.madeAt };
}

/** By hop code. A run that was followed to its last day without an end counts as ending on it. */
export function simulatedFinishes(db: Db, plan: PlanHead | undefined): Map<string, SimulatedFinish> {
  const stored = plan && loadRisk(db, plan);
  if (!stored) return new Map();
  const { hops, followedTo } = stored.risk;
  const orLast = (on: CalendarDate | undefined) => on ?? followedTo;
  return new Map(
    hops.map((h) => [
      h.hopCode,
      { p50On: orLast(h.p50On), p80On: orLast(h.p80On), promiseMetShare: h.promiseMetShare },
    ]),
  );
}

/** Something that drives the programme's finish, with what a planner knows it by. */
export interface Driver {
  code: string;
  name: string;
  /** Share of runs in which it is critical. */
  share: number;
}

export interface VisitDriver extends VisitShare {
  hopCode: string;
  side: PlannedVisit["side"];
  kind: PlannedVisit["kind"];
  /** 1 for the first or only visit of the work at this end. */
  part: number;
  siteCode: string;
  startOn: CalendarDate | null;
  endOn: CalendarDate | null;
}

export interface FinishDrivers {
  visits: VisitDriver[];
  standIns: VisitDriver[];
  crews: Driver[];
  items: Driver[];
}

/** What the simulation found, with the plan's rows and the names beside it. */
export function loadDrivers(db: Db, plan: PlanHead, risk: RiskByName): FinishDrivers {
  const rows = new Map(loadPlanVisits(db, plan.id).map((v) => [v.visitId, v]));
  const crews = new Map(
    db
      .select()
      .from(crew)
      .all()
      .map((c) => [c.code, c.name]),
  );
  const items = new Map(
    db
      .select()
      .from(item)
      .all()
      .map((i) => [i.code, i.name]),
  );
  const visits = (shares: readonly VisitShare[]) =>
    shares.flatMap((s): VisitDriver[] => {
      const row = rows.get(s.visitId);
      if (!row) return [];
      const { hopCode, side, kind, siteCode, startOn, endOn } = row;
      const part = parseVisitId(s.visitId)?.part ?? 1;
      return [{ ...s, hopCode, side, kind, part, siteCode, startOn, endOn }];
    });
  const named = (shares: RiskByName["items"], names: ReadonlyMap<string, string>) =>
    shares.map(({ of, share }) => ({ code: of, name: names.get(of) ?? "", share }));
  return {
    visits: visits(risk.visits),
    standIns: visits(risk.standIns),
    crews: named(risk.crews, crews),
    items: named(risk.items, items),
  };
}
