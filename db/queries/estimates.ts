/** Take-off and hours kept per end and hop, so that lists of thousands need no computing. */
import { eq, inArray } from "drizzle-orm";
import type { CrewNeeds, EndEstimate } from "@/lib/hours";
import { type HopEstimates, setupDueMin, type WorkedHop } from "@/lib/programme";
import type { EndSide } from "@/lib/site";
import type { DesignCheck, EndTakeoff } from "@/lib/takeoff";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { endEstimate, hopEstimate, revisit } from "../schema";
import { endId } from "./design";
import type { PlannedVisit } from "./plans";

export interface StoredEndEstimate {
  endId: string;
  basis: string;
  takeoff: EndTakeoff;
  estimate: EndEstimate;
}

export interface StoredHopEstimate {
  hopCode: string;
  basis: string;
  checks: DesignCheck[];
  alignment: HopEstimates["alignment"];
  acceptance?: HopEstimates["acceptance"];
}

const count = (checks: readonly DesignCheck[], state: DesignCheck["state"]) =>
  checks.filter((c) => c.state === state).length;

/** One work for both ends. */
const isSameWork = ({ near, far }: Record<EndSide, EndEstimate>): boolean =>
  JSON.stringify(near) === JSON.stringify(far);

/** Minutes of work that the lists show: once for both ends at once, else of one end and of the other. */
function jointMin(work: Record<EndSide, EndEstimate> | undefined): number {
  if (!work) return 0;
  return isSameWork(work) ? work.near.durationMin : work.near.durationMin + work.far.durationMin;
}

export function saveEndEstimate(db: Db, e: StoredEndEstimate): void {
  const row = {
    endId: e.endId,
    basis: e.basis,
    takeoff: e.takeoff as unknown,
    estimate: e.estimate as unknown,
    failCount: count(e.takeoff.checks, "fail"),
    warnCount: count(e.takeoff.checks, "warn"),
    cableM: e.takeoff.drivers.cableM,
    massKg: e.takeoff.massKg,
    installMin: e.estimate.durationMin,
    p80Min: e.estimate.p80Min,
  };
  const { endId: _, ...rest } = row;
  db.insert(endEstimate).values(row).onConflictDoUpdate({ target: endEstimate.endId, set: rest }).run();
}

export function saveHopEstimate(db: Db, h: StoredHopEstimate): void {
  const row = {
    hopCode: h.hopCode,
    basis: h.basis,
    checks: h.checks as unknown,
    alignment: h.alignment.near as unknown,
    alignmentFar: isSameWork(h.alignment) ? null : (h.alignment.far as unknown),
    acceptance: (h.acceptance ?? null) as unknown,
    alignmentMin: jointMin(h.alignment) + jointMin(h.acceptance),
    failCount: count(h.checks, "fail"),
    warnCount: count(h.checks, "warn"),
  };
  const { hopCode: _, ...rest } = row;
  db.insert(hopEstimate).values(row).onConflictDoUpdate({ target: hopEstimate.hopCode, set: rest }).run();
}

export function loadEndEstimate(db: Db, endId: string): StoredEndEstimate | undefined {
  const row = db.select().from(endEstimate).where(eq(endEstimate.endId, endId)).get();
  if (!row) return undefined;
  return {
    endId: row.endId,
    basis: row.basis,
    takeoff: row.takeoff as EndTakeoff,
    estimate: row.estimate as EndEstimate,
  };
}

/** Kept hours of the work that a planned visit does or is a part of. */
export function loadVisitEstimate(
  db: Db,
  { visitId, kind, hopCode, side }: Pick<PlannedVisit, "visitId" | "kind" | "hopCode" | "side">,
): EndEstimate | undefined {
  if (kind === "install") return loadEndEstimate(db, `${hopCode}/${side}`)?.estimate;
  if (kind === "revisit") {
    const row = db
      .select({ estimate: revisit.estimate })
      .from(revisit)
      .where(eq(revisit.visitId, visitId))
      .get();
    return (row?.estimate as EndEstimate | null) ?? undefined;
  }
  const row = db.select().from(hopEstimate).where(eq(hopEstimate.hopCode, hopCode)).get();
  const kept = row && hopEstimateOf(row);
  return kind === "acceptance" ? kept?.acceptance?.[side] : kept?.alignment[side];
}

/** SQL: the same of rows `p` of plan_visit, for many at once; with `VISIT_ESTIMATE_JOINS` beside it. */
export const VISIT_ESTIMATE = `CASE p.kind
  WHEN 'alignment' THEN COALESCE(CASE p.side WHEN 'far' THEN he.alignment_far END, he.alignment)
  WHEN 'acceptance' THEN json_extract(he.acceptance, '$.' || p.side)
  WHEN 'revisit' THEN rv.estimate
  ELSE ee.estimate END`;

