/** Dates that no plan can beat: each visit alone, on the crew that could end it first, no set-up, no way back. */
import type { Model } from "../model";
import { paceOf } from "../pace";
import { newWork, workDay } from "../work";

/** A day after every plan: "not at all". */
export const NEVER = 1_000_000;

/** Earliest day on which each visit could end; NEVER when no crew could do it within the plan. */
export function earliestEnds(m: Model): Int32Array {
  const wayInMin = shortestWayIn(m);
  const end = new Int32Array(m.visitCount).fill(NEVER);
  const order = Array.from({ length: m.visitCount }, (_, v) => v).sort(
    (a, b) => m.rank[a]! - m.rank[b]! || a - b,
  );
  const starts = (v: number) => earliestStart(m, end, v);
  for (const v of order) {
    const kept = m.kept[v];
    const b = m.partner[v]!;
    if (kept) end[v] = kept.endDay;
    else if (b < 0) end[v] = earliestEnd(m, v, starts(v), wayInMin);
    else if (m.kept[b]) end[v] = m.kept[b].endDay;
    else {
      // Joint work: the first day that is not too early for either end alone.
      const from = Math.max(starts(v), starts(b));
      end[v] = Math.max(earliestEnd(m, v, from, wayInMin), earliestEnd(m, b, from, wayInMin));
    }
  }
  return end;
}

/** The day on which all that `v` waits for could have ended, by its gates and its kit. */
export function earliestStart(m: Model, end: Int32Array, v: number): number {
  let day = m.earliestDay[v]!;
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) day = Math.max(day, end[m.preds[i]!]!);
  return day;
}

/** Fewest minutes from any other place to each; a depot's own place needs none. */
function shortestWayIn(m: Model): Float64Array {
  const n = m.placeCount;
  const min = new Float64Array(n).fill(n === 1 ? 0 : Number.POSITIVE_INFINITY);
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++)
      if (a !== b && m.travelMin[a * n + b]! < min[b]!) min[b] = m.travelMin[a * n + b]!;
  for (const p of m.depot) min[p] = 0;
  return min;
}

const work = newWork();

function earliestEnd(m: Model, v: number, from: number, wayInMin: Float64Array): number {
  if (from >= m.dayCount) return NEVER;
  let best = NEVER;
  for (let c = 0; c < m.crewCount; c++)
    for (let day = from; day < Math.min(best, m.dayCount); day++) {
      const end = endIfBegun(m, v, c, day, best, wayInMin);
      if (end < best) best = end;
      if (end === day) break;
    }
  return best;
}

/** Last day of the visit when crew `c` begins it on `day`; NEVER when it cannot, or not before day `under`. */
function endIfBegun(
  m: Model,
  v: number,
  c: number,
  day: number,
  under: number,
  wayInMin: Float64Array,
): number {
  const people = m.needKind[v]! * m.crewCount * m.dayCount;
  let seg = m.segFrom[v]!;
  let rem = m.segMin[seg]!;
  for (let d = day; d >= 0 && d < under; d = m.nextWork[d * m.crewCount + c]!) {
    const at = d * m.crewCount + c;
    const isFirst = d === day;
    if (m.works[at] === 0 || m.hasPeople[people + at] === 0) return NEVER;
    const opens = m.accessFrom[v * 7 + m.weekday[d]!]!;
    const closes = m.accessTo[v * 7 + m.weekday[d]!]!;
    if (isFirst && (closes === 0 || (d < m.noticeDay[v]! && d !== m.wasDay[v]))) return NEVER;
    const wayIn = m.nightsMax[c]! > 0 ? 0 : wayInMin[m.place[v]!]!;
    const begins = Math.max(opens, m.fromMin[at]! + wayIn);
    const limit = Math.min(closes, m.homeByMin[at]!);
    workDay(
      work,
      m,
      v,
      d,
      begins,
      limit,
      paceOf(m, c, v) * m.stretch[v]![d]!,
      seg,
      rem,
      m.masks[v]!,
      m.masks[v]!,
    );
    if (work.done) return d;
    if (m.canPause[v] === 0 || (isFirst && work.first < 0)) return NEVER;
    seg = work.seg;
    rem = work.rem;
  }
  return NEVER;
}
