/**
 * Strings of consecutive visits from crews near to each other in place and time (SISR's removal, with a crew's days
 * one after the other as its tour).
 */
import type { Removal, Ruin } from "./ruin";

const MAX_STRING = 8;
const MAX_DAYS_APART = 12;

export const strings: Removal = {
  name: "strings",
  weight: 5,
  run(ruin) {
    const { model: m, state: s } = ruin.edit;
    const seed = ruin.anyPlaced();
    if (seed < 0) return;
    const seedDay = s.startDay[seed]!;
    const daysApart = 1 + ruin.random.below(MAX_DAYS_APART);
    const touched: number[] = [];
    const takeString = (v: number) => {
      const c = s.crewOf[v]!;
      if (c < 0 || touched.includes(c)) return;
      touched.push(c);
      cut(ruin, v, 1 + ruin.random.below(Math.min(MAX_STRING, ruin.quota)));
    };
    takeString(seed);
    for (const place of ruin.near(m.place[seed]!)) {
      for (let i = m.atPlaceFrom[place]!; i < m.atPlaceFrom[place + 1]! && !ruin.isFull; i++) {
        const v = m.atPlace[i]!;
        if (s.crewOf[v]! >= 0 && Math.abs(s.startDay[v]! - seedDay) <= daysApart) takeString(v);
      }
      if (ruin.isFull) return;
    }
  },
};

/** Takes `length` visits of one crew in a row, `v` among them. */
function cut(ruin: Ruin, v: number, length: number): void {
  const row: number[] = [v];
  const before = ruin.random.below(length);
  for (let u = v, i = 0; i < before; i++) {
    u = earlier(ruin, u);
    if (u < 0) break;
    row.push(u);
  }
  for (let u = v; row.length < length; ) {
    u = later(ruin, u);
    if (u < 0) break;
    row.push(u);
  }
  for (const u of row) ruin.take(u);
}

/** The crew's visit before `v`, on the same day or a day or two before. */
function earlier(ruin: Ruin, v: number): number {
  const { model: m, state: s } = ruin.edit;
  if (s.prev[v]! >= 0) return s.prev[v]!;
  const c = s.crewOf[v]!;
  let day = s.startDay[v]!;
  for (let looks = 0; looks < 3; looks++) {
    day = m.prevWork[day * m.crewCount + c]!;
    if (day < 0) return -1;
    if (s.tail[day * m.crewCount + c]! >= 0) return s.tail[day * m.crewCount + c]!;
  }
  return -1;
}

function later(ruin: Ruin, v: number): number {
  const { model: m, state: s } = ruin.edit;
  if (s.next[v]! >= 0) return s.next[v]!;
  const c = s.crewOf[v]!;
  let day = s.startDay[v]!;
  for (let looks = 0; looks < 3; looks++) {
    day = m.nextWork[day * m.crewCount + c]!;
    if (day < 0) return -1;
    if (s.head[day * m.crewCount + c]! >= 0) return s.head[day * m.crewCount + c]!;
  }
  return -1;
}
