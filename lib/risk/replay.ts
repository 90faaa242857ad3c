/**
 * One run of a plan: its units in planned order, each as early as crew, site, earlier work and weather let it.
 * Nothing is solved again. Units come in planned order, and all that a unit waits for stands before it, so one pass
 * over them is a run (docs/methods/risk.md).
 */
import { EARLIER_WORK, OTHER_END, SITE_TAKEN } from "./causes";
import { CHAIN_STARTS, type RiskModel } from "./model";
import { Z80 } from "./range";
import { type DayHours, DayWalk } from "./walk";

/** `boundBy` of a unit that nothing before it holds: -1 - position in CHAIN_STARTS. */
const startCode = (position: number): number => -1 - position;
const FIRST_DAY = CHAIN_STARTS.indexOf("first day");

export class Replay {
  readonly #m: RiskModel;
  readonly #walk = new DayWalk();
  readonly #a: DayHours;
  readonly #b: DayHours;

  /** By visit: end, minutes; the end of the last day followed when it does not end. */
  readonly endMin: Float64Array;
  /** By visit: the visit that sets when it can begin, or below 0 a position in CHAIN_STARTS. */
  readonly boundBy: Int32Array;
  /** By visit: runs so far in which it ended with people who stand in for the crew's own. */
  readonly standInRuns: Int32Array;
  /** By cause, summed over all runs so far. */
  readonly lostMin: Float64Array;

  // Crews: the last day out, when and where it was free, what set-up is paid there, its last visit.
  readonly #outOn: Int32Array;
  readonly #freeMin: Int32Array;
  readonly #at: Int32Array;
  readonly #paidMin: Int32Array;
  readonly #last: Int32Array;

