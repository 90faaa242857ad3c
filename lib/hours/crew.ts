import { DEFAULT_NORMS } from "./norms";
import { betweenAloft, worksAloft } from "./taskOrder";
import type { CrewComposition, CrewNeeds, CrewShortfall, EndTask, HourNorms, Skill } from "./types";

type SiteRules = Pick<HourNorms, "climbersAloft" | "rescuersOnSite" | "peopleWhileHoisting">;

/**
 * Fewest people by skill with whom the tasks may be done at all, site rules included: nobody alone aloft, a
 * rescue-trained person on site while anyone is aloft, three people at least while hoisting (defaults from memory,
 * common practice; the site's own rules come first).
 */
export function crewNeeds(tasks: readonly EndTask[], rules: SiteRules = DEFAULT_NORMS): CrewNeeds {
  const most = (skill: Skill): number => Math.max(0, ...tasks.map((t) => t.people[skill] ?? 0));
  const isAloft = tasks.some(worksAloft);
  const together = tasks.map((t) => Object.values(t.people).reduce((sum, n) => sum + n, 0));
  const hoisting = tasks.some((t) => t.workClass === "hoist") ? rules.peopleWhileHoisting : 0;
  return {
    climbers: isAloft ? Math.max(rules.climbersAloft, most("climber")) : most("climber"),
    rescuers: Math.max(most("rescue"), isAloft ? rules.rescuersOnSite : 0),
    riggers: most("rigger"),
    technicians: most("technician"),
    people: Math.max(0, hoisting, ...together),
  };
}

/**
 * The crew with what it lacks borrowed, so that the hours can be estimated at all, and the list of what was borrowed.
 * Skills first by count, then as many ground hands as a lift needs beside the climbers who are up.
 */
export function completeCrew(
  crew: CrewComposition,
  tasks: readonly EndTask[],
  norms: HourNorms,
): { crew: CrewComposition; shortfall: readonly CrewShortfall[] } {
  const needs = crewNeeds(tasks, norms);
  const people = crew.people.map((skills) => [...skills]);
  const missing = new Map<Skill, number>();
  const borrow = (skill: Skill): void => {
    people.push([skill]);
    missing.set(skill, (missing.get(skill) ?? 0) + 1);
  };
  const count = (skill: Skill): number => people.filter((p) => p.includes(skill)).length;
  const bySkill: [Skill, number][] = [
    ["climber", needs.climbers],
    ["rigger", needs.riggers],
    ["technician", needs.technicians],
  ];
  for (const [skill, need] of bySkill) while (count(skill) < need) borrow(skill);
  const groundTasks = tasks.filter((t) => (t.people.ground ?? 0) > 0);
  const between = betweenAloft(tasks);
  const climbersUp = (t: EndTask): number => (between.has(t.id) ? norms.climbersAloft : 0);
  while (!groundTasks.every((t) => canStaff(people, t, climbersUp(t)))) {
    borrow("ground");
  }
  // Rescue is presence on site, not hands: a crew that lacks it is told so, and its hours stay as they are.
  const rescuersShort = needs.rescuers - count("rescue");
  if (rescuersShort > 0) missing.set("rescue", rescuersShort);
  const shortfall = [...missing].map(([skill, n]) => ({ skill, missing: n }));
  return { crew: { people }, shortfall };
}

/** Are there distinct people for the task, with so many climbers up and not counted on the ground? */
function canStaff(people: readonly (readonly Skill[])[], task: EndTask, climbersUp: number): boolean {
  const wants: Skill[] = [];
  for (const [skill, n] of Object.entries(task.people)) {
    for (let i = 0; i < n; i++) wants.push(skill as Skill);
  }
  for (let i = task.people.climber ?? 0; i < climbersUp; i++) wants.push("climber");
  return (
    matchPeople(
      wants,
      people.map((_, i) => i),
      people,
    ) !== null
  );
}

/**
 * Distinct people for the wanted skills, those with the fewest skills first, or null when there are none.
 * Augmenting paths (a bipartite matching); wants and people are few.
 */
export function matchPeople(
  wants: readonly Skill[],
  free: readonly number[],
  people: readonly (readonly Skill[])[],
): number[] | null {
  const byFewestSkills = [...free].sort((a, b) => people[a]!.length - people[b]!.length || a - b);
  const holder = new Map<number, number>();
  const give = (want: number, tried: Set<number>): boolean => {
    for (const person of byFewestSkills) {
      if (tried.has(person) || !people[person]!.includes(wants[want]!)) continue;
      tried.add(person);
      const other = holder.get(person);
      if (other === undefined || give(other, tried)) {
        holder.set(person, want);
        return true;
      }
    }
    return false;
  };
  for (let w = 0; w < wants.length; w++) if (!give(w, new Set())) return null;
  return [...holder.keys()].sort((a, b) => a - b);
}
