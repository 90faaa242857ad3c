/**
 * Is a plan legal? Rule by rule, minute by minute, in the plainest way: this file shares with the engine the types
 * and the words, none of its code, so that a mistake there shows here. Slow on purpose.
 *
 * The rules it holds a plan to are written down in docs/methods/schedule.md, "Hard rules".
 */
import { weekdayOf } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";
import { amountOf, counted } from "./counted";
import type { BrokenRule, PlacedVisit, Plan, PlanVisit, ScheduleProblem } from "./types";

/** What visits need of a crew, and one of them. */
const HEADS = [
  ["climbers", "climber"],
  ["rescuers", "rescuer"],
  ["riggers", "rigger"],
  ["technicians", "technician"],
  ["people", "person"],
] as const;

/** A stay of a crew on a site on one day, set-up included; `from` and `to` are minutes of that day. */
interface Stay {
  visit: number;
  crew: number;
  day: number;
  from: number;
  to: number;
}

export function judge(
  problem: ScheduleProblem,
  plan: Pick<Plan, "placed" | "unplaced" | "nights">,
): BrokenRule[] {
  const broken: BrokenRule[] = [];
  const usable = checkNumbers(problem, plan, broken);
  if (!usable) return broken;
  const placedOf = new Map(plan.placed.map((x) => [x.visit, x]));
  const stays: Stay[] = [];
  checkKept(problem, placedOf, broken);
  checkSupplies(problem, placedOf.values(), broken);
  for (const x of plan.placed) checkVisit(problem, placedOf, x, broken);
  for (let crew = 0; crew < problem.crews.length; crew++)
    checkCrew(problem, plan, placedOf, crew, stays, broken);
  checkSiteLock(problem, stays, broken);
  return broken;
}

/** Every visit exactly once, placed or unplaced, with numbers that exist. Nothing else can be read otherwise. */
function checkNumbers(
  p: ScheduleProblem,
  plan: Pick<Plan, "placed" | "unplaced" | "nights">,
  broken: BrokenRule[],
): boolean {
  const times = new Array<number>(p.visits.length).fill(0);
  let usable = true;
  const bad = (message: string, visit?: number) => {
    broken.push({ rule: "whole plan", visit, message });
    usable = false;
  };
  for (const x of plan.placed) {
    if (!p.visits[x.visit]) bad(`visit ${x.visit} does not exist`);
    else if (!p.crews[x.crew]) bad(`crew ${x.crew} does not exist`, x.visit);
    else if (!(x.startDay >= 0 && x.endDay < p.dayCount && x.startDay <= x.endDay))
      bad(`${p.visits[x.visit]!.label} lies outside the plan's days`, x.visit);
    else times[x.visit]!++;
  }
  for (const x of plan.unplaced) if (p.visits[x.visit]) times[x.visit]!++;
  times.forEach((n, v) => {
    if (n !== 1) bad(`${p.visits[v]!.label} is listed ${n} times instead of once`, v);
  });
  for (const n of plan.nights ?? [])
    if (!p.crews[n.crew] || !p.places[n.place] || !(n.day >= 0 && n.day < p.dayCount))
      bad("a night away names what does not exist");
  return usable;
}

/** Kits begun by a day take no more of a scarce item than has come by that day. */
function checkSupplies(p: ScheduleProblem, placed: Iterable<PlacedVisit>, broken: BrokenRule[]): void {
  const starts = [...placed].sort((a, b) => a.startDay - b.startDay);
  (p.scarce ?? []).forEach((item, i) => {
    let taken = 0;
    starts.forEach((x, k) => {
      taken += p.visits[x.visit]!.takes?.find((t) => t.item === i)?.quantity ?? 0;
      const isDayDone = starts[k + 1]?.startDay !== x.startDay;
      const come = item.byDay[x.startDay]!;
      if (!isDayDone || taken <= come + 1e-6) return;
      broken.push({
        rule: "kit",
        day: x.startDay,
        other: i,
        over: taken - come,
        message: `kits begun by day ${x.startDay} take ${amountOf(item, taken)} of ${item.code}, of which ${amountOf(item.unit === "m" ? item : {}, come)} have come`,
      });
    });
  });
}

