/**
 * What happens on site, minute by minute: crews drive, set up, wait for each other and for the weather, work and go
 * home. Written without the engine's code and by another way of thinking, to hold against it. No overtime, no nights.
 */
import type { PlacedVisit, ScheduleProblem } from "@/lib/schedule";

interface CrewNow {
  queue: PlacedVisit[];
  place: number;
  /** Minute of the day from which it is ready to work at its next visit; Infinity = not on the way. */
  readyAt: number;
  paid: Map<number, number>;
}

/** @returns end by visit, minutes from the first midnight; undefined = not within the problem's days */
export function whatHappens(
  problem: ScheduleProblem,
  placed: readonly PlacedVisit[],
  factors: readonly number[],
  openHours: readonly number[],
): (number | undefined)[] {
  const { visits, crews, places, travelMin } = problem;
  const way = (a: number, b: number) => travelMin[a * places.length + b]!;
  const ends: (number | undefined)[] = visits.map(() => undefined);
  const left = visits.map((v) => v.segments.map((s) => s.durationMin));
  const busyUntil = visits.map(() => 0);
  const now = crews.map((c, i): CrewNow => {
    const queue = placed.filter((p) => p.crew === i).sort((a, b) => a.startDay - b.startDay);
    return { queue, place: c.depotPlace, readyAt: Number.POSITIVE_INFINITY, paid: new Map() };
  });

  for (let day = 0; day < problem.dayCount && now.some((c) => c.queue.length > 0); day++) {
    const shifts = crews.flatMap((c) => c.days[day] ?? []);
    const [from, to] = [Math.min(...shifts.map((s) => s.fromMin)), Math.max(...shifts.map((s) => s.toMin))];
    for (let minute = from; minute < to; minute++) {
      now.forEach((crew, i) => {
        const shift = crews[i]!.days[day];
        if (!shift) return;
        if (minute === shift.fromMin) {
          crew.place = crews[i]!.depotPlace;
          crew.paid.clear();
          setOut(crew, day, minute);
        }
      });
      for (let i = 0; i < now.length; i++) workOneMinute(i, day, minute);
    }
  }
  return ends;

  function setOut(crew: CrewNow, day: number, minute: number): void {
    const next = crew.queue[0];
    crew.readyAt = Number.POSITIVE_INFINITY;
    if (!next || next.startDay > day) return;
    const { place, setupMin } = visits[next.visit]!;
    const due = Math.max(0, setupMin - (crew.paid.get(place) ?? 0));
    crew.readyAt = minute + way(crew.place, place) + due;
    crew.paid.set(place, (crew.paid.get(place) ?? 0) + due);
    crew.place = place;
  }

  /** May crew `i` work at its visit in this minute, as far as it alone is concerned? */
  function isThere(i: number, day: number, minute: number): boolean {
    const shift = crews[i]!.days[day];
    return !!shift && minute >= now[i]!.readyAt && minute < homeward(i, day);
  }

  function homeward(i: number, day: number): number {
    return crews[i]!.days[day]!.toMin - way(now[i]!.place, crews[i]!.depotPlace);
  }

  function workOneMinute(i: number, day: number, minute: number): void {
    const next = now[i]!.queue[0];
    if (!next || !isThere(i, day, minute)) return;
    const visit = visits[next.visit]!;
    const other = visit.togetherWith;
    const j = other === undefined ? -1 : placed.find((p) => p.visit === other)!.crew;
    if (j >= 0 && (j < i || now[j]!.queue[0]?.visit !== other || !isThere(j, day, minute))) return;
    const clock = day * 1440 + minute;
    if (visit.after.some((u) => ends[u] === undefined || ends[u]! > clock)) return;
    const pace = Math.max(crews[i]!.pace, j >= 0 ? crews[j]!.pace : 0);
    const factor = factors[next.visit]! * pace;
    const limit = Math.min(homeward(i, day), j >= 0 ? homeward(j, day) : 1440);
    const steps = left[next.visit]!;
    const isOpen = (m: number) => ((openHours[day]! >>> Math.floor(m / 60)) & 1) === 1;
    if (busyUntil[next.visit]! <= clock) {
      const k = steps.findIndex((s) => s > 0);
      if (!isOpen(minute)) return;
      if (visit.segments[k]!.splittable) {
        steps[k]! -= 1 / factor;
        if (steps[k]! * factor <= 1e-6) steps[k] = 0;
        busyUntil[next.visit] = clock + 1;
      } else {
        const need = Math.ceil(steps[k]! * factor - 1e-6);
        for (let m = minute; m < minute + need; m++) if (m >= limit || !isOpen(m)) return;
        steps[k] = 0;
        busyUntil[next.visit] = clock + need;
      }
    }
    if (steps.some((s) => s > 0) || busyUntil[next.visit]! > clock + 1) return;
    for (const [crew, v] of j >= 0
      ? ([
          [i, next.visit],
          [j, other!],
        ] as const)
      : [[i, next.visit] as const]) {
      ends[v] = clock + 1;
      now[crew]!.queue.shift();
      setOut(now[crew]!, day, minute + 1);
    }
  }
}
