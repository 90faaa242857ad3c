/** Work through the steps of a visit on one day, hour mask by hour mask. */
import type { Model } from "./model";

/** Where the work stands after `workDay`; one object is reused, nothing is allocated. */
export interface WorkDone {
  /** First and last minute of work; first = -1 when nothing could be done. */
  first: number;
  last: number;
  /** Step and its remaining minutes at norm pace. */
  seg: number;
  rem: number;
  /** Minutes worked. */
  workedMin: number;
  /** Did every step end? */
  done: boolean;
}

export const newWork = (): WorkDone => ({ first: -1, last: 0, seg: 0, rem: 0, workedMin: 0, done: false });

/**
 * From minute `from` until `limit`: a step takes its remaining minutes x `factor`, rounded up to whole minutes. A
 * splittable step uses whatever part of an hour is left and pauses over closed hours; any other step waits for an
 * unbroken stretch that holds all of it. Two masks must both be open (the ends of joint work; else twice the same).
 */
export function workDay(
  out: WorkDone,
  m: Model,
  v: number,
  day: number,
  from: number,
  limit: number,
  factor: number,
  seg: number,
  rem: number,
  masksA: Uint32Array,
  masksB: Uint32Array,
): void {
  const stop = Math.min(limit, 1440);
  const end = m.segFrom[v + 1]!;
  const { segClass, segMin, segSplits, dayCount } = m;
  let time = from;
  out.first = -1;
  out.last = from;
  out.workedMin = 0;
  out.done = false;
  while (true) {
    if (time >= stop) break;
    const row = segClass[seg]! * dayCount + day;
    const open = masksA[row]! & masksB[row]! & 0xffffff;
    let hour = (time / 60) | 0;
    let ahead = open >>> hour;
    if (ahead === 0) break;
    if ((ahead & 1) === 0) {
      hour += 31 - Math.clz32(ahead & -ahead);
      time = hour * 60;
      if (time >= stop) break;
      ahead = open >>> hour;
    }
    const closed = ~ahead;
    const openUntil = (hour + 31 - Math.clz32(closed & -closed)) * 60;
    const until = Math.min(openUntil, stop);
    const needMin = Math.ceil(rem * factor - 1e-6);
    if (time + needMin <= until) {
      if (out.first < 0) out.first = time;
      time += needMin;
      out.workedMin += needMin;
      out.last = time;
      seg++;
      if (seg === end) {
        out.done = true;
        break;
      }
      rem = segMin[seg]!;
    } else if (segSplits[seg] === 1) {
      if (out.first < 0) out.first = time;
      rem -= (until - time) / factor;
      out.workedMin += until - time;
      time = until;
      out.last = time;
    } else time = openUntil;
  }
  out.seg = seg;
  out.rem = rem;
}
