/**
 * One crew's days walked forward in time: the only place where the engine decides when things happen.
 *
 * A walk starts on a day, passes visit by visit (leave, travel, wait for access, set up, work), ends each day at the
 * depot or near the site, and goes on over the following days until it meets what is already stored, mostly after
 * one day. It writes into its own scratch; `commit` takes the result over into the plan.
 *
 * Every visit starts as early as it can. Joint work and kept visits stand still: their minutes are given, and what
 * comes before must leave them where they are, so one crew's days never move another's (docs/methods/schedule.md).
 */
import type { Model } from "./model";
import type { PlanState } from "./plan";
import { BREAKS, OK } from "./rules";
import { sleepsAway } from "./rules/nightsAway";
import { dueBy, readyAt } from "./rules/order";
import { hasPeople } from "./rules/people";
import { outsetMin } from "./rules/shift";
import { siteTakenUntil } from "./rules/siteLock";
import { newWork, workDay } from "./work";

export class Timeline {
  readonly #m: Model;
  readonly #s: PlanState;
  readonly #work = newWork();

  /** Days of the last walk. */
  dayCount = 0;
  readonly cd: Int32Array;
  readonly used: Int32Array;
  readonly travelMin: Int32Array;
  readonly overtime: Int32Array;
  readonly night: Int32Array;
  readonly duty: Int32Array;
  readonly busy: Int32Array;
  readonly inPlace: Int32Array;
  readonly inNights: Int32Array;
  readonly inCarry: Int32Array;
  readonly inSeg: Int32Array;
  readonly inRem: Float64Array;
  readonly inLoad: Float64Array;
  readonly km: Float64Array;
  readonly risk: Float64Array;

  /** Visits whose times the last walk set. */
  visitCount = 0;
  readonly visit: Int32Array;
  readonly startDay: Int32Array;
  readonly startMin: Int32Array;
  readonly endDay: Int32Array;
  readonly endMin: Int32Array;
  readonly setupPaid: Int32Array;

  /** Crew, visit put in (-1 = none) and where, as of the last walk. */
  crew = 0;
  added = -1;
  addedDay = -1;
  addedAfter = -1;
  /** The visit at which the last failed walk stopped; -1 = at the end of a day. */
  failedAt = -1;
  failedDay = -1;

  constructor(model: Model, state: PlanState) {
    this.#m = model;
    this.#s = state;
    const d = model.dayCount + 1;
    const ints = () => new Int32Array(d);
    this.cd = ints();
    this.used = ints();
    this.travelMin = ints();
    this.overtime = ints();
    this.night = ints();
    this.duty = ints();
    this.busy = ints();
    this.inPlace = ints();
    this.inNights = ints();
    this.inCarry = ints();
    this.inSeg = ints();
    this.inRem = new Float64Array(d);
    this.inLoad = new Float64Array(d);
    this.km = new Float64Array(d);
    this.risk = new Float64Array(d);
    const v = model.visitCount + 1;
    this.visit = new Int32Array(v);
    this.startDay = new Int32Array(v);
    this.startMin = new Int32Array(v);
    this.endDay = new Int32Array(v);
    this.endMin = new Int32Array(v);
    this.setupPaid = new Int32Array(v);
  }

