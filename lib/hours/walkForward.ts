import { indexById } from "./closure";
import { matchPeople, worksAloft } from "./crew";
import { handsOfParty, wantsOnGround } from "./parties";
import type { CrewComposition, EndTask } from "./types";

/**
 * A schedule with names, made forward in time (parallel schedule generation): at each moment a task ends, the ready
 * tasks start in the order of their keys if their people are free and the drop zone allows it. Who has climbed stays
 * with the work aloft until the descent has ended.
 *
 * @param party who goes up; must leave the people on the ground that the tasks ask for (partiesOf)
 * @param keys smaller starts first; ties by index
 * @param climbNotBefore earliest start of the climbs, per task
 */
export function walkForward(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
  keys: readonly number[],
  climbNotBefore?: readonly number[],
): { startsMin: number[]; people: number[][] } {
  const walk = new Walk(tasks, durationsMin, crew, party, climbNotBefore);
  walk.run(tasks.map((_, i) => i).sort((a, b) => keys[a]! - keys[b]! || a - b));
  return { startsMin: walk.startsMin, people: walk.people };
}

/** State of one walk: who is busy, who is up, what runs. */
class Walk {
  readonly startsMin: number[];
  readonly people: number[][];
  readonly #tasks: readonly EndTask[];
  readonly #durationsMin: readonly number[];
  readonly #crew: CrewComposition;
  readonly #party: readonly number[];
  readonly #climbNotBefore: readonly number[] | undefined;
  readonly #waitsFor: number[];
  readonly #followers: number[][];
  readonly #isBusy: boolean[];
  readonly #isInParty: boolean[];
  #running: number[] = [];
  #isUp = false;
  #now = 0;

  constructor(
    tasks: readonly EndTask[],
    durationsMin: readonly number[],
    crew: CrewComposition,
    party: readonly number[],
    climbNotBefore: readonly number[] | undefined,
  ) {
    this.#tasks = tasks;
    this.#durationsMin = durationsMin;
    this.#crew = crew;
    this.#party = party;
    this.#climbNotBefore = climbNotBefore;
    this.startsMin = tasks.map(() => -1);
    this.people = tasks.map(() => []);
    this.#waitsFor = tasks.map((t) => t.after.length);
    this.#followers = tasks.map(() => []);
    const index = indexById(tasks);
    for (const [i, t] of tasks.entries()) for (const id of t.after) this.#followers[index.get(id)!]!.push(i);
    this.#isBusy = crew.people.map(() => false);
    this.#isInParty = crew.people.map((_, p) => party.includes(p));
  }

  run(byKey: readonly number[]): void {
    let waiting = byKey;
    while (waiting.length > 0) {
      const later: number[] = [];
      for (const i of waiting) if (!this.#tryToStart(i)) later.push(i);
      waiting = later;
      this.#advance(waiting);
    }
  }

  #tryToStart(i: number): boolean {
    const t = this.#tasks[i]!;
    if (this.#waitsFor[i]! > 0 || !this.#isZoneFree(t)) return false;
    if (t.moves === "climb" && (this.#climbNotBefore?.[i] ?? 0) > this.#now) return false;
    const staff = this.#staffFor(t);
    if (!staff) return false;
    this.startsMin[i] = this.#now;
    this.people[i] = staff;
    this.#running.push(i);
    for (const p of staff) this.#isBusy[p] = true;
    if (t.moves === "climb") this.#isUp = true;
    return true;
  }

  /** To the next moment at which something ends, or a held-back climb may start. */
  #advance(waiting: readonly number[]): void {
    let next = Number.POSITIVE_INFINITY;
    for (const i of this.#running) next = Math.min(next, this.#endMin(i));
    for (const i of waiting) {
      const held = this.#tasks[i]!.moves === "climb" ? (this.#climbNotBefore?.[i] ?? 0) : 0;
      if (held > this.#now && this.#waitsFor[i] === 0) next = Math.min(next, held);
    }
    if (next === Number.POSITIVE_INFINITY) {
      if (waiting.length === 0) return;
      throw new RangeError(`nobody is there for task ${this.#tasks[waiting[0]!]!.id}`);
    }
    this.#now = next;
    const running: number[] = [];
    for (const i of this.#running) {
      if (this.#endMin(i) > next) {
        running.push(i);
        continue;
      }
      for (const p of this.people[i]!) this.#isBusy[p] = false;
      for (const j of this.#followers[i]!) this.#waitsFor[j]!--;
      if (this.#tasks[i]!.moves === "descent") this.#isUp = false;
    }
    this.#running = running;
  }

  #endMin(i: number): number {
    return this.startsMin[i]! + this.#durationsMin[i]!;
  }

  #isZoneFree(t: EndTask): boolean {
    if (!t.atFoot && !t.usesDropZone) return true;
    return this.#running.every((i) => {
      const u = this.#tasks[i]!;
      return !((t.atFoot && u.usesDropZone) || (t.usesDropZone && u.atFoot));
    });
  }

  #staffFor(t: EndTask): number[] | null {
    if (t.everybody) return this.#isBusy.includes(true) ? null : this.#isBusy.map((_, p) => p);
    const hands = handsOfParty(t, this.#party.length);
    const freeParty = this.#party.filter((p) => !this.#isBusy[p]);
    if (freeParty.length < hands) return null;
    const chosen = freeParty.slice(0, hands);
    const wants = wantsOnGround(t);
    if (wants.length === 0) return chosen;
    const isPartyAway = this.#isUp || worksAloft(t);
    const free = this.#isBusy.flatMap((isBusy, p) =>
      isBusy || chosen.includes(p) || (isPartyAway && this.#isInParty[p]) ? [] : [p],
    );
    const others = matchPeople(wants, free, this.#crew.people);
    return others && [...chosen, ...others];
  }
}
