/**
 * Settles plan and stock against each other. The plan assumes that a kit is whole on its day, by sums over all
 * warehouses; cutting then tries the drums, where metres in sum do not help when no drum holds the run, and netting the
 * shelves, where a piece in another warehouse does not help when it comes over too late. What comes later than assumed
 * moves its kit's day, and the plan is improved again from where it stands: a few rounds at most, and how it ended is
 * said.
 */
import {
  type CutOptions,
  type CuttingPlan,
  cutDrums,
  type DrumKind,
  type DrumOnHand,
  type ExactCutting,
  type FixedCut,
  type RunWanted,
} from "@/lib/drums";
import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { type Plan, type ScheduleOptions, type ScheduleProblem, schedule } from "@/lib/schedule";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { keptCuts } from "./keptCuts";
import { kitPlaceOf, ON_ORDER, pickDate, transferDaysOf } from "./kits";
import { ALL_WAREHOUSES, netProgramme } from "./netProgramme";
import { steadierCuts } from "./steadyCuts";
import type { ProgrammeInput, ProgrammeVisit } from "./types";

export interface SettleOptions extends ScheduleOptions {
  /** Drums are cut exactly with it, once the plan stands; without it by the quick method. */
  exactCutting?: ExactCutting;
  /** Makes the plan of the crews; undefined = `schedule`, from one seed. */
  scheduler?: typeof schedule;
}

export interface Settled {
  problem: ScheduleProblem;
  plan: Plan;
  cutting: CuttingPlan[];
  rounds: number;
  /** Kits whose day was moved because a run or a piece comes later than assumed. */
  corrected: number;
  how: string;
}

/** What `how` may say: a screen says it in its reader's language. */
export const SETTLED = [
  "all kits whole as assumed",
  "all kits whole after {{rounds}} rounds",
  "{{kits}} kits still wait for what comes later: see Stock and the cutting list",
  "1 kit still waits for what comes later: see Stock and the cutting list",
  // Of plans made while only the drums were tried.
  "cut as assumed",
  "cut as assumed after {{rounds}} rounds",
  "{{kits}} kits still wait for cable: see the cutting list",
  "1 kit still waits for cable: see the cutting list",
] as const;

const MOST_ROUNDS = 4;
/** Of the time the first round leaves so much to the others, which share what is left; of iterations each has a tenth. */
const FIRST_SHARE = 0.6;
const LATER_ITERATIONS = 0.1;

/** What may be bought: drums of the catalogue's order length. */
export function drumKinds(input: ProgrammeInput): DrumKind[] {
  return input.catalogue
    .filter((i) => i.category === "IF cable")
    .map((i) => ({
      cableCode: i.code,
      lengthCm: Math.round(i.orderMultiple * 100),
      priceMinor: Math.round(i.priceMinor * i.orderMultiple),
      leadTimeDays: i.leadTimeDays,
    }));
}

/** Drums on hand, and those on order as whole drums from the day they are due. */
export function drumsToCut(input: ProgrammeInput): DrumOnHand[] {
  const kinds = new Map(drumKinds(input).map((k) => [k.cableCode, k]));
  const coming = input.orders.flatMap((order): DrumOnHand[] => {
    const kind = kinds.get(order.itemCode);
    if (!kind) return [];
    const count = Math.floor((order.quantity * 100) / kind.lengthCm + 1e-9);
    return Array.from({ length: count }, (_, i) => ({
      id: `${order.orderCode} drum ${i + 1}`,
      serial: `${order.orderCode} drum ${i + 1}`,
      cableCode: order.itemCode,
      placeId: ON_ORDER,
      comesTo: order.placeCode,
      receivedCm: kind.lengthCm,
      remainingCm: kind.lengthCm,
      availableOn: order.dueOn,
      isNew: true,
    }));
  });
  return [...input.drums, ...coming];
}

/**
 * The runs of the placed visits, each wanted on the day its kit is picked, at the warehouse where it is; of issued kits
 * those that go after them.
 */