  constructor(m: RiskModel) {
    this.#m = m;
    const { visits, crews } = m.input.problem;
    this.endMin = new Float64Array(visits.length);
    this.boundBy = new Int32Array(visits.length);
    this.standInRuns = new Int32Array(visits.length);
    this.lostMin = new Float64Array(this.#walk.lostMin.length);
    this.#outOn = new Int32Array(crews.length);
    this.#freeMin = new Int32Array(crews.length);
    this.#at = new Int32Array(crews.length);
    this.#paidMin = new Int32Array(crews.length);
    this.#last = new Int32Array(crews.length);
    const nothing = { masks: new Uint32Array(0), width: 0, day: 0, table: undefined };
    this.#a = { ...nothing };
    this.#b = { ...nothing };
  }

  /**
   * @param year position in `PastYears.years`; not read without past years
   * @param shiftDays days that the past is moved against the plan's calendar, within its neighbouring days
   * @param factors by visit: factor on the planned minutes of work
   * @param weekZ by week from the first day: standard normal deviate of the weather where only monthly figures exist
   */
  run(year: number, shiftDays: number, factors: Float64Array, weekZ: Float64Array): void {
    this.#outOn.fill(-1);
    this.#last.fill(-1);
    const { unit } = this.#m;
    for (let i = 0; i < unit.length; i++) this.#doUnit(unit[i]!, year, shiftDays, factors[unit[i]!]!, weekZ);
  }

  #doUnit(a: number, year: number, shiftDays: number, drawn: number, weekZ: Float64Array): void {
    const m = this.#m;
    const w = this.#walk;
    const b = m.partner[a]!;
    const crewA = m.crewOf[a]!;
    const crewB = b >= 0 ? m.crewOf[b]! : -1;
    const firstA = this.#firstDay(a, crewA);
    const firstB = b >= 0 ? this.#firstDay(b, crewB) : 0;
    const ready = this.#readyMin(a, b);
    const begin = Math.max(firstA, firstB);
    if (b >= 0) {
      this.#bookWait(crewA, firstA, begin);
      this.#bookWait(crewB, firstB, begin);
    }

    let seg = m.segFrom[a]!;
    let rem = m.segMin[seg]!;
    let isBegun = false;
    let end = m.dayCount * 1440;
    for (let day = begin; day < m.dayCount; day++) {
      if (m.isOk[a * m.dayCount + day] === 0 || (b >= 0 && m.isOk[b * m.dayCount + day] === 0)) continue;
      const dueA = this.#dueMin(a, crewA, day);
      const dueB = b >= 0 ? this.#dueMin(b, crewB, day) : 0;
      const thereA = this.#thereMin(a, crewA, day) + dueA;
      const thereB = b >= 0 ? this.#thereMin(b, crewB, day) + dueB : 0;
      const there = Math.max(thereA, thereB);
      if (!isBegun) {
        isBegun = true;
        this.#bind(a, b, firstA, firstB, thereA, thereB, day * 1440 + there, ready);
      }
      let late = this.#limitMin(a, crewA, day, m.homeByMin);
      let ordinary = this.#limitMin(a, crewA, day, m.toMin);
      if (b >= 0) {
        late = Math.min(late, this.#limitMin(b, crewB, day, m.homeByMin));
        ordinary = Math.min(ordinary, this.#limitMin(b, crewB, day, m.toMin));
        this.lostMin[OTHER_END]! += Math.max(0, Math.min(there, ordinary) - Math.min(thereA, thereB));
      }
      let from = there;
      if (ready > day * 1440 + there) {
        from = ready - day * 1440;
        const waited = Math.min(from, ordinary) - there;
        if (waited > 0) this.lostMin[this.#readyCause]! += waited;
        if (from >= late) continue;
      }
      this.#look(this.#a, a, day, year, shiftDays);
      let slowness = this.#slowness(a, day, weekZ);
      let pace = m.paceOf[a]!;
      if (b >= 0) {
        this.#look(this.#b, b, day, year, shiftDays);
        slowness = Math.max(slowness, this.#slowness(b, day, weekZ));
        pace = Math.max(pace, m.paceOf[b]!);
      }
      const other = b >= 0 ? this.#b : this.#a;
      const factor = drawn * pace * slowness;
      w.work(m, a, from, late, factor, slowness, seg, rem, this.#a, other);
      // Not to be ended today even with overtime: until the ordinary end of the shift, and on with it another day.
      if (!w.isDone) w.work(m, a, from, ordinary, factor, slowness, seg, rem, this.#a, other);
      for (let k = 0; k < w.lostMin.length; k++) this.lostMin[k]! += w.lostMin[k]!;
      if (w.first < 0) continue;
      seg = w.seg;
      rem = w.rem;
      this.#leave(a, crewA, day, dueA, w.last);
      if (b >= 0) this.#leave(b, crewB, day, dueB, w.last);
      if (w.isDone) {
        end = day * 1440 + w.last;
        break;
      }
    }
    if (!isBegun) this.#bind(a, b, firstA, firstB, 0, 0, end, ready);
    this.#finish(a, crewA, end);
    if (b >= 0) this.#finish(b, crewB, end);
  }

  /** First day on which the crew may be there: the day it is out on, when the plan has the visit by then. */
  #firstDay(v: number, c: number): number {
    const m = this.#m;
    const out = this.#outOn[c]!;
    const floor = m.floorDay[v]!;
    let day = this.#last[c]! >= 0 && out >= floor ? out : Math.max(out + 1, floor);
    while (day < m.dayCount && m.isOk[v * m.dayCount + day] === 0) day++;
    return day;
  }

  /** Minute of `day` at which the crew reaches the site and it is open. */
  #thereMin(v: number, c: number, day: number): number {
    const m = this.#m;
    const place = m.place[v]!;
    const out = this.#outOn[c]!;
    const opens = m.opens[v * 7 + (day % 7)]!;
    let arrives: number;
    if (out === day) arrives = this.#freeMin[c]! + m.travelMin[this.#at[c]! * m.placeCount + place]!;
    else {
      let way = m.travelMin[m.depot[c]! * m.placeCount + place]!;
      const slept = this.#at[c]!;
      if (out >= 0 && out === day - 1 && m.sleepsNear[c * m.placeCount + slept] === 1)
        way = Math.min(way, m.travelMin[slept * m.placeCount + place]!);
      arrives = m.fromMin[c * m.dayCount + day]! + way;
    }
    return arrives > opens ? arrives : opens;
  }

  /** Set-up is paid once per crew, site and day; a longer one pays the difference. */
  #dueMin(v: number, c: number, day: number): number {
    const m = this.#m;
    const setup = m.setupMin[v]!;
    if (this.#outOn[c] !== day || this.#at[c] !== m.place[v]) return setup;
    return Math.max(0, setup - this.#paidMin[c]!);
  }

  /** Until when work may go on: the day's limit less the way home, unless the crew sleeps near; the site's hours. */
  #limitMin(v: number, c: number, day: number, limits: Int32Array): number {
    const m = this.#m;
    const place = m.place[v]!;
    const limit = limits[c * m.dayCount + day]!;
    const sleeps =
      m.sleepsNear[c * m.placeCount + place] === 1 &&
      day + 1 < m.dayCount &&
      m.toMin[c * m.dayCount + day + 1]! > 0;
    const back = sleeps ? 0 : m.travelMin[place * m.placeCount + m.depot[c]!]!;
    return Math.min(limit - back, m.closes[v * 7 + (day % 7)]!);
  }

  #leave(v: number, c: number, day: number, due: number, last: number): void {
    const place = this.#m.place[v]!;
    const stayed = this.#outOn[c] === day && this.#at[c] === place;
    this.#paidMin[c] = stayed ? this.#paidMin[c]! + due : due;
    this.#outOn[c] = day;
    this.#at[c] = place;
    this.#freeMin[c] = last;
  }

  #finish(v: number, c: number, end: number): void {
    this.endMin[v] = end;
    this.#last[c] = v;
    if (end >= this.#m.dayCount * 1440)
      this.#outOn[c] = this.#m.dayCount; // its crew is lost to what follows
    else if (end >= (this.#m.staffedUntil[v]! + 1) * 1440) this.standInRuns[v]!++;
  }

  /** Visit and cause behind the last `#readyMin`. */
  #readyVisit = -1;
  #readyCause = EARLIER_WORK;

  /** When all that the unit waits for on other crews has ended and its sites are free, minutes; 0 = at once. */
  #readyMin(a: number, b: number): number {
    const m = this.#m;
    this.#readyVisit = -1;
    let ready = 0;
    for (let v = a; ; v = b) {
      for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) {
        const u = m.preds[i]!;
        if (this.endMin[u]! > ready) {
          ready = this.endMin[u]!;
          this.#readyVisit = u;
          this.#readyCause = EARLIER_WORK;
        }
      }
      const holder = m.siteAfter[v]!;
      if (holder >= 0 && this.endMin[holder]! > ready) {
        ready = this.endMin[holder]!;
        this.#readyVisit = holder;
        this.#readyCause = SITE_TAKEN;
      }
      if (v === b || b < 0) return ready;
    }
  }

  /** Shifts in which a crew waits from the day it could come until its partner can. */
  #bookWait(c: number, from: number, until: number): void {
    const m = this.#m;
    for (let day = from; day < until && day < m.dayCount; day++)
      this.lostMin[OTHER_END]! += m.toMin[c * m.dayCount + day]! - m.fromMin[c * m.dayCount + day]!;
  }

  /** Notes what sets when the unit can begin: earlier work, the end whose crew comes last, or that crew's date. */
  #bind(
    a: number,
    b: number,
    firstA: number,
    firstB: number,
    thereA: number,
    thereB: number,
    thereAt: number,
    ready: number,
  ): void {
    const isB = b >= 0 && (firstB !== firstA ? firstB > firstA : thereB > thereA);
    const v = isB ? b : a;
    const bound = ready > thereAt ? this.#readyVisit : this.#boundByCrew(v, this.#m.crewOf[v]!);
    this.boundBy[a] = bound;
    if (b >= 0) this.boundBy[b] = bound;
  }

  /** The crew's last visit, unless a whole day lay idle before the plan's date. */
  #boundByCrew(v: number, c: number): number {
    const m = this.#m;
    const floor = m.floorDay[v]!;
    for (let day = this.#outOn[c]! + 1; day < floor; day++) {
      if (m.isOk[v * m.dayCount + day] === 1) return startCode(m.floorStart[v]!);
    }
    return this.#last[c]! >= 0 ? this.#last[c]! : startCode(FIRST_DAY);
  }