function checkKept(p: ScheduleProblem, placedOf: Map<number, PlacedVisit>, broken: BrokenRule[]): void {
  const same = (a: PlacedVisit, b: PlacedVisit | undefined) =>
    b !== undefined && a.crew === b.crew && a.startDay === b.startDay && a.startMin === b.startMin;
  const stated = new Set(p.pinned.map((x) => x.visit));
  for (const x of p.pinned)
    if (!same(x, placedOf.get(x.visit)))
      broken.push({
        rule: "kept",
        visit: x.visit,
        message: `${p.visits[x.visit]!.label} is pinned and was moved`,
      });
  const underWay = p.underWay ?? [];
  for (const x of underWay)
    if (!same(x, placedOf.get(x.visit)))
      broken.push({
        rule: "kept",
        visit: x.visit,
        message: `${p.visits[x.visit]!.label} is under way and was moved`,
      });
  for (const x of underWay) stated.add(x.visit);
  const frozen = (p.inForce ?? []).filter(
    (x) => x.startDay >= 0 && x.endDay < p.dayCount && x.startDay < p.frozenUntilDay,
  );
  for (const x of frozen)
    if (!stated.has(x.visit) && !same(x, placedOf.get(x.visit)))
      broken.push({
        rule: "kept",
        visit: x.visit,
        message: `${p.visits[x.visit]!.label} lies in the frozen days and was moved`,
      });
  const wasFrozen = new Set(frozen.map((x) => x.visit));
  for (const x of placedOf.values())
    if (x.startDay < p.frozenUntilDay && !wasFrozen.has(x.visit) && !stated.has(x.visit))
      broken.push({
        rule: "kept",
        visit: x.visit,
        day: x.startDay,
        message: `${p.visits[x.visit]!.label} is new in the frozen days`,
      });
}

/** What one visit asks for, whoever does it. */
function checkVisit(
  p: ScheduleProblem,
  placedOf: Map<number, PlacedVisit>,
  x: PlacedVisit,
  broken: BrokenRule[],
): void {
  const visit = p.visits[x.visit]!;
  const say = (rule: string, message: string, other?: number) =>
    broken.push({
      rule,
      visit: x.visit,
      crew: x.crew,
      day: x.startDay,
      other,
      message: `${visit.label}: ${message}`,
    });
  const daysUntil = (day: number) => counted(Math.ceil(day - x.startDay), "day");
  if (visit.blockedBy !== undefined) say(visit.blockedRule ?? "gate", visit.blockedBy);
  if (x.startDay < visit.releaseDay)
    say("gate", `starts ${daysUntil(visit.releaseDay)} before its gates are open`);
  if (x.startDay < visit.kitReadyDay)
    say("kit", `starts ${daysUntil(visit.kitReadyDay)} before its kit can be whole`);
  const told = p.inForce?.some((y) => y.visit === x.visit && y.startDay === x.startDay);
  if (x.startDay < visit.noticeDays && !told)
    say("notice", `the site wants ${counted(visit.noticeDays, "day's", "days'")} notice`);
  for (const u of visit.after) {
    const before = placedOf.get(u);
    if (!before) say("order", `is placed but waits for ${p.visits[u]!.label}, which is not`, u);
    else if (before.endDay * 1440 + before.endMin > x.startDay * 1440 + x.startMin)
      say("order", `starts before ${p.visits[u]!.label} ends`, u);
  }
  if (visit.togetherWith !== undefined) {
    const other = placedOf.get(visit.togetherWith);
    const label = p.visits[visit.togetherWith]!.label;
    if (!other) say("together", `${label} at the other end is not placed`);
    else if (other.crew === x.crew) say("together", "both ends are given to the same crew");
    else if (other.startDay !== x.startDay || other.startMin !== x.startMin)
      say("together", `does not start with ${label}`);
    else if (other.endDay !== x.endDay || other.endMin !== x.endMin)
      say("together", `does not end with ${label}`);
  }
}