export function runsWanted(
  visits: readonly ProgrammeVisit[],
  plan: Pick<Plan, "placed">,
  input: ProgrammeInput,
): RunWanted[] {
  const placeOf = kitPlaceOf(input);
  return plan.placed.flatMap((p) => {
    const visit = visits[p.visit]!;
    const isOut = input.issued.has(visit.id);
    const neededOn = pickDate(addDays(input.today, p.startDay), input.kitDays, input.today);
    const placeId = placeOf(visit, p.crew);
    return visit.runs
      .filter((r) => (!isOut || input.runsToFollow?.has(r.id)) && !input.cutRuns?.has(r.id))
      .map((r): RunWanted => ({ ...r, neededOn, placeId }));
  });
}

/**
 * The cutting lists of a plan: every run that its kits want, from the drums on hand and on order. A drum that stands at
 * another warehouse than the kit gives a run only when the piece comes over in time, by the days of a transfer. Cuts that
 * the list in force names for today and the next working day stay where they are, later ones unless moving them serves
 * better (`steadierCuts`).
 */
export function cutForKits(
  visits: readonly ProgrammeVisit[],
  plan: Pick<Plan, "placed">,
  input: ProgrammeInput,
  options: Pick<CutOptions, "random" | "exact">,
): CuttingPlan[] {
  const runs = runsWanted(visits, plan, input);
  const drums = drumsToCut(input);
  const daysOver = transferDaysOf(input);
  const kinds = drumKinds(input);
  const kept = keptCuts(runs, drums, input, daysOver);
  const cut = (fixedCuts: readonly FixedCut[], how: typeof options) =>
    cutDrums(runs, drums, kinds, input.cutPolicy, { ...how, today: input.today, daysOver, fixedCuts });
  const fresh = cut(kept.firm, options);
  if (kept.all.length === kept.firm.length) return fresh;
  const steady = cut(kept.all, {});
  return fresh.map((plan, i) => steadierCuts(steady[i]!, plan, input.cutPolicy));
}

export function settle(
  first: ScheduleProblem,
  visits: readonly ProgrammeVisit[],
  input: ProgrammeInput,
  options: SettleOptions,
): Result<Settled, Problem> {
  const visitOfRun = new Map(visits.flatMap((v, i) => v.runs.map((r) => [r.id, i] as const)));
  let problem = first;
  let corrected = 0;
  let iterations = 0;
  let last: Candidate | undefined;
  let best: Candidate | undefined;
  for (let round = 1; ; round++) {
    const solved: Result<Plan, Problem> = (options.scheduler ?? schedule)(
      problem,
      roundOptions(options, round, last?.plan, iterations),
    );
    if (!solved.ok) return solved;
    const plan = solved.value;
    iterations += plan.iterations;
    const quick = cut(plan);
    const moves = laterKits(
      [...laterRuns(quick, visitOfRun), ...laterPieces(input, visits, plan)],
      problem,
      plan.placed,
      input,
    );
    last = { problem, plan, quick, corrected, waiting: moves.size };
    // A correction may cost more than it saves, when what it moves finds no place any more.
    if (!best || worthOf(last) < worthOf(best)) best = last;
    // Time that is over, or a stop, ends the search and no correction: what the kits cannot keep nobody could put in force.
    if (moves.size === 0 || round === MOST_ROUNDS) {
      // The exact method makes no run later than the quick one does, so it need not be asked before the plan stands.
      const cutting = options.exactCutting ? cut(best.plan, options.exactCutting) : best.quick;
      const how = howItEnded(best.corrected === 0 ? 1 : round, best.waiting);
      return ok({
        problem: best.problem,
        plan: best.plan,
        cutting,
        rounds: round,
        corrected: best.corrected,
        how,
      });
    }
    corrected += moves.size;
    problem = {
      ...problem,
      visits: problem.visits.map((v, i) => ({ ...v, kitReadyDay: moves.get(i) ?? v.kitReadyDay })),
    };
  }

  function cut(plan: Plan, exact?: ExactCutting): CuttingPlan[] {
    return cutForKits(visits, plan, input, { random: new Random(`${options.seed} cutting`), exact });
  }
}

