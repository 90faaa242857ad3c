/** Crew scheduling: for every visit a crew, a day and a place in that day. Method: docs/methods/schedule.md. */
import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { annealing } from "./accept";
import { construct } from "./construct";
import { crewSearch } from "./crewSearch";
import { PlanEdit } from "./edit";
import { explainUnplaced } from "./explain";
import { improve } from "./improve";
import { Blink } from "./insert/blink";
import { lowerBound } from "./lowerBound";
import { buildModel } from "./model";
import { PlanState } from "./plan";
import { warmStart } from "./replan";
import { nightsAway, placedVisits } from "./result";
import { Statistics } from "./statistics";
import { afterIterations, anyOf, whenTold } from "./stop";
import type { Plan, ScheduleOptions, ScheduleProblem } from "./types";

const COOLING = { hot: 150, cold: 1 };
const FIRST_ROUND = 2_000;

export function schedule(problem: ScheduleProblem, options: ScheduleOptions): Result<Plan, Problem> {
  const built = buildModel(problem);
  if (!built.ok) return built;
  const model = built.value;
  const random = new Random(options.seed);
  const told = options.shouldStop ?? (() => false);
  const edit = new PlanEdit(model, new PlanState(model));

  edit.start();
  if (problem.inForce) warmStart(edit, problem.inForce);
  construct(edit, new Blink(random.fork("construct"), 0), told);
  const statistics = new Statistics((x) => {
    options.onProgress?.({
      iteration: x.iterations,
      best: { ...edit.cost(), total: x.best },
      placed: model.visitCount - edit.cost().unplacedVisits,
      unplaced: edit.cost().unplacedVisits,
    });
  }, options.progressEvery);
  improve(
    crewSearch(edit, random.fork("search")),
    annealing(random.fork("accept"), COOLING, FIRST_ROUND, options.timeShare),
    anyOf(afterIterations(options.maxIterations), whenTold(told)),
    statistics,
  );
  return ok({
    placed: placedVisits(edit),
    unplaced: explainUnplaced(edit),
    nights: nightsAway(edit),
    cost: edit.cost(),
    lowerBound: lowerBound(model),
    seed: options.seed,
    iterations: statistics.iterations,
  });
}
