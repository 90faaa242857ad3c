/** How sure plans are, as it was worked out last. */
import { eq } from "drizzle-orm";
import {
  parseVisitId,
  type RiskByName,
  type SimulatedFinish,
  type SlipByName,
  type StandIn,
  type VisitShare,
} from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { crew, item, planRisk } from "../schema";
import { type DataSince, dataSince, reportedSince, type SeenRows } from "./dataSince";
import { loadPlanVisits, type PlanHead, type PlannedVisit } from "./plans";
import { doneVisits } from "./reports";
import { withdrawnVisits } from "./withdrawn";

export interface StoredRisk {
  risk: RiskByName;
  /** Was the plan changed by hand since? */
  isOutdated: boolean;
  madeAt: number;
  /** The last rows that the run knew. */
  seen?: SeenRows;
}

/** Replaces what was known of the plan's risk. */
export function saveRisk(
  db: Db,
  { id, revision }: PlanHead,
  risk: RiskByName,
  madeAt: number,
  seen?: SeenRows,
): void {
  const row = { planRevision: revision, madeAt, body: { ...risk, seen } };
  db.insert(planRisk)
    .values({ planId: id, ...row })
    .onConflictDoUpdate({ target: planRisk.planId, set: row })
    .run();
}

/** undefined while the plan has not been simulated. */
export function loadRisk(db: Db, { id, revision }: PlanHead): StoredRisk | undefined {
  const row = db.select().from(planRisk).where(eq(planRisk.planId, id)).get();
  if (!row) return undefined;
  const { seen, ...risk } = row.body;
  return {
    risk: withoutWithdrawn(db, id, risk),
    isOutdated: row.planRevision !== revision,
    madeAt: row.madeAt,
    seen,
  };
}

/** Data that the run does not know, a visit reported done among them: it ran what was still to do. */
export function dataSinceRun(db: Db, { madeAt, seen }: StoredRisk): DataSince[] {
  const known = { at: madeAt, rows: seen };
  return dataSince(db, known, reportedSince(db, known));
}

/** Hops of which only withdrawn revisits were left to run have no finish to be sure of. */
function withoutWithdrawn(db: Db, planId: number, risk: RiskByName): RiskByName {
  const withdrawn = withdrawnVisits(db);
  if (withdrawn.size === 0) return risk;
  const rows = loadPlanVisits(db, planId);
  const done = doneVisits(db);
  const hopsOf = (of: readonly PlannedVisit[]) => new Set(of.map((v) => v.hopCode));
  const left = hopsOf(rows.filter((v) => !v.isWithdrawn && !done.has(v.visitId)));
  const off = hopsOf(rows.filter((v) => v.isWithdrawn && !left.has(v.hopCode)));
  return { ...risk, hops: risk.hops.filter((h) => !off.has(h.hopCode)) };
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

export type VisitDriver<S extends VisitShare = VisitShare> = S & {
  hopCode: string;
  side: PlannedVisit["side"];
  kind: PlannedVisit["kind"];
  /** 1 for the first or only visit of the work at this end. */
  part: number;
  siteCode: string;
  startOn: CalendarDate | null;
  endOn: CalendarDate | null;
};

export interface FinishDrivers {
  visits: VisitDriver[];
  standIns: VisitDriver<StandIn>[];
  slips: VisitDriver<SlipByName>[];
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
  const visits = <S extends VisitShare>(shares: readonly S[]) =>
    shares.flatMap((s): VisitDriver<S>[] => {
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
    slips: visits(risk.slips ?? []),
    crews: named(risk.crews, crews),
    items: named(risk.items, items),
  };
}