  /** The hours of a visit on a day: forecast, then the past day that stands for it, else the window's own. */
  #look(out: DayHours, v: number, day: number, year: number, shiftDays: number): void {
    const { problem, weather, past } = this.#m.input;
    const w = this.#m.window[v]!;
    const known = weather[w]!;
    if (known.forecast && day < known.forecastDays) {
      out.table = known.forecast;
      out.day = day;
    } else if (known.past && past) {
      out.table = known.past;
      out.day = past.dayOf[(2 * year + 1) * past.neighbourDays + year * this.#m.dayCount + shiftDays + day]!;
    } else {
      out.table = undefined;
      out.masks = problem.windows[w]!.masks;
      out.width = problem.dayCount;
      out.day = day;
      return;
    }
    out.masks = out.table.masks;
    out.width = out.table.dayCount;
  }

  /** Factor on the work where no past year can be run through: the window's stretch, as bad as the week's deviate. */
  #slowness(v: number, day: number, weekZ: Float64Array): number {
    const { problem, weather, past } = this.#m.input;
    const w = this.#m.window[v]!;
    const known = weather[w]!;
    const { stretch, riskMinPerH } = problem.windows[w]!;
    // Inside the forecast only the rest for heat and cold is left in the stretch.
    if (day < known.forecastDays) return stretch[day]!;
    if (known.past && past) return 1;
    return Math.max(1, stretch[day]! + ((riskMinPerH[day]! / 60) * weekZ[(day / 7) | 0]!) / Z80);
  }
}
