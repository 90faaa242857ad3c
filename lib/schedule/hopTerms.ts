/** What a hop's dates cost: days late, unfinished, ends left open, days until its finish. */
import type { Model } from "./model";
import { type PlanState, SUM } from "./plan";

/** Result of `readHop`; one object is reused. */
const read = { placed: 0, finish: -1, open: 0 };

/** Reads hop `h` as if visit `v` (-1 = none) stood from `startDay` to `endDay`. */
function readHop(
  m: Model,
  s: PlanState,
  h: number,
  v: number,
  startDay: number,
  endDay: number,
): typeof read {
  let placed = 0;
  let finish = -1;
  let installs = 0;
  let installEnds = 0;
  let lastInstall = -1;
  let alignDay = -1;
  for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
    const u = m.hopVisits[i]!;
    if (u !== v && s.crewOf[u]! < 0) continue;
    placed++;
    const end = u === v ? endDay : s.endDay[u]!;
    if (end > finish) finish = end;
    if (m.isInstall[u] === 1) {
      installs++;
      installEnds += end;
      if (end > lastInstall) lastInstall = end;
    } else if (m.isAlignment[u] === 1) {
      const start = u === v ? startDay : s.startDay[u]!;
      if (start > alignDay) alignDay = start;
    }
  }
  read.placed = placed;
  read.finish = finish;
  read.open =
    installs === 0 ? 0 : Math.max(0, installs * (alignDay >= 0 ? alignDay : lastInstall) - installEnds);
  return read;
}

/**
 * What the dates of the visits placed so far cost, whether or not the hop is complete: the guide of insertion.
 * Once the hop is complete this is its share of the weighted sum.
 */
export function hopGuide(
  m: Model,
  s: PlanState,
  h: number,
  v: number,
  startDay: number,
  endDay: number,
): number {
  const { finish, open } = readHop(m, s, h, v, startDay, endDay);
  if (finish < 0) return 0;
  const w = m.problem.weights;
  const late = finish - m.promiseDay[h]!;
  return (
    (late > 0 ? w.lateHopDay * m.hopWeight[h]! * late : 0) + (w.finishDay ?? 0) * finish + w.openEndDay * open
  );
}

/** Brings the stored terms of hop `h` and the sums up to date. An unfinished hop counts as late until the horizon. */
export function refreshHop(m: Model, s: PlanState, h: number): void {
  const visits = m.hopFrom[h + 1]! - m.hopFrom[h]!;
  if (visits === 0) return;
  const { placed, finish, open } = readHop(m, s, h, -1, 0, 0);
  const unfinished = placed < visits ? 1 : 0;
  const end = unfinished ? m.dayCount : finish;
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
