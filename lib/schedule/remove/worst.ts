/** Hops that cost most by their dates: late, or with ends left open; then what stands in their way. */

import { emptyDay } from "./days";
import type { Removal } from "./ruin";

export const worst: Removal = {
  name: "worst",
  weight: 2,
  run(ruin) {
    const { model: m, state: s } = ruin.edit;
    const w = m.problem.weights;
    let worstHop = -1;
    let worstCost = 0;
    for (let tries = 0; tries < 12; tries++) {
      const h = ruin.random.below(m.hopCount);
      const cost =
        w.lateHopDay * s.hopLate[h]! + w.openEndDay * s.hopOpen[h]! + (w.finishDay ?? 0) * s.hopFinish[h]!;
      if (cost > worstCost) {
        worstCost = cost;
        worstHop = h;
      }
    }
    if (worstHop < 0) return;
    const v =
      m.hopVisits[m.hopFrom[worstHop]! + ruin.random.below(m.hopFrom[worstHop + 1]! - m.hopFrom[worstHop]!)]!;
    const finish = Math.min(m.dayCount - 1, s.hopFinish[worstHop]!);
    ruin.takeHop(worstHop);
    // Room before its finish: days of crews that work near one of its ends.
    const first = m.earliestDay[v]!;
    for (const place of ruin.near(m.place[v]!))
      for (let i = m.atPlaceFrom[place]!; i < m.atPlaceFrom[place + 1]!; i++) {
        if (ruin.isFull) return;
        const u = m.atPlace[i]!;
        if (
          s.crewOf[u]! >= 0 &&
          s.startDay[u]! >= first &&
          s.startDay[u]! < finish &&
          ruin.random.next() < 0.3
        )
          emptyDay(ruin, s.crewOf[u]!, s.startDay[u]!);
      }
  },
};
