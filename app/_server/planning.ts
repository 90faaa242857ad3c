/** The long work behind the Plan page: estimates of all ends, a new plan, netting. Runs in the worker and the seed. */
import { createHash } from "node:crypto";
import { type Db, writing } from "@/db/open";
import { saveRevisitEstimate } from "@/db/queries/acceptance";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadCrews } from "@/db/queries/crews";
import { seenRows } from "@/db/queries/dataSince";
import { loadHops, loadSite } from "@/db/queries/design";
import { estimateBases, loadAllEstimates, saveEndEstimate, saveHopEstimate } from "@/db/queries/estimates";
import { keptPaces } from "@/db/queries/keptPaces";
import { loadKeptPast, saveKeptPast } from "@/db/queries/pastWeather";
import { type HorizonWanted, loadProgrammeInput, rulesInForce } from "@/db/queries/programme";
import { storeProgrammePlan } from "@/db/queries/storePlan";
import { estimateKey, NO_CALIBRATION } from "@/lib/calibration";
import type { ExactCutting } from "@/lib/drums";
import {
  HopWorker,
  type ProgrammeInput,
  type ProgrammeOptions,
  type ProgrammeStage,
  planProgramme,
  referenceCrew,
  takeoffContext,
  type WorkedHop,
} from "@/lib/programme";
import type { Problem, Result } from "@/lib/result";
import type { PlanCost } from "@/lib/schedule";
import type { Hop, Site } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

/** Raised when the stored estimate has another form or method than before. */
const ESTIMATE_FORM = 4;

/** All that take-off and hours are made from. */
type EstimateInput = Pick<
  ProgrammeInput,
  | "hops"
  | "sites"
  | "catalogue"
  | "takeoffRules"
  | "takeoffPolicy"
  | "norms"
  | "crews"
  | "today"
  | "calibration"
>;

/** What a hop's estimate was made from: when it differs, the estimate is out of date. */
function basisOf(hop: Hop, siteById: ReadonlyMap<string, Site>, shared: string): string {
  const sites = [hop.near.siteId, hop.far.siteId].map((id) => siteById.get(id));
  const { gates: _gates, promisedOn: _promise, weight: _weight, ...design } = hop;
  return createHash("sha1")
    .update(JSON.stringify([ESTIMATE_FORM, design, sites, shared]))
    .digest("base64url");
}

function sharedBasis(input: EstimateInput): string {
  const crew = referenceCrew(input.crews, input.today);
  return createHash("sha1")
    .update(
      JSON.stringify([
        input.catalogue,
        input.takeoffRules,
        input.takeoffPolicy,
        // Practice and rest are not in an estimate: they stretch a crew's own work, and a day's.
        { ...input.norms, learning: undefined, derating: undefined },
        crew,
        estimateKey(input.calibration ?? NO_CALIBRATION),
      ]),
    )
    .digest("base64url");
}

/** Brings the stored take-off and hours of every end up to date; gives all of them by hop code. */
export function refreshEstimates(
  db: Db,
  input: ProgrammeInput,
  report: (done: number, of: number) => void = () => {},
  shouldStop: () => boolean = () => false,
): Map<string, WorkedHop> {
  return allWorked(db, input, freshEstimates(db, input, report, shouldStop));
}

/** The same for a few hops, at once: what fails of a hop that was just saved need not wait for the worker. */
export function estimateAtOnce(db: Db, hopCodes: readonly string[], today: CalendarDate): void {
  const hops = loadHops(db, hopCodes);
  const { norms, calibration, takeoffPolicy, takeoffRules } = rulesInForce(db);
  const siteCodes = new Set(hops.flatMap((h) => [h.near.siteId, h.far.siteId]));
  freshEstimates(db, {
    hops,
    sites: [...siteCodes].flatMap((code) => loadSite(db, code) ?? []),
    catalogue: loadCatalogue(db),
    takeoffRules,
    takeoffPolicy,
    norms,
    crews: loadCrews(db),
    today,
    calibration,
  });
}

/** Works out the hops whose estimates are out of date, and keeps them. */
function freshEstimates(
  db: Db,
  input: EstimateInput,
  report: (done: number, of: number) => void = () => {},
  shouldStop: () => boolean = () => false,
): Map<string, WorkedHop> {
  const shared = sharedBasis(input);
  const siteById = new Map(input.sites.map((s) => [s.id, s]));
  const bases = estimateBases(db);
  const basis = new Map(input.hops.map((h) => [h.code, basisOf(h, siteById, shared)]));
  const stale = input.hops.filter((h) => bases.get(h.code) !== basis.get(h.code));
  const worker = new HopWorker(
    takeoffContext(input),
    input.norms,
    referenceCrew(input.crews, input.today),
    input.calibration,
  );
  const fresh = new Map<string, WorkedHop>();
  for (const [i, hop] of stale.entries()) {
    if (shouldStop()) break;
    fresh.set(hop.code, worker.work(hop));
    if (i % 20 === 0) report(i, stale.length);
  }
  writing(db, () => {
    for (const hop of stale) {
      const w = fresh.get(hop.code);
      if (!w) continue;
      const b = basis.get(hop.code)!;
      for (const side of ["near", "far"] as const) {
        saveEndEstimate(db, {
          endId: hop[side].id,
          basis: b,
          takeoff: w.takeoff[side],
          estimate: w.estimates[side],
        });
      }
      saveHopEstimate(db, {
        hopCode: hop.code,
        basis: b,
        checks: [...w.takeoff.checks],
        alignment: w.estimates.alignment,
        acceptance: w.estimates.acceptance,
      });
    }
  });
  return fresh;
}

