/** How much later the rest of a crew's day could begin: what does not fit in need not be walked. */
import type { Model } from "../model";
import { paceOf } from "../pace";
import type { PlanState } from "../plan";

export class Slack {
  /** Per visit: by how many minutes what stands before it may push it, at most. */
  readonly #before: Int32Array;
  #atEnd = 0;

  constructor(
    readonly m: Model,
    readonly s: PlanState,
  ) {
    this.#before = new Int32Array(m.visitCount);
  }

  /** Looks at a crew's day; joint and kept work stands still, all else may be pushed until the crew must be home. */
  look(c: number, crewDay: number): void {
    const { m, s } = this;
    const day = (crewDay - c) / m.crewCount;
    const n = m.placeCount;
    const tail = s.tail[crewDay]!;
    const carried = s.inCarry[crewDay]!;
    const next = m.nextWork[crewDay]!;
    const last = tail >= 0 ? tail : carried;
    // Work that goes on tomorrow, and a crew that may sleep out, can be pushed over the evening.
    if (last < 0) this.#atEnd = m.homeByMin[crewDay]! - m.fromMin[crewDay]!;
    else if (m.nightsMax[c]! > 0 || (next >= 0 && m.canPause[last] === 1)) this.#atEnd = 1440;
    else
      this.#atEnd = m.homeByMin[crewDay]! - s.endMin[last]! - m.travelMin[m.place[last]! * n + m.depot[c]!]!;
    let slack = this.#atEnd;
    for (let v = tail; v >= 0; v = s.prev[v]!) {
      const previous = s.prev[v]! >= 0 ? s.prev[v]! : carried;
      const from = previous >= 0 ? m.place[previous]! : s.inPlace[crewDay]!;
      const arrives =
        (previous >= 0 ? s.endMin[previous]! : m.fromMin[crewDay]!) + m.travelMin[from * n + m.place[v]!]!;
      const waits = Math.max(0, s.startMin[v]! - s.setupPaid[v]! - arrives);
      if (m.partner[v]! >= 0 || m.kept[v] !== undefined) slack = waits;
      // Closed hours inside the work are passed in less time by one who begins later.
      else slack += waits + pausesMin(m, s, v, c, day);
      this.#before[v] = slack;
    }
  }

  /** Minutes by which the day may grow in front of `follower`; -1 = at its end. */
  before(follower: number): number {
    return follower < 0 ? this.#atEnd : this.#before[follower]!;
  }
}

/** Minutes between a visit's start and its end on the day on which it is not worked, at least 0. */
function pausesMin(m: Model, s: PlanState, v: number, c: number, day: number): number {
  const workMin = Math.floor(m.workMin[v]! * paceOf(m, c, v) * m.stretch[v]![day]!);
  return s.endDay[v]! > day ? 1440 : Math.max(0, s.endMin[v]! - s.startMin[v]! - workMin);
}
