/** Whole crew-days: a lightly used one and its neighbours in time, so that a day can be saved. */
import type { Removal, Ruin } from "./ruin";

export const days: Removal = {
  name: "days",
  weight: 4,
  run(ruin) {
    const { model: m, state: s } = ruin.edit;
    let best = -1;
    for (let tries = 0; tries < 4; tries++) {
      const v = ruin.anyPlaced();
      if (v < 0) return;
      const at = s.startDay[v]! * m.crewCount + s.crewOf[v]!;
      if (best < 0 || s.busy[at]! < s.busy[best]!) best = at;
    }
    const c = best % m.crewCount;
    const day = (best - c) / m.crewCount;
    emptyDay(ruin, c, day);
    // Then the same crew's days around it, or other crews of the same depot on that day.
    const sameCrew = ruin.random.next() < 0.5;
    for (let step = 1; step <= 3 && !ruin.isFull; step++) {
      if (sameCrew) {
        const d = day + (step % 2 === 1 ? 1 : -1) * ((step + 1) >> 1);
        if (d >= 0 && d < m.dayCount) emptyDay(ruin, c, d);
      } else {
        const other = ruin.random.below(m.crewCount);
        if (m.depot[other] === m.depot[c]) emptyDay(ruin, other, day);
      }
    }
  },
};

export function emptyDay(ruin: Ruin, c: number, day: number): void {
  const { model: m, state: s } = ruin.edit;
  const at = day * m.crewCount + c;
  const carried = s.inCarry[at]!;
  if (carried >= 0) ruin.take(carried);
  for (let v = s.head[at]!; v >= 0; ) {
    const kept = m.kept[v] !== undefined;
    ruin.take(v);
    // Taking a visit can take others of this day with it: begin again from the head, past what is kept.
    if (kept || s.crewOf[v]! >= 0) v = s.next[v]!;
    else {
      v = s.head[at]!;
      while (
        v >= 0 &&
        (m.kept[v] !== undefined || (m.partner[v]! >= 0 && m.kept[m.partner[v]!] !== undefined))
      )
        v = s.next[v]!;
    }
  }
}