function allWorked(
  db: Db,
  input: ProgrammeInput,
  fresh: ReadonlyMap<string, WorkedHop>,
): Map<string, WorkedHop> {
  if (fresh.size === input.hops.length) return new Map(fresh);
  const stored = loadAllEstimates(db);
  const ends = new Map(stored.ends.map((e) => [e.endId, e]));
  const hops = new Map(stored.hops.map((h) => [h.hopCode, h]));
  const all = new Map(fresh);
  for (const hop of input.hops) {
    const near = ends.get(hop.near.id);
    const far = ends.get(hop.far.id);
    const joint = hops.get(hop.code);
    if (all.has(hop.code) || !near || !far || !joint) continue;
    all.set(hop.code, {
      takeoff: { hopId: hop.id, near: near.takeoff, far: far.takeoff, checks: joint.checks },
      estimates: {
        near: near.estimate,
        far: far.estimate,
        alignment: joint.alignment,
        acceptance: joint.acceptance,
      },
    });
  }
  return all;
}

export interface PlanWanted extends HorizonWanted {
  seed: string;
  /** The search ends after this many iterations, or earlier when `seconds` are over. */
  maxIterations: number;
  seconds: number;
  state: "draft" | "in force";
  createdBy: string;
  createdAt: number;
}

export interface PlanProgress {
  stage: ProgrammeStage;
  iteration?: number;
  best?: PlanCost;
  placed?: number;
  unplaced?: number;
  seconds: number;
}

export interface PlanMade {
  planId: number;
  placed: number;
  unplaced: number;
  stopped: boolean;
}

/** Makes a plan and stores it. A stop asked for meanwhile ends the search; what it found so far is stored as a draft. */
export function makePlan(
  db: Db,
  wanted: PlanWanted,
  tools: {
    report: (p: PlanProgress) => void;
    shouldStop: () => boolean;
    nowMillis: () => number;
    exactCutting?: ExactCutting;
    /** Searches from several seeds; undefined = from one, here. */
    scheduler?: ProgrammeOptions["scheduler"];
  },
): Result<PlanMade, Problem> {
  const seen = seenRows(db);
  const input = loadProgrammeInput(db, wanted);
  const startedAt = tools.nowMillis();
  const seconds = () => (tools.nowMillis() - startedAt) / 1000;
  let stage: ProgrammeStage = "take-off and hours";
  tools.report({ stage, seconds: 0 });
  const worked = refreshEstimates(
    db,
    input,
    () => tools.report({ stage, seconds: seconds() }),
    tools.shouldStop,
  );
  let searchFrom = tools.nowMillis();
  const share = () => (tools.nowMillis() - searchFrom) / (wanted.seconds * 1000);
  const made = planProgramme(input, {
    seed: wanted.seed,
    maxIterations: wanted.maxIterations,
    worked,
    exactCutting: tools.exactCutting,
    scheduler: tools.scheduler,
    keptPast: loadKeptPast(db, input),
    keptPaces: keptPaces(db, input),
    shouldStop: () => share() >= 1 || tools.shouldStop(),
    timeShare: Number.isFinite(wanted.seconds) ? share : undefined,
    onStage: (next) => {
      stage = next;
      if (next === "crews") searchFrom = tools.nowMillis();
      tools.report({ stage, seconds: seconds() });
    },
    onProgress: (p) =>
      tools.report({
        stage,
        iteration: p.iteration,
        best: p.best,
        placed: p.placed,
        unplaced: p.unplaced,
        seconds: seconds(),
      }),
    progressEvery: 50,
  });
  if (!made.ok) return made;
  const planId = writing(db, () => {
    for (const v of made.value.visits) {
      if (v.kind === "revisit") saveRevisitEstimate(db, v.id, v.estimate);
    }
    saveKeptPast(db, input, made.value.windows.past);
    return storeProgrammePlan(db, input, made.value, {
      state: wanted.state,
      seen,
      createdBy: wanted.createdBy,
      createdAt: wanted.createdAt,
      versions: rulesInForce(db).versions,
    });
  });
  return {
    ok: true,
    value: {
      planId,
      placed: made.value.plan.placed.length,
      unplaced: made.value.plan.unplaced.length,
      stopped: tools.shouldStop(),
    },
  };
}