/** One crew from day to day: calendar, people, way, set-up, work, evening, night, week. */
function checkCrew(
  p: ScheduleProblem,
  plan: Pick<Plan, "placed" | "nights">,
  placedOf: Map<number, PlacedVisit>,
  c: number,
  stays: Stay[],
  broken: BrokenRule[],
): void {
  const crew = p.crews[c]!;
  const mine = plan.placed
    .filter((x) => x.crew === c)
    .sort(
      (a, b) =>
        a.startDay - b.startDay || a.startMin - b.startMin || a.endDay - b.endDay || a.endMin - b.endMin,
    );
  const say = (rule: string, day: number, message: string, visit?: number, over?: number) =>
    broken.push({ rule, crew: c, day, visit, over, message: `${crew.code}, day ${day}: ${message}` });
  const sleepsAt = new Map((plan.nights ?? []).filter((n) => n.crew === c).map((n) => [n.day, n.place]));
  const way = (a: number, b: number) => Math.ceil(p.travelMin[a * p.places.length + b]! - 1e-9); // whole minutes
  const remaining = new Map(mine.map((x) => [x.visit, workOf(p, p.visits[x.visit]!)]));

  const weekMin = new Map<number, number>();
  const monday = weekdayOf(p.firstDay) - 1;
  let nightsInARow = 0;
  let loadKg = 0;
  let lastEnd: number | undefined; // end of the last worked day, minutes from the first midnight

  for (let day = 0; day < p.dayCount; day++) {
    const shift = crew.days[day];
    const here = mine.filter((x) => x.startDay <= day && day <= x.endDay);
    if (!shift) {
      for (const x of here)
        if (x.startDay === day || x.endDay === day)
          say(
            "calendar",
            day,
            `${p.visits[x.visit]!.label} on a day on which the crew does not work`,
            x.visit,
          );
      if (sleepsAt.has(day)) say("nights away", day, "a night away without a day's work");
      continue;
    }
    const wokeAt = sleepsAt.get(day - 1);
    if (wokeAt === undefined) {
      nightsInARow = 0;
      loadKg = 0;
    }
    if (here.length === 0) {
      if (wokeAt !== undefined || sleepsAt.has(day))
        say("nights away", day, "a night away without work next to it");
      continue;
    }
    let time = shift.fromMin;
    let place = wokeAt ?? crew.depotPlace;
    let moved = false;
    let setUpAt = -1;
    let setUpFor = 0;
    here.forEach((x, i) => {
      const visit = p.visits[x.visit]!;
      const starts = x.startDay === day;
      const ends = x.endDay === day;
      const say1 = (rule: string, message: string) => say(rule, day, `${visit.label} ${message}`, x.visit);
      for (const [need, one] of HEADS)
        if (shift[need] < visit.needs[need])
          say1("people", `needs ${counted(visit.needs[need], one, need)}, the crew has ${shift[need]}`);
      const open = visit.access[(monday + day) % 7];
      if (!open && (starts || ends)) say1("access", "on a day on which the site is closed");
      if (!ends && i < here.length - 1)
        say1("shift", "goes on the next day, yet other work follows it today");
      if (starts) loadKg += visit.loadKg;

      const due = setUpAt === visit.place ? Math.max(0, visit.setupMin - setUpFor) : visit.setupMin;
      const arrives = time + way(place, visit.place);
      const ready = Math.max(arrives, open?.fromMin ?? 0) + due;
      if (starts && ready > x.startMin) {
        const late = `starts at ${clock(x.startMin)}; with way, access and set-up it can start at ${clock(ready)}`;
        say1(arrives + due > x.startMin ? "shift" : "access", late);
      }
      const back = sleepsAt.get(day) === visit.place && !ends ? 0 : way(visit.place, crew.depotPlace);
      const closes = open?.toMin ?? 0;
      const limit = ends ? x.endMin : Math.min(closes, shift.toMin - back);
      const from = starts ? x.startMin : Math.ceil(ready);
      const run = workThrough(p, placedOf, x, remaining.get(x.visit)!, day, from, limit, ends);
      if (starts && run.first !== x.startMin)
        say1("weather", `has no workable minute at its start, ${clock(x.startMin)}`);
      if (ends) {
        if (remaining.get(x.visit)!.length > 0)
          say1(
            "work",
            `ends at ${clock(x.endMin)} with ${span(workLeft(remaining.get(x.visit)!))} of work left: too short for its hours and weather`,
          );
        else if (Math.abs(run.last - x.endMin) > 1)
          say1("work", `is done at ${clock(run.last)}, not at ${clock(x.endMin)}`);
        if (x.endMin > closes)
          say1("access", `ends at ${clock(x.endMin)}, the site closes at ${clock(closes)}`);
      } else if (remaining.get(x.visit)!.length === 0) say1("work", "goes on although all its work is done");
      if (run.first < 0) return; // nothing to do today: the crew stays where it is
      stays.push({ visit: x.visit, crew: c, day, from: run.first - due, to: run.last });
      setUpFor = setUpAt === visit.place ? setUpFor + due : due;
      setUpAt = visit.place;
      time = run.last;
      place = visit.place;
      moved = true;
    });

    const night = sleepsAt.get(day);
    if (night !== undefined) {
      nightsInARow++;
      if (night !== place) say("nights away", day, "the night is not where the day's work ended");
      if (!crew.days[day + 1]) say("nights away", day, "a night away before a day off");
      if (nightsInARow > crew.nightsAwayMax)
        say(
          "nights away",
          day,
          `${counted(nightsInARow, "night")} in a row, ${crew.nightsAwayMax} allowed`,
          undefined,
          nightsInARow - crew.nightsAwayMax,
        );
    } else if (place !== crew.depotPlace) {
      time += way(place, crew.depotPlace);
      moved = true;
    }
    if (time > shift.toMin + crew.overtimeMaxMin)
      say(
        "shift",
        day,
        `ends at ${clock(time)}, ${clock(shift.toMin)} with ${span(crew.overtimeMaxMin)} of overtime is the limit`,
        undefined,
        time - shift.toMin - crew.overtimeMaxMin,
      );
    const restMin = lastEnd === undefined ? crew.restMin : day * 1440 + shift.fromMin - lastEnd;
    if (restMin < crew.restMin)
      say("rest", day, `only ${span(restMin)} of rest before the shift`, undefined, crew.restMin - restMin);
    if (loadKg > crew.payloadKg)
      say(
        "payload",
        day,
        `the load is ${loadKg} kg, the vehicle takes ${crew.payloadKg} kg`,
        undefined,
        loadKg - crew.payloadKg,
      );
    if (!moved) continue;
    lastEnd = day * 1440 + time;
    const week = Math.floor((monday + day) / 7);
    weekMin.set(week, (weekMin.get(week) ?? 0) + time - shift.fromMin);
  }
  for (const [week, min] of weekMin)
    if (min > crew.weeklyMaxMin)
      broken.push({
        rule: "weekly hours",
        crew: c,
        day: Math.max(0, week * 7 - monday),
        over: min - crew.weeklyMaxMin,
        message: `${crew.code}, week of day ${Math.max(0, week * 7 - monday)}: ${span(min)} in the week, ${span(crew.weeklyMaxMin)} allowed`,
      });
}

