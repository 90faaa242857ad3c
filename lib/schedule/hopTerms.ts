/** What a hop's dates cost: days late, unfinished, ends left open, days until its finish. */
import type { Model } from "./model";
import { type PlanState, SUM } from "./plan";

/**
 * A hop looked at without one of its visits (or a pair of them): then the cost of its dates with that visit anywhere
 * is a matter of a few comparisons. Insertion asks for it on every day it looks at.
 */
export class HopView {
  /** Placed visits besides the one left out, and the last day of any. */
  placed = 0;
  #finish = -1;
  #installs = 0;
  #installEnds = 0;
  #lastInstall = -1;
  #alignDay = -1;
  #promise = 0;
  #lateWeight = 0;
  /** Cost without the visit. */
  now = 0;

  constructor(
    readonly m: Model,
    readonly s: PlanState,
  ) {}

  /** Looks at hop `h` without visit `v` (-1 = as it stands). */
  look(h: number, v: number): void {
    const { m, s } = this;
    const w = m.problem.weights;
    this.#promise = m.promiseDay[h]!;
    this.#lateWeight = w.lateHopDay * m.hopWeight[h]!;
    this.placed = 0;
    this.#finish = -1;
    this.#installs = 0;
    this.#installEnds = 0;
    this.#lastInstall = -1;
    this.#alignDay = -1;
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
      const u = m.hopVisits[i]!;
      if (u === v || s.crewOf[u]! < 0) continue;
      const end = s.endDay[u]!;
      this.placed++;
      if (end > this.#finish) this.#finish = end;
      if (m.isInstall[u] === 1) {
        this.#installs++;
        this.#installEnds += end;
        if (end > this.#lastInstall) this.#lastInstall = end;
      } else if (m.isAlignment[u] === 1 && s.startDay[u]! > this.#alignDay) this.#alignDay = s.startDay[u]!;
    }
    this.now = this.#price(
      this.#finish,
      this.#openDays(this.#installs, this.#installEnds, this.#lastInstall, this.#alignDay),
    );
  }

  /** Cost of the dates with the visit from `startDay` to `endDay`. */
  with(v: number, startDay: number, endDay: number): number {
    const m = this.m;
    const finish = endDay > this.#finish ? endDay : this.#finish;
    if (m.isInstall[v] === 1) {
      const last = endDay > this.#lastInstall ? endDay : this.#lastInstall;
      return this.#price(
        finish,
        this.#openDays(this.#installs + 1, this.#installEnds + endDay, last, this.#alignDay),
      );
    }
    const align = m.isAlignment[v] === 1 && startDay > this.#alignDay ? startDay : this.#alignDay;
    return this.#price(finish, this.#openDays(this.#installs, this.#installEnds, this.#lastInstall, align));
  }

  get finish(): number {
    return this.#finish;
  }

  get openDays(): number {
    return this.#openDays(this.#installs, this.#installEnds, this.#lastInstall, this.#alignDay);
  }

  /** Days from each install's end to the alignment, or to the last install while there is no alignment. */
  #openDays(installs: number, ends: number, last: number, align: number): number {
    if (installs === 0) return 0;
    const days = installs * (align >= 0 ? align : last) - ends;
    return days > 0 ? days : 0;
  }

  /** Whether or not the hop is complete; once it is, this is its share of the weighted sum. */
  #price(finish: number, openDays: number): number {
    if (finish < 0) return 0;
    const w = this.m.problem.weights;
    const late = finish - this.#promise;
    return (late > 0 ? this.#lateWeight * late : 0) + (w.finishDay ?? 0) * finish + w.openEndDay * openDays;
  }
}

/** Brings the stored terms of hop `h` and the sums up to date. An unfinished hop counts as late until the horizon. */
export function refreshHop(view: HopView, h: number): void {
  const { m, s } = view;
  const visits = m.hopFrom[h + 1]! - m.hopFrom[h]!;
  if (visits === 0) return;
  view.look(h, -1);
  const open = view.openDays;
  const unfinished = view.placed < visits ? 1 : 0;
  const end = unfinished ? m.dayCount : view.finish;
  const late = Math.max(0, end - m.promiseDay[h]!) * m.hopWeight[h]!;
  s.add(SUM.late, late - s.hopLate[h]!);
  s.add(SUM.unfinished, unfinished - s.hopUnfinished[h]!);
  s.add(SUM.open, open - s.hopOpen[h]!);
  s.add(SUM.finish, end - s.hopFinish[h]!);
  s.putReal(s.hopLate, h, late);
  s.putReal(s.hopUnfinished, h, unfinished);
  s.putReal(s.hopOpen, h, open);
  s.putReal(s.hopFinish, h, end);
}
