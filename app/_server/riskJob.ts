/** What the worker does for the job kind "risk": how sure the plan in force, or a draft, is. */
import { type Db, writing } from "@/db/open";
import { seenRows } from "@/db/queries/dataSince";
import { keptPaces } from "@/db/queries/keptPaces";
import { loadKeptPast } from "@/db/queries/pastWeather";
import { loadPlan, loadPlanVisits, type PlanHead, planInForce } from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { saveRisk } from "@/db/queries/risk";
import { planRisk } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { homeZone, nowMillis, today } from "./clock";
import type { JobTools } from "./handlers";
import type { JobInput } from "./jobKinds";
import { refreshEstimates } from "./planning";

/** The standard error of a share near 0.8 is then below 1 %. */
const RUNS = 2000;
const REPORT_EVERY_RUNS = 100;

export interface RiskMade {
  planId?: number;
  runs: number;
}

export function riskJob({ planId }: JobInput<"risk">, { db, report, shouldStop }: JobTools): RiskMade {
  const plan = planId === undefined ? planInForce(db) : loadPlan(db, planId);
  if (!plan) return { runs: 0 };
  const runs = assessPlan(db, plan, today(homeZone(db), db), nowMillis(db), { report, shouldStop });
  return { planId: plan.id, runs };
}

/** Simulates a plan from `from` on and stores the answer; a stop before all runs are done leaves what was stored. */
export function assessPlan(
  db: Db,
  plan: PlanHead,
  from: CalendarDate,
  madeAt: number,
  { report, shouldStop }: Pick<JobTools, "report" | "shouldStop">,
): number {
  report({ done: 0, of: RUNS });
  const seen = seenRows(db);
  const loaded = loadProgrammeInput(db, { today: from, dayCount: 1, frozenDays: 0 });
  // The rows of the plan are given; what holds a new plan to the old one has no part in it.
  const input = { ...loaded, inForce: [], pinned: [] };
  const worked = refreshEstimates(db, input, () => {}, shouldStop);
  if (shouldStop()) return 0;
  const risk = planRisk(
    input,
    loadPlanVisits(db, plan.id),
    { worked, keptPast: loadKeptPast(db, input), keptPaces: keptPaces(db, input) },
    {
      seed: plan.seed,
      runs: RUNS,
      shouldStop,
      onProgress: (done) => report({ done, of: RUNS }),
      progressEvery: REPORT_EVERY_RUNS,
    },
  );
  // A draft may have been discarded meanwhile.
  if (risk.runs === RUNS) writing(db, () => loadPlan(db, plan.id) && saveRisk(db, plan, risk, madeAt, seen));
  return risk.runs;
}
