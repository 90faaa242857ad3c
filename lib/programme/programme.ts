/**
 * A programme becomes a plan: the product's main path, in the order in which the trade thinks of it.
 * Method: docs/methods/programme.md.
 */

import type { CuttingPlan } from "@/lib/drums";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { Plan, ScheduleProblem } from "@/lib/schedule";
import type { HopTakeoff, TakeoffContext } from "@/lib/takeoff";
import { crewPaces, HopWorker, type KeptPaces, referenceCrew, type WorkedHop } from "./estimates";
import { type KitReady, readyKits, supplyOfKits } from "./kitClaims";
import type { KitSupply } from "./kitSupply";
import { kitsOfPlan, type PlannedKit } from "./kits";
import { netProgramme, type ProgrammeNetting } from "./netProgramme";
import { withWorkLeft } from "./partDone";
import { buildProblem, placedNamed } from "./problem";
import { type SettleOptions, settle } from "./settle";
import type { ProgrammeInput, ProgrammeVisit, Revisit } from "./types";
import { type EstimatedRevisit, SIDES, visitsOf } from "./visits";
import {
  commonShift,
  type KeptPast,
  type VisitWindows,
  visitWindows,
  type WindowMet,
  type WindowWanted,
} from "./visitWindows";

export interface ProgrammePlan {
  problem: ScheduleProblem;
  plan: Plan;
  /** Visits still to do; index = visit index of the problem and the plan. */
  visits: readonly ProgrammeVisit[];
  kitReady: ReadonlyMap<string, KitReady>;
  windows: Pick<VisitWindows, "basis" | "forecastDays" | "past">;
  cutting: readonly CuttingPlan[];
  kits: readonly PlannedKit[];
  netting: ProgrammeNetting;
  settled: { rounds: number; corrected: number; how: string };
}

export type ProgrammeStage = "take-off and hours" | "weather windows" | "kits" | "crews" | "stock";

export interface ProgrammeOptions extends SettleOptions {
  onStage?: (stage: ProgrammeStage) => void;
  /** Hops whose take-off and hours are known for this input. */
  worked?: ReadonlyMap<string, WorkedHop>;
  /** What past years say, known from an earlier plan under the same `pastBasis`. */
  keptPast?: KeptPast;
  /** What crews' people take for the yardstick, known from earlier under the same `paceBasis`. */
  keptPaces?: KeptPaces;
  /** Told what each window of the problem was read from, while it is at hand. */
  onWindow?: (window: number, met: WindowMet) => void;
}

/** A programme put together as the problem of the crews, before anybody is sent anywhere. */
export interface PreparedProgramme {
  problem: ScheduleProblem;
  /** Visits still to do; index = visit index of the problem. */
  visits: readonly ProgrammeVisit[];
  windows: Pick<VisitWindows, "basis" | "forecastDays" | "past">;
  /** By visit id: the item that sets its `kitReadyDay`. */
  lastItem: KitSupply["lastItem"];
}

export function prepareProgramme(
  input: ProgrammeInput,
  options: Pick<ProgrammeOptions, "onStage" | "worked" | "keptPast" | "keptPaces" | "onWindow"> = {},
): PreparedProgramme {
  options.onStage?.("take-off and hours");
  const context = takeoffContext(input);
  const worker = hopWorker(input);
  const worked = new Map(
    input.hops.map((hop) => [hop.code, options.worked?.get(hop.code) ?? worker.work(hop)]),
  );
  const paces = crewPaces(
    input.crews,
    input.today,
    input.norms,
    referenceCrew(input.crews, input.today),
    input.calibration,
    options.keptPaces,
  );
  const visits = openVisits(input, worked, worker);

  options.onStage?.("weather windows");
  const windows = windowsFor(input, visits, worked, context, options);

  options.onStage?.("kits");
  const supply = supplyOfKits(input, visits, placedNamed(input, visits));

  options.onStage?.("crews");
  const problem = buildProblem({
    input,
    visits,
    windows,
    supply,
    stops: designStops(worked),
    paces,
  });
  return {
    problem,
    visits,
    windows: { basis: windows.basis, forecastDays: windows.forecastDays, past: windows.past },
    lastItem: supply.lastItem,
  };
}

export function planProgramme(
  input: ProgrammeInput,
  options: ProgrammeOptions,
): Result<ProgrammePlan, Problem> {
  const lacking = crewProblems(input);
  if (lacking.length > 0) return refused(...lacking);
  const { problem, visits, windows } = prepareProgramme(input, options);
  const settled = settle(problem, visits, input, options);
  if (!settled.ok) return settled;
  const { plan, cutting, rounds, corrected, how } = settled.value;

  options.onStage?.("stock");
  return ok({
    problem: settled.value.problem,
    plan,
    visits,
    kitReady: readyKits(input, visits, plan),
    windows,
    cutting,
    kits: kitsOfPlan(input, visits, plan.placed, cutting),
    netting: netProgramme(input, visits, plan),
    settled: { rounds, corrected, how },
  });
}