/** A plan that a round ended with. */
interface Candidate {
  problem: ScheduleProblem;
  plan: Plan;
  quick: CuttingPlan[];
  corrected: number;
  /** Kits that are not whole on its days. */
  waiting: number;
}

/** A visit without its kit is worth as much as one that nobody was sent to. */
const worthOf = ({ problem, plan, waiting }: Candidate): number =>
  plan.cost.total + problem.weights.unplacedVisit * waiting;

/**
 * A round's part of the search; the ones after the first begin at the plan that is to be corrected.
 * @param before iterations of the rounds before, which whoever watches sees as one search
 */
function roundOptions(
  options: SettleOptions,
  round: number,
  from: Plan | undefined,
  before: number,
): ScheduleOptions {
  const { timeShare, shouldStop, maxIterations, onProgress } = options;
  const begins = timeShare?.() ?? 0;
  const ends = round === 1 ? FIRST_SHARE : begins + (1 - begins) / (MOST_ROUNDS - round + 1);
  // With a clock the iterations do not count; without one the first round has all of them.
  const ofRound = timeShare && (() => (begins < ends ? (timeShare() - begins) / (ends - begins) : 1));
  return {
    ...options,
    maxIterations: round === 1 ? maxIterations : Math.ceil(maxIterations * LATER_ITERATIONS),
    timeShare: ofRound,
    shouldStop: () => (shouldStop?.() ?? false) || (ofRound !== undefined && ofRound() >= 1),
    startFrom: from?.placed,
    onProgress: onProgress && ((p) => onProgress({ ...p, iteration: before + p.iteration })),
  };
}

function howItEnded(rounds: number, waiting: number): string {
  if (waiting === 0)
    return rounds === 1 ? "all kits whole as assumed" : `all kits whole after ${rounds} rounds`;
  const kits = waiting === 1 ? "1 kit still waits" : `${waiting} kits still wait`;
  return `${kits} for what comes later: see Stock and the cutting list`;
}

/** From when what a kit lacks can be picked. */
interface Later {
  visit: number;
  availableOn: CalendarDate;
}

const laterRuns = (cutting: readonly CuttingPlan[], visitOfRun: ReadonlyMap<string, number>): Later[] =>
  cutting
    .flatMap((c) => c.late)
    .flatMap(({ run, availableOn }) => {
      const visit = visitOfRun.get(run.id);
      return visit === undefined ? [] : [{ visit, availableOn }];
    });

/** Of what is counted and measured; where cable lies the cutting says. */
function laterPieces(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  plan: Pick<Plan, "placed">,
): Later[] {
  const visitOf = new Map(visits.map((v, i) => [v.id, i]));
  return netProgramme(input, visits, plan).rows.flatMap(({ placeCode, withTransfers }) =>
    placeCode === ALL_WAREHOUSES
      ? []
      : withTransfers.waits.map(({ visitId, coveredDay }) => ({
          visit: visitOf.get(visitId)!,
          availableOn: addDays(input.today, coveredDay),
        })),
  );
}

/** Visits whose kit cannot be whole on the day the plan assumed, with the day that would do. */
function laterKits(
  later: readonly Later[],
  problem: ScheduleProblem,
  placed: Plan["placed"],
  input: ProgrammeInput,
): Map<number, number> {
  const startDay = new Map(placed.map((p) => [p.visit, p.startDay]));
  const stays = new Set([...problem.pinned, ...(problem.underWay ?? [])].map((p) => p.visit));
  const moves = new Map<number, number>();
  for (const { visit, availableOn } of later) {
    if (stays.has(visit)) continue;
    const day = startAfter(availableOn, input.kitDays, input.today);
    if (day > startDay.get(visit)!) moves.set(visit, Math.max(day, moves.get(visit) ?? 0));
  }
  return moves;
}

/** First day index on which a visit may start whose kit can be picked on `from`. */
export function startAfter(from: CalendarDate, kitDays: number, today: CalendarDate): number {
  let day = Math.max(0, daysBetween(today, from));
  while (pickDate(addDays(today, day), kitDays, today) < from) day++;
  return day;
}
