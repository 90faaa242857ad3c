/** Crew scheduling: for every visit a crew, a day and a place in that day. Method: docs/methods/schedule.md. */
import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { annealing } from "./accept";
import { construct } from "./construct";
import { crewSearch } from "./crewSearch";
import { PlanEdit } from "./edit";
import { explainUnplaced, usualDepth } from "./explain";
import { improve } from "./improve";
import { Blink } from "./insert/blink";
import { lowerBound } from "./lowerBound";
import { buildModel } from "./model";
import { PlanState } from "./plan";
import { warmStart } from "./replan";
import { nightsAway, placedVisits } from "./result";
import { Statistics } from "./statistics";
import { afterIterations, anyOf, whenTold } from "./stop";
import type { Plan, PlanCost, ScheduleOptions, ScheduleProblem } from "./types";

/** Temperatures; a plan to start from is not heated so much, since what stands should mostly stand. */
const COOLING = { hot: 150, cold: 1 };
const COOLING_FROM_PLAN = { hot: 15, cold: 1 };
const FIRST_ROUND = 2_000;
/** The first plan tells of itself as often. */
const HOPS_BETWEEN_REPORTS = 50;

/**
 * @returns the best plan found, with every visit either placed or listed with what stops it; or all problems of the
 * input at once. The same problem, seed and number of iterations give the same plan, as long as `shouldStop` and
 * `timeShare` do not depend on a clock.
 */
export function schedule(problem: ScheduleProblem, options: ScheduleOptions): Result<Plan, Problem> {
  const built = buildModel(problem);
  if (!built.ok) return built;
  const model = built.value;
  const random = new Random(options.seed);
  const told = options.shouldStop ?? (() => false);
  const edit = new PlanEdit(model, new PlanState(model));
  const tell = (iteration: number, best: PlanCost) => {
    const unplaced = best.unplacedVisits;
    options.onProgress?.({ iteration, best, placed: model.visitCount - unplaced, unplaced });
  };

  edit.start();
  const from = options.startFrom ?? problem.inForce;
  if (from) warmStart(edit, from);
  // What a plan to start from leaves over is few and soon put in: to stop before would lose what it had.
  const mayLeave = options.startFrom ? () => false : told;
  construct(edit, new Blink(random.fork("construct"), 0), mayLeave, (hops) => {
    if (hops % HOPS_BETWEEN_REPORTS === 0) tell(0, edit.cost());
  });
  const bound = lowerBound(model, told);
  const search = crewSearch(edit, random.fork("search"));
  const statistics = new Statistics((x) => tell(x.iterations, search.bestCost()), options.progressEvery);
  improve(
    search,
    annealing(random.fork("accept"), from ? COOLING_FROM_PLAN : COOLING, FIRST_ROUND, options.timeShare),
    anyOf(afterIterations(options.maxIterations), whenTold(told)),
    statistics,
  );
  return ok({
    placed: placedVisits(edit),
    unplaced: explainUnplaced(edit, told() ? 0 : usualDepth(model)),
    nights: nightsAway(edit),
    cost: edit.cost(),
    lowerBound: bound,
    seed: options.seed,
    iterations: statistics.iterations,
  });
}
