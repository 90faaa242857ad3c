import { precedenceOrder } from "./cpm";
import { bitCount, reachability } from "./generation";
import { handsOfParty, wantsOnGround } from "./parties";
import type { Project, ProjectSpan } from "./project";
import { indexById, worksAloft } from "./taskOrder";
import type { CrewComposition, EndTask, Skill } from "./types";

/**
 * One end's tasks as a project with plain resources, for a crew of which `party` goes up.
 *
 * - People: by Hall's theorem tasks can be staffed at one moment exactly when, for every group of people, those who
 *   can only be served from the group ask for no more than the group has. Each such group is a resource.
 * - The party is taken from the start of each climb to the end of its descent (a span), whatever it does aloft, and
 *   no longer than the longest spell.
 * - Hands aloft: what the party can do at once.
 * - Drop zone: resources that a task at the foot takes whole and any overhead work in part (footChains).
 *
 * Exact at every moment; it lets people swap in the middle of a task, which staffing.ts then forbids.
 */
export function projectFor(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
  longestSpellMin: number,
): Project & { spans: readonly ProjectSpan[] } {
  const index = indexById(tasks);
  const successors: number[][] = tasks.map(() => []);
  for (const [i, t] of tasks.entries()) for (const id of t.after) successors[index.get(id)!]!.push(i);
  const capacities: number[] = [];
  const demands: number[][] = tasks.map(() => []);
  const spans = ascentSpans(tasks).map((s) => ({
    ...s,
    demands: [] as number[],
    longest: longestSpellMin,
  }));
  const { isBefore } = reachability(
    successors,
    precedenceOrder(tasks.map((t) => t.after.map((id) => index.get(id)!))),
  );
  const isAlone = (asks: readonly number[], ofSpan: number): boolean => {
    const users: { first: number; last: number }[] = asks.flatMap((n, i) =>
      n > 0 ? [{ first: i, last: i }] : [],
    );
    if (ofSpan > 0) users.push(...spans);
    return users.every((a, k) =>
      users.slice(k + 1).every((b) => isBefore(a.last, b.first) || isBefore(b.last, a.first)),
    );
  };
  const add = (capacity: number, ofTask: (t: EndTask) => number, ofSpan: number): void => {
    const asks = tasks.map(ofTask);
    // A resource that never binds costs time and tells nothing.
    if (asks.reduce((sum, n) => sum + n, ofSpan * spans.length) <= capacity || isAlone(asks, ofSpan)) return;
    capacities.push(capacity);
    for (const [i, n] of asks.entries()) demands[i]!.push(n);
    for (const s of spans) s.demands.push(ofSpan);
  };
  const size = party.length;
  const wants = new Map(tasks.map((t) => [t, wantsOnGround(t)]));
  // Who works aloft is already counted by the span of the ascent.
  const isHeld = (t: EndTask): boolean => spans.length > 0 && t.ascent !== undefined;
  for (const group of groupsOf(tasks, crew, party)) {
    add(
      group.size,
      (t) => {
        if (t.everybody) return group.size;
        const hands = isHeld(t) || !group.holdsParty ? 0 : handsOfParty(t, size);
        return hands + wants.get(t)!.filter((s) => group.skills.has(s)).length;
      },
      group.holdsParty ? size : 0,
    );
  }
  add(size, (t) => (worksAloft(t) ? handsOfParty(t, size) : 0), 0);
  for (const chain of footChains(tasks, isBefore)) {
    const overhead = (t: EndTask): number => (t.usesDropZone ? Math.max(1, handsOfParty(t, size)) : 0);
    add(size, (t) => (chain.has(t) ? size : overhead(t)), 0);
  }
  return { durations: durationsMin, successors, demands, capacities, spans };
}

/**
 * Tasks at the foot that might meet overhead work, in groups that follow each other anyway: one drop-zone resource
 * serves a whole group.
 */
function footChains(
  tasks: readonly EndTask[],
  isBefore: (i: number, j: number) => boolean,
): ReadonlySet<EndTask>[] {
  const isOrdered = (i: number, j: number): boolean => isBefore(i, j) || isBefore(j, i);
  const chains: number[][] = [];
  for (const [i, t] of tasks.entries()) {
    if (!t.atFoot || !tasks.some((u, j) => u.usesDropZone && !isOrdered(i, j))) continue;
    const chain = chains.find((members) => members.every((j) => isOrdered(i, j)));
    if (chain) chain.push(i);
    else chains.push([i]);
  }
  return chains.map((members) => new Set(members.map((i) => tasks[i]!)));
}

/** From each climb to the descent of the same ascent, as task indices. */
export function ascentSpans(tasks: readonly EndTask[]): { first: number; last: number }[] {
  return tasks.flatMap((t, first) => {
    if (t.moves !== "climb") return [];
    const last = tasks.findIndex((u) => u.moves === "descent" && u.ascent === t.ascent);
    return last < 0 ? [] : [{ first, last }];
  });
}

/** Every union of "holders of a skill" and "the party", with the skills that only its people have. */
function groupsOf(
  tasks: readonly EndTask[],
  crew: CrewComposition,
  party: readonly number[],
): { size: number; skills: ReadonlySet<Skill>; holdsParty: boolean }[] {
  const skills = [...new Set(tasks.flatMap(wantsOnGround))].sort();
  const bits = (people: readonly number[]): number => people.reduce((sum, p) => sum | (1 << p), 0);
  const holders = skills.map((s) => bits(crew.people.flatMap((p, i) => (p.includes(s) ? [i] : []))));
  const partyBits = bits(party);
  const sets = [...holders, partyBits];
  const unions = new Set<number>([2 ** crew.people.length - 1]);
  for (let choice = 1; choice < 1 << sets.length; choice++) {
    unions.add(sets.reduce((sum, set, k) => (choice & (1 << k) ? sum | set : sum), 0));
  }
  return [...unions].map((group) => ({
    size: bitCount(group),
    skills: new Set(skills.filter((_, s) => (holders[s]! & ~group) === 0)),
    holdsParty: (partyBits & ~group) === 0 && party.length > 0,
  }));
}