/** Steps still to do; the ends of joint work both stay for the longer of their steps. */
type Work = { workClass: number; leftMin: number; splittable: boolean }[];

function workOf(p: ScheduleProblem, visit: PlanVisit): Work {
  const other = visit.togetherWith === undefined ? undefined : p.visits[visit.togetherWith]!;
  return visit.segments.map((s, i) => ({
    workClass: WORK_CLASSES.indexOf(s.workClass),
    leftMin: Math.max(s.durationMin, other?.segments[i]?.durationMin ?? 0),
    splittable: s.splittable,
  }));
}

/** Takes minutes off `work` from `from` until `limit`; first = -1 when none could be worked. */
function workThrough(
  p: ScheduleProblem,
  placedOf: Map<number, PlacedVisit>,
  x: PlacedVisit,
  work: Work,
  day: number,
  from: number,
  limit: number,
  lastDay: boolean,
): { first: number; last: number } {
  const ends = [x];
  const other = placedOf.get(p.visits[x.visit]!.togetherWith ?? -1);
  if (other) ends.push(other);
  const factor = Math.max(
    ...ends.map((y) => {
      const { pace, paceByKind } = p.crews[y.crew]!;
      const visit = p.visits[y.visit]!;
      return pace * (paceByKind?.[visit.paceKind ?? 0] ?? 1) * p.windows[visit.window]!.stretch[day]!;
    }),
  );
  const isOpen = (workClass: number, minute: number) =>
    ends.every((y) => {
      const mask = p.windows[p.visits[y.visit]!.window]!.masks[workClass * p.dayCount + day]!;
      return ((mask >>> Math.floor(minute / 60)) & 1) === 1;
    });
  const until = Math.min(limit, 1440);
  let first = -1;
  let last = from;
  let minute = from;
  while (work.length > 0 && minute < until) {
    const step = work[0]!;
    if (!isOpen(step.workClass, minute)) {
      minute++;
      continue;
    }
    if (!step.splittable) {
      const need = Math.ceil(step.leftMin * factor - 1e-6);
      let unbroken = 0;
      while (unbroken < need && minute + unbroken < until && isOpen(step.workClass, minute + unbroken))
        unbroken++;
      if (unbroken < need) {
        minute++;
        continue;
      }
      if (first < 0) first = minute;
      minute += need;
      work.shift();
    } else {
      if (first < 0) first = minute;
      step.leftMin -= 1 / factor;
      minute++;
      if (step.leftMin * factor <= 1e-6) work.shift();
    }
    last = minute;
  }
  // A minute lost to rounding over several days is not a fault.
  if (lastDay && work.length === 1 && work[0]!.splittable && work[0]!.leftMin * factor <= 1) work.shift();
  return { first, last };
}