/** What keeps any plan from being made: no crew at all, or a crew that starts from nowhere. */
function crewProblems(input: ProgrammeInput): Problem[] {
  if (input.crews.length === 0) {
    return [
      {
        path: "crews",
        rule: "no-crews",
        ...sentences(phrase("There is no crew to plan."), phrase("Bring in crews and their members first.")),
      },
    ];
  }
  const placed = new Set(
    input.depots.filter((d) => d.latDeg !== null && d.lonDeg !== null).map((d) => d.code),
  );
  return input.crews
    .filter((c) => !placed.has(c.depotPlace))
    .map((c) => ({
      path: `crews.${c.code}.depotPlace`,
      rule: "depot-without-coordinate",
      value: c.depotPlace,
      ...sentences(
        phrase("Crew {{crew}} starts from {{place}}, which is no warehouse with a coordinate.", {
          crew: c.code,
          place: c.depotPlace,
        }),
        phrase("Give the place latitude and longitude under Bring in, or name another depot."),
      ),
    }));
}

export function takeoffContext(
  input: Pick<ProgrammeInput, "sites" | "catalogue" | "takeoffRules" | "takeoffPolicy">,
): TakeoffContext {
  return {
    sites: new Map(input.sites.map((s) => [s.id, s])),
    catalogue: input.catalogue,
    rules: input.takeoffRules,
    policy: input.takeoffPolicy,
  };
}

const hopWorker = (input: ProgrammeInput): HopWorker =>
  new HopWorker(
    takeoffContext(input),
    input.norms,
    referenceCrew(input.crews, input.today),
    input.calibration,
  );

/** Visits that nobody has reported done, revisits too, those reported part done with what is left of them. */
export function openVisits(
  input: ProgrammeInput,
  worked: ReadonlyMap<string, WorkedHop>,
  worker: HopWorker = hopWorker(input),
): ProgrammeVisit[] {
  const revisits = new Map<string, Revisit[]>();
  for (const r of input.revisits) revisits.set(r.hopCode, [...(revisits.get(r.hopCode) ?? []), r]);
  const open = input.hops
    .flatMap((hop) => {
      const { takeoff, estimates } = worked.get(hop.code)!;
      const again = (revisits.get(hop.code) ?? []).map(
        (r): EstimatedRevisit => ({ ...r, estimate: worker.revisit(hop, r.side, takeoff, r.remedy) }),
      );
      return visitsOf(hop, takeoff, estimates, again, input.catalogue);
    })
    .filter((v) => !input.done.has(v.id));
  return withWorkLeft(open, input.workLeft);
}

/** A hop whose design fails a check is not planned: the wrong radio on the tower costs two climbs. */
export function designStops(worked: ReadonlyMap<string, WorkedHop>): Map<string, string> {
  const stops = new Map<string, string>();
  for (const [code, { takeoff }] of worked) {
    const failed = failedChecks(takeoff)[0];
    if (failed) stops.set(code, `design check: ${failed.message}`);
  }
  return stops;
}

function failedChecks(t: HopTakeoff) {
  return [...t.checks, ...t.near.checks, ...t.far.checks].filter((c) => c.state === "fail");
}

function windowsFor(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  worked: ReadonlyMap<string, WorkedHop>,
  context: TakeoffContext,
  { keptPast, onWindow }: Pick<ProgrammeOptions, "keptPast" | "onWindow">,
): VisitWindows {
  const hops = new Map(input.hops.map((h) => [h.code, h]));
  const wanted = visits.map((v): WindowWanted => {
    const hop = hops.get(v.hopCode)!;
    const { takeoff } = worked.get(v.hopCode)!;
    return {
      visitId: v.id,
      ends: (v.isJoint ? SIDES : [v.side]).map((side) => ({
        site: context.sites.get(hop[side].siteId)!,
        heightM: takeoff[side].drivers.maxMountHeightM,
        diameterM: takeoff[side].drivers.largestDiameterM,
        bandGhz: hop.bandGhz,
      })),
      segments: v.segments,
    };
  });
  return visitWindows(
    wanted,
    input.weather,
    input.weatherPolicy,
    commonShift(input.crews),
    input.today,
    input.dayCount,
    keptPast,
    onWindow,
    input.norms.derating,
  );
}
