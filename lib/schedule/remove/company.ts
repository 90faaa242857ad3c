/**
 * Hops whose both ends lie near each other, with all that was done on the days on which they were: so that hops of one
 * neighbourhood come together on the days of one pair of crews, and those thrown together before make room.
 */
import { fitsTwiceADay } from "../insert/company";
import type { Removal } from "./ruin";

const MOST_NEIGHBOURS = 3;
const SKIP_RATE = 0.1;
const MOST_TAKEN = 30;
/** How often neighbours go back in together, before what stood beside them. */
const IN_ORDER_RATE = 0.5;

export const company: Removal = {
  name: "company",
  weight: 6,
  suits: (m) => fitsTwiceADay(m).some((fits) => fits === 1),
  run(ruin) {
    const { model: m, state: s } = ruin.edit;
    const seed = ruin.anyPlaced();
    if (seed < 0) return;
    ruin.isInOrder = ruin.random.next() < IN_ORDER_RATE;
    const most = 2 + ruin.random.below(MOST_NEIGHBOURS);
    const days = new Set<number>();
    let hops = 0;
    for (const h of ruin.nearHops(m.hop[seed]!)) {
      if (hops === most) break;
      if (ruin.random.next() < SKIP_RATE) continue;
      for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
        const v = m.hopVisits[i]!;
        if (s.crewOf[v]! >= 0) days.add(s.startDay[v]! * m.crewCount + s.crewOf[v]!);
      }
      const before = ruin.poolSize;
      ruin.takeHop(h);
      if (ruin.poolSize > before) hops++;
    }
    for (const at of days) {
      if (ruin.poolSize >= MOST_TAKEN) return;
      const there: number[] = [];
      for (let v = s.head[at]!; v >= 0; v = s.next[v]!) there.push(m.hop[v]!);
      for (const h of there) ruin.takeHop(h);
    }
  },
};
