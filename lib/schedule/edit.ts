/** Try, place and remove visits; every change keeps the plan's cost sums exact. */
import { keptRiskMin } from "./evaluate";
import { HopView, refreshHop } from "./hopTerms";
import type { Model } from "./model";
import { type PlanState, SUM } from "./plan";
import { nightsAway } from "./result";
import { BREAKS, OK } from "./rules";
import { claim, isSupplied } from "./supplies";
import { Timeline } from "./timeline";
import type { PlacedVisit, PlanCost } from "./types";
import { weightedTotal } from "./weights";

export class PlanEdit {
  readonly timeline: Timeline;
  /** The hop of the visit aimed at, without that visit. */
  readonly aimed: HopView;
  readonly #view: HopView;
  /** Rule that failed in the last trial, a position in RULES. */
  brokenRule = OK;
  /** What trials reckon for a crew-day that was not used: its price in the weighted sum; insertion may lower it. */
  newDayPrice: number;

  /** A constant: in what the plan is said to cost, not in the sum that the search compares. */
  #keptRiskMin = 0;

  constructor(
    readonly model: Model,
    readonly state: PlanState,
  ) {
    this.newDayPrice = model.problem.weights.crewDay;
    this.timeline = new Timeline(model, state);
    this.aimed = new HopView(model, state);
    this.#view = new HopView(model, state);
  }

