/** Whole hops: one at random, then hops whose ends lie near, so that both ends and the alignment can move together. */
import type { Removal } from "./ruin";

export const hops: Removal = {
  name: "hops",
  weight: 3,
  run(ruin) {
    const { model: m, state: s } = ruin.edit;
    const seed = ruin.anyPlaced();
    if (seed < 0) return;
    const seedDay = s.startDay[seed]!;
    const daysApart = 3 + ruin.random.below(15);
    ruin.takeHop(m.hop[seed]!);
    for (const place of ruin.near(m.place[seed]!))
      for (let i = m.atPlaceFrom[place]!; i < m.atPlaceFrom[place + 1]!; i++) {
        if (ruin.isFull) return;
        const v = m.atPlace[i]!;
        if (s.crewOf[v]! >= 0 && Math.abs(s.startDay[v]! - seedDay) <= daysApart && ruin.random.next() < 0.6)
          ruin.takeHop(m.hop[v]!);
      }
  },
};