  /** The day from which a change on `day` is felt: the evening before decides about the night. */
  firstDayFelt(c: number, day: number): number {
    if (this.#m.nightsMax[c] === 0) return day;
    const before = this.#m.prevWork[day * this.#m.crewCount + c]!;
    return before === day - 1 && before >= 0 && this.#s.used[before * this.#m.crewCount + c] === 1
      ? before
      : day;
  }

  /**
   * Walks crew `c` as if `v` (-1 = nothing) stood behind `after` (-1 = first) in the list of `day`; joint and kept
   * work of its own is given its minutes by `atMin` and `untilMin` (and the visit's stored `endDay`). With `force`,
   * kept visits are passed even where they break a rule. `fromDay`: where to begin instead of on the first day felt.
   * @returns OK, or the position in RULES of the first rule that fails
   */
  walk(
    c: number,
    v: number,
    day: number,
    after: number,
    atMin: number,
    untilMin: number,
    force: boolean,
    fromDay = -1,
  ): number {
    const m = this.#m;
    const s = this.#s;
    const w = this.#work;
    const crews = m.crewCount;
    const places = m.placeCount;
    const home = m.depot[c]!;
    const paceFrom = c * m.paceKinds;
    this.crew = c;
    this.added = v;
    this.addedDay = day;
    this.addedAfter = after;
    this.dayCount = 0;
    this.visitCount = 0;
    this.failedAt = -1;

    let today = fromDay >= 0 ? fromDay : this.firstDayFelt(c, day);
    let at = today * crews + c;
    let place = s.inPlace[at]!;
    let nights = s.inNights[at]!;
    let carry = s.inCarry[at]!;
    let carrySlot = -1;
    let seg = s.inSeg[at]!;
    let rem = s.inRem[at]!;
    let load = s.inLoad[at]!;

    while (true) {
      const k = this.dayCount++;
      this.cd[k] = at;
      this.inPlace[k] = place;
      this.inNights[k] = nights;
      this.inCarry[k] = carry;
      this.inSeg[k] = seg;
      this.inRem[k] = rem;
      this.inLoad[k] = load;
      this.failedDay = today;

      const homeBy = m.homeByMin[at]!;
      const tomorrow = m.nextWork[at]!;
      const weekday = m.weekday[today]!;
      const first = v >= 0 && today === day && after < 0 ? v : s.head[at]!;
      const tomorrowAt = tomorrow * crews + c;
      const isOff = m.works[at] === 0;
      const from =
        isOff && first >= 0
          ? outsetMin(m, first, first === v ? atMin : s.startMin[first]!, place)
          : m.fromMin[at]!;
      const to = isOff ? from : m.toMin[at]!;
      // First place of the next calendar day, when the crew works on it: decides about the night.
      let morning = -1;
      if (tomorrow === today + 1) {
        const u = v >= 0 && tomorrow === day && after < 0 ? v : s.head[tomorrowAt]!;
        if (u >= 0) morning = m.place[u]!;
      }

      let time = from;
      let km = 0;
      let travel = 0;
      let busy = 0;
      let risk = 0;
      let stayAt = -1;
      let stayPaid = 0;
      let moved = false;
      let hasKept = false;
      let goesOn = -1;
      let sleepsThere = false;
      let isCarried = carry >= 0;
      let u = isCarried ? carry : first;
      const isUsed = u >= 0;

      while (u >= 0) {
        const following = isCarried
          ? first
          : u === v
            ? after < 0
              ? s.head[at]!
              : s.next[after]!
            : v >= 0 && u === after
              ? v
              : s.next[u]!;
        const isLast = following < 0;
        const p = m.place[u]!;
        const legMin = m.travelMin[place * places + p]!;
        const opens = m.accessFrom[u * 7 + weekday]!;
        const closes = m.accessTo[u * 7 + weekday]!;
        const setup = m.setupMin[u]!;
        const due = stayAt === p ? (setup > stayPaid ? setup - stayPaid : 0) : setup;
        const arrives = time + legMin;
        let canStart = Math.max(arrives, opens) + due;
        const kept = m.kept[u] !== undefined;

        if (kept || m.partner[u]! >= 0) {
          const goesOver = kept && (u === v ? m.kept[u]!.endDay : s.endDay[u]!) > today;
          const start = isCarried ? time : u === v ? atMin : s.startMin[u]!;
          const end = goesOver
            ? Math.max(start, to - m.travelMin[p * places + home]!)
            : u === v
              ? untilMin
              : s.endMin[u]!;
          if (!isCarried && !(force && kept)) {
            if (canStart > start) return this.#fail(u, kept ? BREAKS.kept : BREAKS.together);
            if (end > closes) return this.#fail(u, BREAKS.access);
            if (siteTakenUntil(m, s, u, c, today * 1440 + start - due, today * 1440 + end) >= 0)
              return this.#fail(u, BREAKS.siteLock);
          }
          if (goesOver && !isLast && !force) return this.#fail(following, BREAKS.kept);
          if (kept) hasKept = true;
          busy += legMin + (isCarried ? 0 : due) + end - start;
          if (!kept) risk += ((end - start) / 60) * m.riskMinPerH[u]![today]!;
          if (isCarried) {
            if (carrySlot < 0) carrySlot = this.#slotOfStored(u);
            this.endDay[carrySlot] = today;
            this.endMin[carrySlot] = end;
          } else {
            carrySlot = this.#newSlot(u, today, start, end, due);
            load += m.loadKg[u]!;
            if (load > m.payloadKg[c]! && !(force && kept)) return this.#fail(u, BREAKS.payload);
          }
          if (goesOver) {
            goesOn = u;
            seg = 0;
            rem = 0;
            sleepsThere = sleepsAway(m, c, today, nights, p, p);
          }
          time = end;
        } else {
          if (isCarried) {
            if (!hasPeople(m, u, at)) return this.#fail(u, BREAKS.people);
          } else {
            const ready = readyAt(m, s, u, c) - today * 1440;
            if (ready > canStart) canStart = ready;
            seg = m.segFrom[u]!;
            rem = m.segMin[seg]!;
          }
          const factor = m.pace[paceFrom + m.paceKind[u]!]! * m.stretch[u]![today]!;
          const masks = m.masks[u]!;
          const backMin = m.travelMin[p * places + home]!;
          let lateLimit = homeBy;
          if (isLast && !(morning >= 0 && sleepsAway(m, c, today, nights, p, morning))) lateLimit -= backMin;
          if (lateLimit > closes) lateLimit = closes;
          goesOn = -1;
          while (true) {
            workDay(w, m, u, today, canStart, lateLimit, factor, seg, rem, masks, masks);
            if (!w.done) {
              // Not to be ended today even with overtime: work until the ordinary end of the shift and go on.
              if (!isLast || m.canPause[u] === 0) return this.#fail(u, this.#closedOrShort(u, today));
              sleepsThere = sleepsAway(m, c, today, nights, p, p);
              for (let again = true; again; ) {
                again = false;
                const pause = sleepsThere ? to : to - backMin;
                workDay(w, m, u, today, canStart, Math.min(pause, closes), factor, seg, rem, masks, masks);
                if (w.done && sleepsThere) {
                  sleepsThere = false; // it would end here with no way home in time: come back tomorrow instead
                  again = true;
                }
              }
              goesOn = u;
              if (w.first < 0) break;
            }
            const midnight = today * 1440;
            // A visit over several days holds its site from its start to its end, nights included.
            const holdsFrom = isCarried ? midnight : midnight + w.first - due;
            const taken = siteTakenUntil(m, s, u, c, holdsFrom, midnight + (goesOn >= 0 ? 1440 : w.last));
            if (taken < 0) break;
            if (isCarried || goesOn >= 0 || taken >= midnight + 1440) return this.#fail(u, BREAKS.siteLock);
            canStart = taken - midnight + due;
            goesOn = -1;
          }
          if (w.first < 0 && !isCarried) return this.#fail(u, this.#closedOrShort(u, today));
          if (isCarried) {
            if (carrySlot < 0) carrySlot = this.#slotOfStored(u);
            this.endDay[carrySlot] = today;
            this.endMin[carrySlot] = w.last;
          } else {
            load += m.loadKg[u]!;
            if (load > m.payloadKg[c]!) return this.#fail(u, BREAKS.payload);
            carrySlot = this.#newSlot(u, today, w.first, w.last, due);
          }
          seg = w.seg;
          rem = w.rem;
          if (w.first < 0) break; // a day without a workable hour: the crew stays where it woke up
          if (goesOn < 0 && today * 1440 + w.last > dueBy(m, s, u, c)) return this.#fail(u, BREAKS.order);
          busy += legMin + due + w.workedMin;
          risk += (w.workedMin / 60) * m.riskMinPerH[u]![today]!;
          time = w.last;
        }
        km += m.travelKm[place * places + p]!;
        travel += legMin;
        if (stayAt !== p) {
          stayAt = p;
          stayPaid = due;
        } else stayPaid += due;
        place = p;
        moved = true;
        if (goesOn >= 0 && !isLast && !kept) return this.#fail(following, BREAKS.shift);
        u = following;
        isCarried = false;
      }

      // Evening: near the site or home.
      let away = false;
      if (place !== home) {
        if (goesOn >= 0)
          away = moved ? sleepsThere : sleepsAway(m, c, today, nights, place, m.place[goesOn]!);
        else away = morning >= 0 && sleepsAway(m, c, today, nights, place, morning);
        if (!away) {
          const backMin = m.travelMin[place * places + home]!;
          km += m.travelKm[place * places + home]!;
          travel += backMin;
          busy += backMin;
          time += backMin;
          moved = true;
        }
      }
      if (time > homeBy && isUsed && !(force && hasKept)) {
        this.failedAt = -1;
        return homeBy < to + m.problem.crews[c]!.overtimeMaxMin ? BREAKS.rest : BREAKS.shift;
      }
      this.used[k] = isUsed ? 1 : 0;
      this.km[k] = km;
      this.travelMin[k] = travel;
      this.busy[k] = busy;
      this.risk[k] = risk;
      this.night[k] = away ? 1 : 0;
      this.overtime[k] = isUsed && time > to ? time - to : 0;
      this.duty[k] = moved ? time - from : 0;

      if (tomorrow < 0) {
        if (goesOn >= 0 && !(force && m.kept[goesOn])) return this.#fail(goesOn, BREAKS.horizon);
        break;
      }
      if (away) nights++;
      else {
        place = home;
        nights = 0;
        load = 0;
      }
      carry = goesOn;
      if (carry < 0) {
        carrySlot = -1;
        seg = 0;
        rem = 0;
      }
      const meets =
        s.inPlace[tomorrowAt] === place &&
        s.inNights[tomorrowAt] === nights &&
        s.inCarry[tomorrowAt] === carry &&
        s.inSeg[tomorrowAt] === seg &&
        s.inRem[tomorrowAt] === rem &&
        s.inLoad[tomorrowAt] === load;
      if (tomorrow > day && meets) {
        if (carry >= 0) {
          this.endDay[carrySlot] = s.endDay[carry]!; // it goes on as it did
          this.endMin[carrySlot] = s.endMin[carry]!;
        }
        break;
      }
      today = tomorrow;
      at = tomorrowAt;
    }
    return this.#weeklyHours(c, force);
  }

  /** Takes the last walk, which must have been OK, over into the plan. */
  commit(): void {
    const m = this.#m;
    const s = this.#s;
    const v = this.added;
    if (v >= 0) {
      s.put(s.crewOf, v, this.crew);
      s.link(v, this.addedDay * m.crewCount + this.crew, this.addedAfter);
    }
    for (let k = 0; k < this.dayCount; k++) {
      const at = this.cd[k]!;
      const week = this.crew * m.weekCount + m.week[(at / m.crewCount) | 0]!;
      const moreDuty = this.duty[k]! - s.duty[at]!;
      s.put(s.weekDuty, week, s.weekDuty[week]! + moreDuty);
      s.put(s.crewDuty, this.crew, s.crewDuty[this.crew]! + moreDuty);
      s.put(s.used, at, this.used[k]!);
      s.put(s.travelMin, at, this.travelMin[k]!);
      s.put(s.overtime, at, this.overtime[k]!);
      s.put(s.night, at, this.night[k]!);
      s.put(s.duty, at, this.duty[k]!);
      s.put(s.busy, at, this.busy[k]!);
      s.put(s.inPlace, at, this.inPlace[k]!);
      s.put(s.inNights, at, this.inNights[k]!);
      s.put(s.inCarry, at, this.inCarry[k]!);
      s.put(s.inSeg, at, this.inSeg[k]!);
      s.putReal(s.inRem, at, this.inRem[k]!);
      s.putReal(s.inLoad, at, this.inLoad[k]!);
      s.putReal(s.km, at, this.km[k]!);
      s.putReal(s.risk, at, this.risk[k]!);
    }
    for (let i = 0; i < this.visitCount; i++) {
      const u = this.visit[i]!;
      s.put(s.startDay, u, this.startDay[i]!);
      s.put(s.startMin, u, this.startMin[i]!);
      s.put(s.endDay, u, this.endDay[i]!);
      s.put(s.endMin, u, this.endMin[i]!);
      s.put(s.setupPaid, u, this.setupPaid[i]!);
    }
  }

  #fail(u: number, rule: number): number {
    this.failedAt = u;
    return rule;
  }

