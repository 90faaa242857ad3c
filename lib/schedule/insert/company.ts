/**
 * A hop's ends done side by side: two crews, one at each end, do what is left there and align on the same day.
 *
 * Put in visit by visit, the first install goes wherever it is cheapest alone, and the alignment then needs two crews
 * who happen to have time at once. Looked at as one, the hop finds the two crews who are near both its ends.
 */
import type { PlanEdit } from "../edit";
import type { Model } from "../model";
import { paceOf } from "../pace";
import { jointTimes, times } from "../synchronise";
import type { Blink } from "./blink";
import { detour, freeMin, leastOvertime, passing, setUpBy } from "./detour";
import { lastAwaited, mayStart, type Within, waitsFor } from "./range";
import { Shortlist } from "./shortlist";
import { Slack } from "./slack";

/** Pairs of places walked per day, and those that may fail before the hop is left to go in visit by visit. */
const MOST_WALKS = 6;
const MOST_FAILED = 30;

/** What is out at one end, in the order in which it is done; the alignment last. */
class End {
  count = 0;
  readonly visits: Int32Array;
  setupMin = 0;
  readonly places = new Shortlist();

  constructor(visitCount: number) {
    this.visits = new Int32Array(visitCount);
  }

  get first(): number {
    return this.visits[0]!;
  }

  get alignment(): number {
    return this.visits[this.count - 1]!;
  }
}

export class Company {
  /** Per hop: is it worth looking for company? */
  readonly fits: Uint8Array;
  readonly #near: End;
  readonly #far: End;
  readonly #slack: Slack;
  #firstDay = 0;
  #lastDay = 0;
  /** The best place so far. */
  #best = Number.POSITIVE_INFINITY;
  #failed = 0;
  #day = -1;
  #nearCrew = -1;
  #nearAfter = -1;
  #farCrew = -1;
  #farAfter = -1;
  readonly #pair = new Int32Array(2);

  constructor(readonly edit: PlanEdit) {
    const m = edit.model;
    this.#slack = new Slack(m, edit.state);
    let most = 0;
    for (let h = 0; h < m.hopCount; h++) most = Math.max(most, m.hopFrom[h + 1]! - m.hopFrom[h]!);
    this.fits = fitsTwiceADay(m);
    this.#near = new End(most);
    this.#far = new End(most);
  }

