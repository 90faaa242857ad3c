import { matchPeople } from "./crew";
import { wantsOnGround } from "./endProject";
import type { CrewComposition, EndTask } from "./types";

/**
 * A schedule with names, made forward in time (parallel schedule generation): at each moment a task ends, the ready
 * tasks start in the order of their keys if their people are free and the drop zone allows it. Who has climbed stays
 * with the work aloft until the descent has ended.
 *
 * @param keys smaller starts first; ties by index
 * @returns null when this party leaves too few people on the ground for some task
 */
export function walkForward(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
  keys: readonly number[],
): { startsMin: number[]; people: number[][] } | null {
  const index = new Map(tasks.map((t, i) => [t.id, i]));
  const before = tasks.map((t) => t.after.map((id) => index.get(id)!));
  const byKey = tasks.map((_, i) => i).sort((a, b) => keys[a]! - keys[b]! || a - b);
  const startsMin = new Array<number>(tasks.length).fill(-1);
  const endsMin = new Array<number>(tasks.length).fill(Number.POSITIVE_INFINITY);
  const people: number[][] = tasks.map(() => []);
  const busy = new Array<boolean>(crew.people.length).fill(false);
  let running: number[] = [];
  let isUp = false;
  let now = 0;

  const staffFor = (t: EndTask): number[] | null => {
    if (t.everybody) return busy.includes(true) ? null : busy.map((_, p) => p);
    const freeParty = party.filter((p) => !busy[p]);
    let chosen: number[] = [];
    if (t.wholeParty) {
      if (freeParty.length < party.length) return null;
      chosen = [...party];
    } else if (t.where === "aloft") {
      const hands = t.people.climber ?? 0;
      if (freeParty.length < hands) return null;
      chosen = freeParty.slice(0, hands);
    }
    const free = busy.flatMap((b, p) => (b || chosen.includes(p) || (isUp && party.includes(p)) ? [] : [p]));
    const wants = t.wholeParty ? wantsOnGround(t).filter((s) => s !== "climber") : wantsOnGround(t);
    const others = matchPeople(
      wants,
      t.moves === "climb" ? free.filter((p) => !party.includes(p)) : free,
      crew.people,
    );
    return others && [...chosen, ...others];
  };
  const isZoneFree = (t: EndTask): boolean =>
    running.every((i) => !((t.atFoot && tasks[i]!.usesDropZone) || (t.usesDropZone && tasks[i]!.atFoot)));

  for (let left = tasks.length; left > 0; ) {
    let hasStarted = false;
    for (const i of byKey) {
      const t = tasks[i]!;
      if (startsMin[i]! >= 0 || !before[i]!.every((h) => endsMin[h]! <= now) || !isZoneFree(t)) continue;
      const staff = staffFor(t);
      if (!staff) continue;
      startsMin[i] = now;
      endsMin[i] = now + durationsMin[i]!;
      people[i] = staff;
      left--;
      hasStarted = true;
      running.push(i);
      for (const p of staff) busy[p] = true;
      if (t.moves === "climb") isUp = true;
    }
    // Tasks of no length end at once, and what waits for them may start in the same minute.
    if (running.length === 0) return hasStarted || left === 0 ? { startsMin, people } : null;
    now = Math.min(...running.map((i) => endsMin[i]!));
    for (const i of running) {
      if (endsMin[i]! > now) continue;
      for (const p of people[i]!) busy[p] = false;
      if (tasks[i]!.moves === "descent") isUp = false;
    }
    running = running.filter((i) => endsMin[i]! > now);
  }
  return { startsMin, people };
}
