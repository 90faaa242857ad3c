/** Works through the steps of a visit on one day of a run, hour by hour, and books what closed hours take. */
import { BY_MONTH, CAUSE_COUNT, DAYLIGHT, SPELL } from "./causes";
import type { RiskModel } from "./model";
import type { HourTable } from "./types";

const ALL_HOURS = 0xffffff;

/** The hours of one end on one day: a table's row, or the window's own masks without causes. */
export interface DayHours {
  masks: Uint32Array;
  /** Days in a row of `masks`. */
  width: number;
  day: number;
  table: HourTable | undefined;
}

/** The walk of one day; reused, so that nothing is allocated in a run. */
export class DayWalk {
  /** First and last minute of work; first = -1 when nothing could be done. */
  first = -1;
  last = 0;
  /** Step and its minutes still to do at norm pace. */
  seg = 0;
  rem = 0;
  isDone = false;
  /** Minutes that this walk lost by cause. */
  readonly lostMin = new Float64Array(CAUSE_COUNT);

  /**
   * From minute `from` until `limit`. A step takes its minutes x `factor`, rounded up; a step that may pause uses
   * whatever part of an hour is left, any other waits for an unbroken stretch that holds all of it. Hours must be open
   * at `a` and at `b` (the ends of joint work; else twice the same).
   * @param slowness part of `factor` that stands for past weather by month, >= 1
   */
  work(
    m: RiskModel,
    visit: number,
    from: number,
    limit: number,
    factor: number,
    slowness: number,
    seg: number,
    rem: number,
    a: DayHours,
    b: DayHours,
  ): void {
    const stop = Math.min(limit, 1440);
    const end = m.segFrom[visit + 1]!;
    let time = from;
    let workedMin = 0;
    this.first = -1;
    this.last = from;
    this.isDone = false;
    this.lostMin.fill(0);
    while (time < stop) {
      const c = m.segClass[seg]!;
      const open = a.masks[c * a.width + a.day]! & b.masks[c * b.width + b.day]! & ALL_HOURS;
      const hour = (time / 60) | 0;
      const ahead = open >>> hour;
      if ((ahead & 1) === 0) {
        const next = ahead === 0 ? stop : Math.min(stop, (hour + 31 - Math.clz32(ahead & -ahead)) * 60);
        this.#bookClosed(c, time, next, a, b);
        time = next;
        continue;
      }
      const closed = ~ahead;
      const openUntil = (hour + 31 - Math.clz32(closed & -closed)) * 60;
      const until = openUntil < stop ? openUntil : stop;
      const needMin = Math.ceil(rem * factor - 1e-6);
      if (time + needMin <= until) {
        if (this.first < 0) this.first = time;
        time += needMin;
        workedMin += needMin;
        this.last = time;
        seg++;
        if (seg === end) {
          this.isDone = true;
          break;
        }
        rem = m.segMin[seg]!;
      } else if (m.segSplits[seg] === 1) {
        if (this.first < 0) this.first = time;
        rem -= (until - time) / factor;
        workedMin += until - time;
        time = until;
        this.last = time;
      } else {
        this.lostMin[SPELL]! += until - time;
        time = until;
      }
    }
    if (slowness > 1) this.lostMin[BY_MONTH]! += workedMin * (1 - 1 / slowness);
    this.seg = seg;
    this.rem = rem;
  }

  /** Books the closed minutes from `from` to `to`, hour by hour; the first end's cause where both are closed. */
  #bookClosed(c: number, from: number, to: number, a: DayHours, b: DayHours): void {
    for (let time = from; time < to; ) {
      const hour = (time / 60) | 0;
      const next = Math.min(to, (hour + 1) * 60);
      const isAtA = ((a.masks[c * a.width + a.day]! >>> hour) & 1) === 0;
      this.lostMin[causeOf(isAtA ? a : b, c, hour)]! += next - time;
      time = next;
    }
  }
}

/** A window without a table has no closed hours but those of the night. */
function causeOf({ table, day }: DayHours, c: number, hour: number): number {
  if (!table || ((table.dark[day]! >>> hour) & 1) === 1) return DAYLIGHT;
  return table.cause[c * table.dayCount + day]!;
}