  /**
   * Puts hop `h` in, all of it up to its alignment, at the cheapest place beside one of the hops `beside` or `within`.
   * @returns false, and nothing is changed, when it is no such hop or has no such place
   */
  insert(h: number, blink: Blink, within: Within, beside: Int32Array): boolean {
    if (!this.#gather(h)) return false;
    const { model: m, state: s } = this.edit;
    this.#best = Number.POSITIVE_INFINITY;
    this.#failed = 0;
    const firstDay = Math.max(this.#firstDay, within.firstDay);
    const lastDay = Math.min(this.#lastDay, within.lastDay);
    for (let i = 0; i < beside.length; i++) {
      const v = alignmentOf(m, beside[i]!);
      if (v < 0 || s.crewOf[v]! < 0 || s.crewOf[m.partner[v]!]! < 0) continue;
      const day = s.startDay[v]!;
      if (day < this.#firstDay || day > this.#lastDay) continue;
      this.#pair[0] = s.crewOf[v]!;
      this.#pair[1] = s.crewOf[m.partner[v]!]!;
      this.#tryDay(day, blink, this.#pair, this.#pair);
    }
    for (let day = firstDay; day <= lastDay; day++) this.#tryDay(day, blink, within.crews, within.otherCrews);
    if (this.#best === Number.POSITIVE_INFINITY) return false;
    this.#put(this.#day, this.#nearCrew, this.#nearAfter, this.#farCrew, this.#farAfter);
    return true;
  }

  #tryDay(day: number, blink: Blink, nearCrews: Int32Array, farCrews: Int32Array): void {
    const s = this.edit.state;
    const a = this.#near.alignment;
    this.edit.aim(a);
    const dayCost = this.edit.aimed.with(a, day, day) - this.edit.aimed.now;
    const under = this.#best - dayCost;
    if (under <= 0 || this.#failed > MOST_FAILED) return;
    const near = this.#near.places;
    const far = this.#far.places;
    this.#offers(this.#near, day, blink, under, nearCrews);
    if (near.count === 0) return;
    this.#offers(this.#far, day, blink, under - near.cost[0]!, farCrews);
    let walks = 0;
    for (let i = 0; i < near.count; i++)
      for (let j = 0; j < far.count && walks < MOST_WALKS; j++) {
        if (near.crew[i] === far.crew[j]) continue;
        if (dayCost + near.cost[i]! + far.cost[j]! >= this.#best) break;
        walks++;
        const mark = s.mark();
        const cost = this.#put(day, near.crew[i]!, near.after[i]!, far.crew[j]!, far.after[j]!);
        s.undoTo(mark);
        if (cost === Number.POSITIVE_INFINITY) this.#failed++;
        if (cost >= this.#best) continue;
        this.#best = cost;
        this.#day = day;
        this.#nearCrew = near.crew[i]!;
        this.#nearAfter = near.after[i]!;
        this.#farCrew = far.crew[j]!;
        this.#farAfter = far.after[j]!;
      }
  }

  /** What of the hop is out up to its alignment, end by end, and the days on which all of it may start. */
  #gather(h: number): boolean {
    const { model: m, state: s } = this.edit;
    let a = -1;
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]! && a < 0; i++) {
      const v = m.hopVisits[i]!;
      const b = m.partner[v]!;
      if (b < 0 || s.crewOf[v]! >= 0) continue;
      if (m.hop[b] !== h || m.place[v] === m.place[b] || m.blocked[v] === 1 || m.kept[v] || m.kept[b])
        return false;
      a = v;
    }
    if (a < 0) return false;
    const b = m.partner[a]!;
    this.#near.count = 0;
    this.#far.count = 0;
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
      const v = m.hopVisits[i]!;
      if (s.crewOf[v]! >= 0 || m.rank[v]! >= m.rank[a]!) continue;
      if (m.partner[v]! >= 0 || m.blocked[v] === 1) return false;
      const end = m.place[v] === m.place[a] ? this.#near : m.place[v] === m.place[b] ? this.#far : undefined;
      if (end === undefined) return false;
      end.visits[end.count++] = v;
    }
    if (this.#near.count + this.#far.count === 0) return false;
    this.#firstDay = 0;
    this.#lastDay = m.dayCount - 1;
    return this.#close(this.#near, a, h) && this.#close(this.#far, b, h);
  }

  #close(end: End, alignment: number, h: number): boolean {
    const { model: m, state: s } = this.edit;
    const list = end.visits;
    // Insertion sort: two or three visits.
    for (let i = 1; i < end.count; i++) {
      const v = list[i]!;
      let j = i;
      for (; j > 0 && m.rank[list[j - 1]!]! > m.rank[v]!; j--) list[j] = list[j - 1]!;
      list[j] = v;
    }
    list[end.count++] = alignment;
    end.setupMin = 0;
    for (let i = 0; i < end.count; i++) {
      const v = list[i]!;
      end.setupMin = Math.max(end.setupMin, m.setupMin[v]!);
      this.#firstDay = Math.max(this.#firstDay, m.earliestDay[v]!);
      for (let k = m.predFrom[v]!; k < m.predFrom[v + 1]!; k++) {
        const u = m.preds[k]!;
        if (s.crewOf[u]! >= 0) this.#firstDay = Math.max(this.#firstDay, s.endDay[u]!);
        else if (m.hop[u] !== h) return false;
      }
      for (let k = m.succFrom[v]!; k < m.succFrom[v + 1]!; k++) {
        const u = m.succs[k]!;
        if (s.crewOf[u]! >= 0) this.#lastDay = Math.min(this.#lastDay, s.startDay[u]!);
      }
    }
    return true;
  }

  /** Places of one end on `day` that seem to hold it, by what they cost at least. */
  #offers(end: End, day: number, blink: Blink, under: number, among: Int32Array): void {
    const { model: m, state: s } = this.edit;
    const w = m.problem.weights;
    const crews = m.crewCount;
    const crewDays = crews * m.dayCount;
    const v = end.first;
    const list = end.places;
    list.count = 0;
    const moreSetup = end.setupMin - m.setupMin[v]!;
    for (let i = 0; i < among.length; i++) {
      const c = among[i]!;
      const at = day * crews + c;
      if (!this.#mayAllStart(end, at, day, crewDays) || blink.now()) continue;
      const work = workMin(m, end, c, day);
      const room = freeMin(m, s, at) - work;
      if (room < 0) continue;
      const fixedCost =
        (s.used[at] === 1 ? 0 : this.edit.newDayPrice) +
        (w.riskMin * work * m.riskMinPerH[v]![day]!) / 60 +
        this.#movedCost(end, c, day);
      if (fixedCost >= under) continue;
      const carried = s.inCarry[at]!;
      if (carried >= 0 && s.endDay[carried] !== day) continue;
      this.#slack.look(c, at);
      for (let after = this.#behind(end, at); ; ) {
        const follower = after < 0 ? s.head[at]! : s.next[after]!;
        detour(m, s, v, c, at, after);
        const busyMin = passing.busyMin + moreSetup;
        const cost = fixedCost + passing.cost + leastOvertime(m, s, at, work + busyMin);
        if (busyMin <= room && work + busyMin <= this.#slack.before(follower) && cost < under)
          list.offer(cost, c, after, setUpBy(m, s, v, at, after));
        if (follower < 0 || this.#isAwaitedBy(follower, end)) break;
        after = follower;
      }
    }
  }

  /** The visit of the day's list behind which all of this end may stand. */
  #behind(end: End, at: number): number {
    const { model: m, state: s } = this.edit;
    let last = -1;
    for (let i = 0; i < end.count; i++) {
      const u = lastAwaited(m, s, end.visits[i]!, at);
      if (u >= 0 && (last < 0 || s.startMin[u]! > s.startMin[last]!)) last = u;
    }
    return last;
  }

  #isAwaitedBy(follower: number, end: End): boolean {
    for (let i = 0; i < end.count; i++) if (waitsFor(this.edit.model, follower, end.visits[i]!)) return true;
    return false;
  }

  #mayAllStart(end: End, at: number, day: number, crewDays: number): boolean {
    for (let i = 0; i < end.count; i++)
      if (!mayStart(this.edit.model, end.visits[i]!, at, day, crewDays)) return false;
    return true;
  }

  #movedCost(end: End, c: number, day: number): number {
    let cost = 0;
    for (let i = 0; i < end.count; i++) cost += this.edit.movedCost(end.visits[i]!, c, day);
    return cost;
  }

  /** Puts both ends in behind the places given; Infinity, perhaps with a part of it in, when a rule forbids it. */
  #put(day: number, nearCrew: number, nearAfter: number, farCrew: number, farAfter: number): number {
    const { model: m, state: s } = this.edit;
    let cost = this.#putInstalls(this.#near, day, nearCrew, nearAfter);
    if (cost < Number.POSITIVE_INFINITY) cost += this.#putInstalls(this.#far, day, farCrew, farAfter);
    if (cost === Number.POSITIVE_INFINITY) return cost;
    const a = this.#near.alignment;
    const b = this.#far.alignment;
    const behindA = this.#near.count > 1 ? this.#near.visits[this.#near.count - 2]! : nearAfter;
    const behindB = this.#far.count > 1 ? this.#far.visits[this.#far.count - 2]! : farAfter;
    const from = Math.max(
      setUpBy(m, s, a, day * m.crewCount + nearCrew, behindA),
      setUpBy(m, s, b, day * m.crewCount + farCrew, behindB),
    );
    if (!jointTimes(m, s, a, nearCrew, farCrew, day, from)) return Number.POSITIVE_INFINITY;
    const { atMin, untilMin } = times;
    cost += this.#add(a, nearCrew, day, behindA, atMin, untilMin);
    if (cost === Number.POSITIVE_INFINITY) return cost;
    return cost + this.#add(b, farCrew, day, behindB, atMin, untilMin);
  }