  #newSlot(u: number, day: number, start: number, end: number, setup: number): number {
    const i = this.visitCount++;
    this.visit[i] = u;
    this.startDay[i] = day;
    this.startMin[i] = start;
    this.endDay[i] = day;
    this.endMin[i] = end;
    this.setupPaid[i] = setup;
    return i;
  }

  /** A visit that began before the walk: its start stays. */
  #slotOfStored(u: number): number {
    const s = this.#s;
    const i = this.#newSlot(u, s.startDay[u]!, s.startMin[u]!, s.endMin[u]!, s.setupPaid[u]!);
    this.endDay[i] = s.endDay[u]!;
    return i;
  }

  /** Why a visit found no minute: no open hour that day, or no room in the shift. */
  #closedOrShort(u: number, day: number): number {
    const m = this.#m;
    const row = m.segClass[m.segFrom[u]!]! * m.dayCount + day;
    return (m.masks[u]![row]! & 0xffffff) === 0 ? BREAKS.weather : BREAKS.shift;
  }

  #weeklyHours(c: number, force: boolean): number {
    if (force) return OK;
    const m = this.#m;
    const s = this.#s;
    const max = m.weeklyMaxMin[c]!;
    for (let k = 0; k < this.dayCount; ) {
      const week = m.week[(this.cd[k]! / m.crewCount) | 0]!;
      let more = 0;
      for (; k < this.dayCount && m.week[(this.cd[k]! / m.crewCount) | 0] === week; k++)
        more += this.duty[k]! - s.duty[this.cd[k]!]!;
      if (more > 0 && s.weekDuty[c * m.weekCount + week]! + more > max) {
        this.failedAt = -1;
        return BREAKS.weeklyHours;
      }
    }
    return OK;
  }
}