  /** Makes the sums true for an empty plan and puts the kept visits in, whatever rule they break. */
  start(): void {
    const { model: m, state: s } = this;
    s.sums[SUM.unplaced] = m.visitCount;
    for (let h = 0; h < m.hopCount; h++) refreshHop(this.#view, h);
    for (let v = 0; v < m.visitCount; v++) if (m.wasCrew[v]! >= 0) s.add(SUM.moved, 1);
    const kept = m.kept.filter((x) => x !== undefined);
    kept.sort((a, b) => a.startDay - b.startDay || a.startMin - b.startMin || a.visit - b.visit);
    for (const x of kept) {
      const at = x.startDay * m.crewCount + x.crew;
      s.startDay[x.visit] = x.startDay;
      s.startMin[x.visit] = x.startMin;
      s.endDay[x.visit] = x.endDay;
      s.endMin[x.visit] = x.endMin;
      this.timeline.walk(x.crew, x.visit, x.startDay, s.tail[at]!, x.startMin, x.endMin, true);
      this.place();
      // Walking may stop short of the stated end (a calendar that changed): what was stated counts.
      s.endDay[x.visit] = x.endDay;
      s.endMin[x.visit] = x.endMin;
      refreshHop(this.#view, m.hop[x.visit]!);
    }
    this.#keptRiskMin = keptRiskMin(m, nightsAway(this));
    s.forget();
  }

  /** Before trials of `v`, or of a pair by either of its ends: looks at its hop without it. */
  aim(v: number): void {
    this.aimed.look(this.model.hop[v]!, v);
  }

  /**
   * Cost change, as insertion sees it, of `v` (aimed at) behind `after` (-1 = first) on a crew's day; Infinity when a
   * rule forbids it (`brokenRule`). Joint work is given its minutes.
   */
  trial(v: number, c: number, day: number, after: number, atMin: number, untilMin: number): number {
    const m = this.model;
    const s = this.state;
    const t = this.timeline;
    if (!isSupplied(m, s, v, day)) {
      this.brokenRule = BREAKS.kit;
      return Number.POSITIVE_INFINITY;
    }
    this.brokenRule = t.walk(c, v, day, after, atMin, untilMin, false);
    if (this.brokenRule !== OK) return Number.POSITIVE_INFINITY;
    const w = m.problem.weights;
    let delta = 0;
    for (let k = 0; k < t.dayCount; k++) {
      const at = t.cd[k]!;
      delta +=
        w.travelKm * (t.km[k]! - s.km[at]!) +
        w.travelMin * (t.travelMin[k]! - s.travelMin[at]!) +
        this.newDayPrice * (t.used[k]! - s.used[at]!) +
        w.overtimeMin * (t.overtime[k]! - s.overtime[at]!) +
        w.nightAway * (t.night[k]! - s.night[at]!) +
        w.riskMin * (t.risk[k]! - s.risk[at]!);
    }
    for (let i = 0; i < t.visitCount; i++) {
      const u = t.visit[i]!;
      if (u === v) delta += this.aimed.with(v, t.startDay[i]!, t.endDay[i]!) - this.aimed.now;
      else if (t.endDay[i] !== s.endDay[u]) {
        const view = this.#view;
        view.look(m.hop[u]!, u);
        delta += view.with(u, t.startDay[i]!, t.endDay[i]!) - view.with(u, s.startDay[u]!, s.endDay[u]!);
      }
    }
    return delta + this.movedCost(v, c, day);
  }

  movedCost(v: number, c: number, day: number): number {
    const m = this.model;
    const was = m.wasDay[v]!;
    if (was < 0 || (was === day && m.wasCrew[v] === c)) return 0;
    return m.problem.weights.movedVisit + m.problem.weights.movedDay * Math.abs(day - was);
  }

  /** Takes the last successful trial over. */
  place(): void {
    const v = this.timeline.added;
    this.#takeOver();
    this.#count(v, 1);
  }

  /** Puts a visit at the end of a day's list at given times without walking: for reading a whole plan in. */
  adopt(v: number, x: PlacedVisit): void {
    const { model: m, state: s } = this;
    const at = x.startDay * m.crewCount + x.crew;
    s.put(s.crewOf, v, x.crew);
    s.put(s.startDay, v, x.startDay);
    s.put(s.startMin, v, x.startMin);
    s.put(s.endDay, v, x.endDay);
    s.put(s.endMin, v, x.endMin);
    s.put(s.setupPaid, v, m.setupMin[v]!);
    s.link(v, at, s.tail[at]!);
    this.#count(v, 1);
    refreshHop(this.#view, m.hop[v]!);
  }

  /** The opposite of `adopt`: takes a visit out without walking. */
  drop(v: number): void {
    const { model: m, state: s } = this;
    this.#count(v, -1);
    s.unlink(v);
    refreshHop(this.#view, m.hop[v]!);
  }

  /** Walks all days of a crew and takes the result over; the visit at fault, or -1 when all went well. */
  walkAll(c: number): number {
    const { model: m, state: s, timeline: t } = this;
    let first = -1;
    let last = -1;
    for (let d = 0; d < m.dayCount; d++) {
      if (s.head[d * m.crewCount + c]! < 0) continue;
      if (first < 0) first = d;
      last = d;
    }
    if (first < 0) return -1;
    if (t.walk(c, -1, last, -1, 0, 0, true, first) === OK) {
      const tooLong = this.#weekTooLong(c);
      if (tooLong >= 0) return tooLong;
      this.#takeOver();
      return -1;
    }
    const u = t.failedAt;
    return u >= 0 && !m.kept[u] ? u : this.#lastFree(c, t.failedDay);
  }

  /**
   * The last visit that could go from a week that the walk just made lengthens beyond the crew's hours; -1 = none.
   * The walk itself does not look at weeks when it is forced past kept visits.
   */
  #weekTooLong(c: number): number {
    const { model: m, state: s, timeline: t } = this;
    for (let k = 0; k < t.dayCount; ) {
      const week = m.week[(t.cd[k]! / m.crewCount) | 0]!;
      let more = 0;
      let lastDay = 0;
      for (; k < t.dayCount && m.week[(t.cd[k]! / m.crewCount) | 0] === week; k++) {
        more += t.duty[k]! - s.duty[t.cd[k]!]!;
        lastDay = (t.cd[k]! / m.crewCount) | 0;
      }
      if (more <= 0 || s.weekDuty[c * m.weekCount + week]! + more <= m.weeklyMaxMin[c]!) continue;
      const v = this.#lastFree(c, lastDay);
      if (v >= 0 && m.week[s.startDay[v]!] === week) return v;
    }
    return -1;
  }

  /** Counts visit `v` as placed where it stands (+1) or as no longer placed (-1). */
  #count(v: number, sign: 1 | -1): void {
    const { model: m, state: s } = this;
    s.add(SUM.unplaced, -sign);
    claim(m, s, v, s.startDay[v]!, sign);
    const was = m.wasDay[v]!;
    if (was < 0) return;
    if (was === s.startDay[v] && m.wasCrew[v] === s.crewOf[v]) s.add(SUM.moved, -sign);
    s.add(SUM.movedDays, sign * Math.abs(s.startDay[v]! - was));
  }

  /**
   * Takes a visit out (its partner is the caller's business) and lets what follows move up.
   *
   * That can only help, but for travel tables that break the triangle and for nights away that lose their reason;
   * where a rule then fails, the visit at fault is taken out too, with what waits for it.
   */
  remove(v: number): void {
    const c = this.state.crewOf[v]!;
    const day = this.state.startDay[v]!;
    this.drop(v);
    const fault = this.#walkBetween(c, day, day);
    if (fault >= 0) this.#settle(c, day, fault);
  }

  /** Walks a crew from `first` on, at least until `last`, and takes it over; the visit at fault, or -1. */
  #walkBetween(c: number, first: number, last: number): number {
    const { model: m, timeline: t } = this;
    if (t.walk(c, -1, last, -1, 0, 0, true, t.firstDayFelt(c, first)) !== OK) {
      const u = t.failedAt >= 0 && !m.kept[t.failedAt] ? t.failedAt : this.#lastFree(c, t.failedDay);
      if (u < 0) throw new Error(`crew ${c} cannot be walked from day ${first} on`);
      return u;
    }
    const tooLong = this.#weekTooLong(c);
    if (tooLong < 0) this.#takeOver();
    return tooLong;
  }

  /** Rare: takes visits at fault out, walking each crew over all its days that were touched, until none is at fault. */
  #settle(c: number, day: number, fault: number): void {
    const touched = new Map([[c, { first: day, last: day }]]);
    this.#dropWithFollowers(fault, touched);
    for (let at = touched.entries().next(); !at.done; at = touched.entries().next()) {
      const [crew, days] = at.value;
      const next = this.#walkBetween(crew, days.first, days.last);
      if (next >= 0) this.#dropWithFollowers(next, touched);
      else touched.delete(crew);
    }
  }

