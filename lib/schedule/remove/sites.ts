/** Everything that is done on a site and the sites around it within some days. */
import type { Removal } from "./ruin";

export const sites: Removal = {
  name: "sites",
  weight: 2,
  run(ruin) {
    const { model: m, state: s } = ruin.edit;
    const seed = ruin.anyPlaced();
    if (seed < 0) return;
    const seedDay = s.startDay[seed]!;
    const daysApart = 2 + ruin.random.below(20);
    for (const place of ruin.near(m.place[seed]!))
      for (let i = m.atPlaceFrom[place]!; i < m.atPlaceFrom[place + 1]!; i++) {
        if (ruin.isFull) return;
        const v = m.atPlace[i]!;
        if (s.crewOf[v]! >= 0 && Math.abs(s.startDay[v]! - seedDay) <= daysApart) ruin.take(v);
      }
  },
};
