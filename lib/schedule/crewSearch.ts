/** The crew plan as something to improve: removals, insertion, undo, best. */
import type { Random } from "@/lib/random";
import type { PlanEdit } from "./edit";
import type { Search } from "./improve";
import { Blink } from "./insert/blink";
import { Recreate } from "./insert/recreate";
import { nearestHops, nearestPlaces } from "./neighbours";
import { REMOVALS } from "./remove";
import { Ruin } from "./remove/ruin";
import type { PlanCost } from "./types";

/** Mean number of visits taken out at a time, and of places counted as near. */
const MEAN_REMOVED = 8;
const NEAR = 60;
const NEAR_HOPS = 12;
const BLINK_RATE = 0.01;

/** A search that can also tell what its best plan costs, term by term. */
export interface CrewSearch extends Search {
  bestCost(): PlanCost;
}

export function crewSearch(edit: PlanEdit, random: Random): CrewSearch {
  const state = edit.state;
  const nearHops = nearestHops(edit.model, NEAR_HOPS);
  const ruin = new Ruin(edit, random.fork("remove"), nearestPlaces(edit.model, NEAR), nearHops);
  const recreate = new Recreate(
    edit,
    random.fork("order"),
    new Blink(random.fork("blink"), BLINK_RATE),
    nearHops,
  );
  const choose = random.fork("choose");
  const removals = REMOVALS.filter((r) => r.suits === undefined || r.suits(edit.model));
  const weights = removals.reduce((sum, r) => sum + r.weight, 0);
  const best = { ints: state.ints.slice(), reals: state.reals.slice(), cost: edit.cost() };
  return {
    ruin() {
      ruin.clear(1 + choose.below(2 * MEAN_REMOVED - 1));
      let pick = choose.next() * weights;
      for (const removal of removals) {
        pick -= removal.weight;
        if (pick < 0) {
          removal.run(ruin);
          return;
        }
      }
    },
    recreate: () => recreate.run(ruin),
    total: () => edit.total(),
    accept: () => state.forget(),
    undo: () => state.undoAll(),
    keepAsBest() {
      best.ints.set(state.ints);
      best.reals.set(state.reals);
      best.cost = edit.cost();
    },
    bestCost: () => best.cost,
    returnToBest: () => state.copyFrom(best),
  };
}
