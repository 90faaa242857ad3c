/**
 * Work that stands still in a plan, walked through its crew's days: when it is done. Reckoned once, before the search
 * (docs/methods/schedule.md, "Kept work").
 */
import type { Model } from "./model";
import { paceOf } from "./pace";
import { sleepsAway } from "./rules/nightsAway";
import type { PlacedVisit } from "./types";
import { newWork, workDay } from "./work";

export interface Walk {
  crew: number;
  day: number;
  /** undefined = as soon as the crew is ready on that day, or on a later one. */
  startMin?: number;
  /** Step and norm minutes of it with which the work goes on. */
  seg: number;
  rem: number;
  /** End as planned: that day goes as far, overtime included; all other days end in the shift. */
  endDay: number;
  endMin: number;
  sleptThere: boolean;
  mayStayAway: boolean;
}

/** The first step of a visit, with all of it left. */
export const allOf = (m: Model, v: number): [number, number] => [m.segFrom[v]!, m.segMin[m.segFrom[v]!]!];

export const minuteOf = (x: { endDay: number; endMin: number }): number => x.endDay * 1440 + x.endMin;

/** When the work of a visit is done day by day; undefined when it cannot start, pause or end inside the plan. */
export function walk(m: Model, v: number, w: Walk): Omit<PlacedVisit, "visit" | "crew"> | undefined {
  const work = newWork();
  const place = m.place[v]!;
  const home = m.depot[w.crew]!;
  const pace = paceOf(m, w.crew, v);
  const wayMin = m.travelMin[home * m.placeCount + place]!;
  const backMin = m.travelMin[place * m.placeCount + home]!;
  let isThere = w.sleptThere;
  let { seg, rem } = w;
  let start: { startDay: number; startMin: number } | undefined;
  for (let day = w.day; day < m.dayCount; day++) {
    const at = day * m.crewCount + w.crew;
    if (m.works[at] === 0) continue;
    const opens = m.accessFrom[v * 7 + m.weekday[day]!]!;
    const closes = m.accessTo[v * 7 + m.weekday[day]!]!;
    const ready = Math.max(m.fromMin[at]! + (isThere ? 0 : wayMin), opens) + m.setupMin[v]!;
    const from = day === w.day && w.startMin !== undefined ? w.startMin : ready;
    const to = m.toMin[at]!;
    const run = (limit: number) =>
      workDay(
        work,
        m,
        v,
        day,
        from,
        Math.min(limit, closes),
        pace * m.stretch[v]![day]!,
        seg,
        rem,
        m.masks[v]!,
        m.masks[v]!,
      );
    run(day === w.endDay ? Math.max(w.endMin, to - backMin) : to - backMin);
    if (start === undefined) {
      // Given minutes stand; who goes on begins with the first workable one.
      if (w.startMin !== undefined) start = { startDay: day, startMin: w.startMin };
      else if (work.first >= 0) start = { startDay: day, startMin: work.first };
      else continue;
    }
    if (work.done) return { ...start, endDay: day, endMin: work.last };
    if (m.canPause[v] === 0) return undefined;
    isThere = w.mayStayAway && sleepsAway(m, w.crew, day, 0, place, place);
    if (isThere) {
      run(to);
      // Done only with no way home in time: the last of it is left for tomorrow.
      if (work.done) run(to - backMin);
    }
    seg = work.seg;
    rem = work.rem;
  }
  return undefined;
}

/**
 * Kept visits whose work is done sooner than they are stated to end, as of one that was reported part done since: they
 * end with their work. All else of them stays, and none is drawn out.
 */
export function keptUntilDone(m: Model): Model["kept"] {
  return m.kept.map((x) => {
    if (!x || m.partner[x.visit]! >= 0) return x;
    const ends = [true, false].map((mayStayAway) => {
      const [seg, rem] = allOf(m, x.visit);
      return walk(m, x.visit, { ...x, day: x.startDay, seg, rem, sleptThere: false, mayStayAway });
    });
    const [a, b] = ends;
    if (!a || !b) return x;
    // How nights fall is the plan's: the later end of the two is certain.
    const { endDay, endMin } = minuteOf(a) > minuteOf(b) ? a : b;
    return minuteOf({ endDay, endMin }) < minuteOf(x) ? { ...x, endDay, endMin } : x;
  });
}