  /** Drops a visit with its other end and all that waits for either. */
  #dropWithFollowers(u: number, touched: Map<number, { first: number; last: number }>): void {
    const { model: m, state: s } = this;
    if (s.crewOf[u]! < 0 || m.kept[u]) return;
    const day = s.startDay[u]!;
    const days = touched.get(s.crewOf[u]!) ?? { first: day, last: day };
    touched.set(s.crewOf[u]!, { first: Math.min(days.first, day), last: Math.max(days.last, day) });
    this.drop(u);
    if (m.partner[u]! >= 0) this.#dropWithFollowers(m.partner[u]!, touched);
    for (let i = m.succFrom[u]!; i < m.succFrom[u + 1]!; i++) this.#dropWithFollowers(m.succs[i]!, touched);
  }

  #lastFree(c: number, day: number): number {
    const { model: m, state: s } = this;
    for (let d = day; d >= 0; d = m.prevWork[d * m.crewCount + c]!)
      for (let u = s.tail[d * m.crewCount + c]!; u >= 0; u = s.prev[u]!) if (!m.kept[u]) return u;
    return -1;
  }

  #takeOver(): void {
    const m = this.model;
    const s = this.state;
    const t = this.timeline;
    for (let k = 0; k < t.dayCount; k++) {
      const at = t.cd[k]!;
      s.add(SUM.km, t.km[k]! - s.km[at]!);
      s.add(SUM.travel, t.travelMin[k]! - s.travelMin[at]!);
      s.add(SUM.crewDays, t.used[k]! - s.used[at]!);
      s.add(SUM.overtime, t.overtime[k]! - s.overtime[at]!);
      s.add(SUM.nights, t.night[k]! - s.night[at]!);
      s.add(SUM.risk, t.risk[k]! - s.risk[at]!);
    }
    t.commit();
    for (let i = 0; i < t.visitCount; i++) refreshHop(this.#view, m.hop[t.visit[i]!]!);
  }

  /** The terms of the objective as they stand. */
  cost(): PlanCost {
    const m = this.model;
    const sums = this.state.sums;
    const terms = {
      unplacedVisits: sums[SUM.unplaced]!,
      lateHopDays: sums[SUM.late]!,
      unfinishedHops: sums[SUM.unfinished]!,
      crewDays: sums[SUM.crewDays]!,
      overtimeMin: sums[SUM.overtime]!,
      nightsAway: sums[SUM.nights]!,
      travelKm: sums[SUM.km]!,
      travelMin: sums[SUM.travel]!,
      movedVisits: sums[SUM.moved]!,
      movedDays: sums[SUM.movedDays]!,
      riskMin: sums[SUM.risk]! + this.#keptRiskMin,
      openEndDays: sums[SUM.open]!,
      finishDays: sums[SUM.finish]!,
      imbalanceMin: this.imbalanceMin(),
    };
    return { total: weightedTotal(terms, m.problem.weights), ...terms };
  }

  /** The weighted sum without making an object: read once per iteration. */
  total(): number {
    const w = this.model.problem.weights;
    const x = this.state.sums;
    return (
      w.unplacedVisit * x[SUM.unplaced]! +
      w.lateHopDay * x[SUM.late]! +
      w.unfinishedHop * x[SUM.unfinished]! +
      w.crewDay * x[SUM.crewDays]! +
      w.overtimeMin * x[SUM.overtime]! +
      w.nightAway * x[SUM.nights]! +
      w.travelKm * x[SUM.km]! +
      w.travelMin * x[SUM.travel]! +
      w.movedVisit * x[SUM.moved]! +
      w.movedDay * x[SUM.movedDays]! +
      w.riskMin * x[SUM.risk]! +
      w.openEndDay * x[SUM.open]! +
      (w.finishDay ?? 0) * x[SUM.finish]! +
      w.imbalanceMin * this.imbalanceMin()
    );
  }

  /** Minutes that would have to change hands for every crew to bear its share of the shifts. */
  imbalanceMin(): number {
    const { model: m, state: s } = this;
    let all = 0;
    for (let c = 0; c < m.crewCount; c++) all += s.crewDuty[c]!;
    let off = 0;
    for (let c = 0; c < m.crewCount; c++) off += Math.abs(s.crewDuty[c]! - all * m.shareOfShifts[c]!);
    return off / 2;
  }
}
