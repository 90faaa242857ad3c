/** Single rules made looser, one at a time: the same plan seen through a problem that asks a little less. */
import type { Spot } from "./insert/spot";
import { type Model, NEEDS } from "./model";
import { ACCESS } from "./rules/access";
import { KIT } from "./rules/kit";
import { NOTICE } from "./rules/notice";
import { PAYLOAD } from "./rules/payload";
import { PEOPLE } from "./rules/people";
import { RELEASE } from "./rules/release";
import { SHIFT } from "./rules/shift";
import { SITE_LOCK } from "./rules/siteLock";
import { WEATHER } from "./rules/weather";
import { WEEKLY_HOURS } from "./rules/weeklyHours";

export interface Relaxation {
  rule: string;
  model: Model;
  /** Ranks relaxations that all work: what a manager would rather give, in the units of the weighted sum. */
  price: number;
  /** What has to be given, for the place found: "2 h more overtime". */
  says: (spot: Spot) => string;
}

const MORE_OVERTIME_MIN = [60, 120, 240];

/** All single relaxations that could matter for visit `v` (and its other end). */
export function relaxations(m: Model, v: number): Relaxation[] {
  const b = m.partner[v]!;
  const ends = b >= 0 ? [v, b] : [v];
  const list: Relaxation[] = [];
  const visits = ends.map((u) => m.problem.visits[u]!);
  const frozen = Math.max(0, m.problem.frozenUntilDay);

  const takesScarce = ends.some((u) => m.takesFrom[u + 1]! > m.takesFrom[u]!);
  if (takesScarce || visits.some((x) => x.kitReadyDay > Math.max(frozen, x.releaseDay)))
    list.push({
      rule: KIT.name,
      price: 300,
      model: {
        ...m,
        earliestDay: eachOf(m.earliestDay, ends, (u) =>
          Math.max(frozen, Math.ceil(m.problem.visits[u]!.releaseDay)),
        ),
        takesQuantity: withoutTakes(m, ends),
      },
      says: () => "the kit whole",
    });
  if (visits.some((x) => x.releaseDay > Math.max(frozen, x.kitReadyDay)))
    list.push({
      rule: RELEASE.name,
      price: 400,
      model: {
        ...m,
        earliestDay: eachOf(m.earliestDay, ends, (u) =>
          Math.max(frozen, Math.ceil(m.problem.visits[u]!.kitReadyDay)),
        ),
      },
      says: () => "its gates open",
    });
  if (ends.some((u) => m.noticeDay[u]! > m.earliestDay[u]!))
    list.push({
      rule: NOTICE.name,
      price: 100,
      model: { ...m, noticeDay: eachOf(m.noticeDay, ends, () => 0) },
      says: () => "access at shorter notice",
    });
  list.push({
    rule: PEOPLE.name,
    price: 500,
    model: { ...m, hasPeople: m.hasPeople.map(() => 1) },
    says: (spot) => lacking(m, visits, spot),
  });
  for (const min of MORE_OVERTIME_MIN)
    list.push({
      rule: SHIFT.name,
      price: 3 * min,
      model: { ...m, homeByMin: m.homeByMin.map((x) => x + min) },
      says: () => `${min / 60} h more overtime`,
    });
  list.push({
    rule: ACCESS.name,
    price: 200,
    model: {
      ...m,
      accessFrom: eachOf(m.accessFrom, ends.flatMap(weekOf), () => 0),
      accessTo: eachOf(m.accessTo, ends.flatMap(weekOf), () => 1440),
    },
    says: () => "the site open all day",
  });
  list.push({
    rule: WEATHER.name,
    price: 900,
    model: { ...m, masks: m.masks.map((x, u) => (ends.includes(u) ? x.map(() => 0xffffff) : x)) },
    says: () => "a day open for its work",
  });
  list.push({
    rule: SITE_LOCK.name,
    price: 250,
    model: { ...m, siteLock: m.siteLock.map(() => 0) },
    says: () => "a second crew on the site",
  });
  list.push({
    rule: WEEKLY_HOURS.name,
    price: 350,
    model: { ...m, weeklyMaxMin: m.weeklyMaxMin.map((x) => x + 480) },
    says: () => "8 h more in the week",
  });
  list.push({
    rule: PAYLOAD.name,
    price: 150,
    model: { ...m, payloadKg: m.payloadKg.map(() => Number.POSITIVE_INFINITY) },
    says: (spot) =>
      `${Math.round(m.loadKg[v]!)} kg carried besides what ${m.problem.crews[spot.crew]!.code} has room for`,
  });
  return list;
}

function withoutTakes(m: Model, visits: readonly number[]): Float64Array {
  const quantity = m.takesQuantity.slice();
  for (const v of visits) quantity.fill(0, m.takesFrom[v]!, m.takesFrom[v + 1]!);
  return quantity;
}

const weekOf = (u: number) => [0, 1, 2, 3, 4, 5, 6].map((w) => u * 7 + w);

function eachOf(old: Int32Array, at: readonly number[], value: (i: number) => number): Int32Array {
  const copy = old.slice();
  for (const i of at) copy[i] = value(i);
  return copy;
}

/** "1 technician more": what the crews of the place found are short of. */
function lacking(m: Model, visits: readonly Model["problem"]["visits"][number][], spot: Spot): string {
  const crews = spot.otherCrew >= 0 && visits.length > 1 ? [spot.crew, spot.otherCrew] : [spot.crew];
  for (const visit of visits)
    for (const c of crews) {
      const day = m.problem.crews[c]!.days[spot.day];
      if (day && NEEDS.some((x) => day[x] < visit.needs[x]))
        return `${PEOPLE.missing(visit.needs, day)} more`;
    }
  return "more people";
}