  #putInstalls(end: End, day: number, c: number, after: number): number {
    let cost = 0;
    let behind = after;
    for (let i = 0; i < end.count - 1; i++) {
      const v = end.visits[i]!;
      cost += this.#add(v, c, day, behind, -1, -1);
      if (cost === Number.POSITIVE_INFINITY || this.edit.state.endDay[v] !== day)
        return Number.POSITIVE_INFINITY;
      behind = v;
    }
    return cost;
  }

  #add(v: number, c: number, day: number, after: number, atMin: number, untilMin: number): number {
    this.edit.aim(v);
    const cost = this.edit.trial(v, c, day, after, atMin, untilMin);
    if (cost < Number.POSITIVE_INFINITY) this.edit.place();
    return cost;
  }
}

/** Minutes that all of an end takes a crew on a day. */
function workMin(m: Model, end: End, c: number, day: number): number {
  let min = 0;
  for (let i = 0; i < end.count; i++) {
    const v = end.visits[i]!;
    min += m.workMin[v]! * m.stretch[v]![day]! * paceOf(m, c, v);
  }
  return min;
}

/** The first visit of a hop that has another end; -1 = none. */
export function alignmentOf(m: Model, h: number): number {
  for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++)
    if (m.partner[m.hopVisits[i]!]! >= 0) return m.hopVisits[i]!;
  return -1;
}

/** Per hop: could two crews, one at each end, do two like it on the longest day? Then it is worth looking for company. */
export function fitsTwiceADay(m: Model): Uint8Array {
  let dayMin = 0;
  for (let at = 0; at < m.works.length; at++)
    if (m.works[at] === 1) dayMin = Math.max(dayMin, m.toMin[at]! - m.fromMin[at]!);
  const depots = [...new Set(m.depot)];
  const n = m.placeCount;
  const way = (p: number) =>
    Math.min(...depots.map((d) => m.travelMin[d * n + p]! + m.travelMin[p * n + d]!));
  return Uint8Array.from({ length: m.hopCount }, (_, h) => {
    const byPlace = new Map<number, number>();
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
      const v = m.hopVisits[i]!;
      byPlace.set(m.place[v]!, (byPlace.get(m.place[v]!) ?? 0) + m.workMin[v]!);
    }
    return byPlace.size === 2 && [...byPlace].every(([p, min]) => 2 * min <= dayMin - way(p)) ? 1 : 0;
  });
}
