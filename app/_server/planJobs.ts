/** What the worker does for the job kinds "plan", "net" and "estimate". */
import { writing } from "@/db/open";
import {
  loadPlanVisits,
  noteInBasis,
  planInForce,
  replacePlannedKits,
  savePlanStock,
} from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { kitRows, needRows } from "@/db/queries/storePlan";
import { cutForKits, kitsOfPlan, netProgramme, openVisits, type ProgrammeInput } from "@/lib/programme";
import { daysBetween } from "@/lib/time";
import { homeZone, machineNow, nowMillis, today } from "./clock";
import { exactCutting } from "./exactCutting";
import type { JobTools } from "./handlers";
import type { JobInput } from "./jobKinds";
import { startJob } from "./jobs";
import { makePlan, refreshEstimates } from "./planning";
import { seedsAtOnce, withSeedThreads } from "./seedThreads";

/** Time for the cutting list of one cable: with a plan, and with the netting that follows every movement. */
const PLAN_CUT_SECONDS = 5;
const NET_CUT_SECONDS = 2;
/** Iterations that no time limit of an hour reaches: seconds end the search. */
const NO_ITERATION_LIMIT = 1_000_000_000;

export async function planJob(input: JobInput<"plan">, { db, report, shouldStop }: JobTools) {
  const exact = await exactCutting(PLAN_CUT_SECONDS, shouldStop);
  const made = await withSeedThreads(seedsAtOnce(), (scheduler) =>
    makePlan(
      db,
      {
        today: today(homeZone(db), db),
        dayCount: input.weeks * 7,
        frozenDays: input.frozenDays,
        seed: input.seed,
        seconds: input.seconds,
        maxIterations: NO_ITERATION_LIMIT,
        state: "draft",
        createdBy: input.createdBy,
        createdAt: nowMillis(db),
      },
      { report, shouldStop, nowMillis: machineNow, exactCutting: exact, scheduler },
    ),
  );
  if (!made.ok) return { problems: made.problems };
  const { weeks, seconds, frozenDays } = input;
  const replaces = planInForce(db)?.id ?? null;
  const { planId } = made.value;
  writing(db, () => {
    noteInBasis(db, planId, { weeks, seconds, frozenDays, replaces });
    // How sure the draft is stands beside it when somebody compares; it is not waited for.
    startJob(db, "risk", { planId }, null);
  });
  return made.value;
}

export function estimateJob(_input: JobInput<"estimate">, { db, report, shouldStop }: JobTools) {
  const input = loadProgrammeInput(db, { today: today(homeZone(db), db), dayCount: 1, frozenDays: 0 });
  const worked = refreshEstimates(db, input, (done, of) => report({ done, of }), shouldStop);
  return { hops: worked.size };
}

/**
 * Nets the plan in force again, with stock and orders as they are now: needs, cutting lists, and pick days and
 * shortages of the kits that nobody has begun.
 */
export async function netJob(_input: JobInput<"net">, { db, shouldStop }: JobTools) {
  const exact = await exactCutting(NET_CUT_SECONDS, shouldStop);
  const plan = planInForce(db);
  if (!plan) return { items: 0 };
  const now = today(homeZone(db), db);
  const dayCount = Math.max(1, plan.dayCount - daysBetween(plan.firstDay, now));
  const input = loadProgrammeInput(db, { today: now, dayCount, frozenDays: 0 });
  const worked = refreshEstimates(db, input, () => {}, shouldStop);
  const visits = openVisits(input, worked);
  const placed = placedOf(db, plan.id, input, new Map(visits.map((v, i) => [v.id, i])));
  const netting = netProgramme(input, visits, { placed });
  const cutting = cutForKits(visits, { placed }, input, { exact });
  const kits = kitsOfPlan(input, visits, placed, cutting);
  writing(db, () => {
    savePlanStock(db, plan.id, cutting, needRows(input, netting));
    replacePlannedKits(db, plan.id, kitRows(kits));
  });
  return { items: new Set(netting.rows.map((r) => r.itemCode)).size, transfers: netting.transfers.length };
}

function placedOf(
  db: JobTools["db"],
  planId: number,
  input: ProgrammeInput,
  visitIndex: ReadonlyMap<string, number>,
) {
  const crewIndex = new Map(input.crews.map((c, i) => [c.code, i]));
  return loadPlanVisits(db, planId).flatMap((v) => {
    const visit = visitIndex.get(v.visitId);
    const crew = v.crewCode === null ? undefined : crewIndex.get(v.crewCode);
    if (visit === undefined || crew === undefined || !v.startOn || !v.endOn) return [];
    // What should have begun already is needed today.
    const startDay = Math.max(0, daysBetween(input.today, v.startOn));
    const endDay = Math.max(startDay, daysBetween(input.today, v.endOn));
    return [{ visit, crew, startDay, startMin: v.startMin ?? 0, endDay, endMin: v.endMin ?? 0 }];
  });
}