export const VISIT_ESTIMATE_JOINS = `
  LEFT JOIN end_estimate ee ON ee.end_id = p.hop_code || '/' || p.side
  LEFT JOIN hop_estimate he ON he.hop_code = p.hop_code
  LEFT JOIN revisit rv ON rv.visit_id = p.visit_id`;

/** Fewest people of the placed visits of a plan that end on `from` or later; those not estimated are left out. */
export function loadPlanNeeds(db: Db, planId: number, from: CalendarDate): Map<string, CrewNeeds> {
  const rows = db.$client
    .prepare(
      `SELECT p.visit_id AS visitId, json_extract(${VISIT_ESTIMATE}, '$.needs') AS needs
       FROM plan_visit p ${VISIT_ESTIMATE_JOINS}
       WHERE p.plan_id = :planId AND p.crew_code IS NOT NULL AND p.end_on >= :from`,
    )
    .all({ planId, from }) as { visitId: string; needs: string | null }[];
  return new Map(
    rows.flatMap(({ visitId, needs }) => (needs ? [[visitId, JSON.parse(needs) as CrewNeeds]] : [])),
  );
}

/** Set-up that is still due before a visit, minutes, by the visits of its crew in the same plan; null = not estimated. */
export const setupDue = (db: Db, visit: PlannedVisit, ofCrew: readonly PlannedVisit[]): number | null =>
  setupDueMin(visit, ofCrew, (v) => loadVisitEstimate(db, v)?.setupMin ?? null);

/** Basis of every end that has an estimate: what is missing or differs must be computed anew. */
export function estimateBases(db: Db): Map<string, string> {
  const ends = db.select({ id: endEstimate.endId, basis: endEstimate.basis }).from(endEstimate).all();
  const hops = db.select({ id: hopEstimate.hopCode, basis: hopEstimate.basis }).from(hopEstimate).all();
  return new Map([...ends, ...hops].map((r) => [r.id, r.basis]));
}

export function loadAllEstimates(db: Db): { ends: StoredEndEstimate[]; hops: StoredHopEstimate[] } {
  return {
    ends: db
      .select()
      .from(endEstimate)
      .all()
      .map((row) => ({
        endId: row.endId,
        basis: row.basis,
        takeoff: row.takeoff as EndTakeoff,
        estimate: row.estimate as EndEstimate,
      })),
    hops: db.select().from(hopEstimate).all().map(hopEstimateOf),
  };
}

function hopEstimateOf(row: typeof hopEstimate.$inferSelect): StoredHopEstimate {
  return {
    hopCode: row.hopCode,
    basis: row.basis,
    checks: row.checks as DesignCheck[],
    alignment: {
      near: row.alignment as EndEstimate,
      far: (row.alignmentFar ?? row.alignment) as EndEstimate,
    },
    acceptance: (row.acceptance as HopEstimates["acceptance"] | null) ?? undefined,
  };
}

/** Take-off and hours of these hops as they are kept; a hop that lacks any is left out. */
export function loadKeptHops(db: Db, codes: readonly string[]): Map<string, WorkedHop> {
  const ends = new Map<string, { takeoff: EndTakeoff; estimate: EndEstimate }>();
  const kept = new Map<string, WorkedHop>();
  for (let from = 0; from < codes.length; from += CODES_A_TIME) {
    const some = codes.slice(from, from + CODES_A_TIME);
    const endIds = some.flatMap((code) => [endId(code, "near"), endId(code, "far")]);
    for (const row of db.select().from(endEstimate).where(inArray(endEstimate.endId, endIds)).all())
      ends.set(row.endId, { takeoff: row.takeoff as EndTakeoff, estimate: row.estimate as EndEstimate });
    for (const row of db.select().from(hopEstimate).where(inArray(hopEstimate.hopCode, some)).all()) {
      const near = ends.get(endId(row.hopCode, "near"));
      const far = ends.get(endId(row.hopCode, "far"));
      if (!near || !far) continue;
      const joint = hopEstimateOf(row);
      kept.set(row.hopCode, {
        takeoff: {
          hopId: row.hopCode,
          near: near.takeoff,
          far: far.takeoff,
          checks: joint.checks,
        },
        estimates: {
          near: near.estimate,
          far: far.estimate,
          alignment: joint.alignment,
          acceptance: joint.acceptance,
        },
      });
    }
  }
  return kept;
}

const CODES_A_TIME = 300;
