/** Crew scheduling: for every visit a crew, a day and a place in that day. Method: docs/methods/schedule.md. */
import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { construct } from "./construct";
import { PlanEdit } from "./edit";
import { explainUnplaced } from "./explain";
import { Blink } from "./insert/blink";
import { buildModel } from "./model";
import { PlanState } from "./plan";
import { nightsAway, placedVisits } from "./result";
import type { Plan, ScheduleOptions, ScheduleProblem } from "./types";

export function schedule(problem: ScheduleProblem, options: ScheduleOptions): Result<Plan, Problem> {
  const built = buildModel(problem);
  if (!built.ok) return built;
  const model = built.value;
  const random = new Random(options.seed);
  const edit = new PlanEdit(model, new PlanState(model));
  edit.start();
  construct(edit, new Blink(random.fork("construct"), 0), options.shouldStop ?? (() => false));
  return ok({
    placed: placedVisits(edit),
    unplaced: explainUnplaced(edit),
    nights: nightsAway(edit),
    cost: edit.cost(),
    lowerBound: 0,
    seed: options.seed,
    iterations: 0,
  });
}