function checkSiteLock(p: ScheduleProblem, stays: readonly Stay[], broken: BrokenRule[]): void {
  const byPlaceAndDay = new Map<string, Stay[]>();
  for (const stay of stays) {
    const key = `${p.visits[stay.visit]!.place}/${stay.day}`;
    byPlaceAndDay.set(key, [...(byPlaceAndDay.get(key) ?? []), stay]);
  }
  for (const here of byPlaceAndDay.values())
    here.forEach((a, i) => {
      for (const b of here.slice(i + 1)) {
        const [u, v] = [p.visits[a.visit]!, p.visits[b.visit]!];
        if (a.crew === b.crew || u.togetherWith === b.visit || !(u.siteLock || v.siteLock)) continue;
        if (a.from < b.to && b.from < a.to) {
          const site = p.places[u.place]!.code;
          const message = `${p.crews[a.crew]!.code} and ${p.crews[b.crew]!.code} are on ${site} at the same time (day ${a.day})`;
          broken.push({
            rule: "site lock",
            visit: b.visit,
            crew: b.crew,
            day: a.day,
            other: a.visit,
            message,
          });
        }
      }
    });
}

/** 07:05; over 24:00 for the small hours of the next day. */
function clock(min: number): string {
  const m = Math.round(min);
  return `${String(Math.floor(m / 60)).padStart(2, "0")}:${String(m % 60).padStart(2, "0")}`;
}

/** "50 h 9 min", "45 min": as people say how long. */
function span(min: number): string {
  const whole = Math.round(min);
  const parts = [Math.floor(whole / 60), whole % 60] as const;
  return parts[0] === 0
    ? `${parts[1]} min`
    : parts[1] === 0
      ? `${parts[0]} h`
      : `${parts[0]} h ${parts[1]} min`;
}

const workLeft = (segments: readonly { leftMin: number }[]): number =>
  segments.reduce((sum, s) => sum + s.leftMin, 0);
