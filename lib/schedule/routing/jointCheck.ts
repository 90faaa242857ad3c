/** What can be wrong with a case of joint visits. */
import type { Problem } from "@/lib/result";
import type { JointCase } from "./joint";

export function checkJointCase(c: JointCase): Problem[] {
  const problems: Problem[] = [];
  const say = (path: string, value: unknown, message: string) =>
    problems.push({ path, rule: "joint-case", value, message, remedy: "Correct the case file." });
  const isIndex = (x: number, count: number) => Number.isInteger(x) && x >= 0 && x < count;
  if (!(Number.isInteger(c.crews) && c.crews >= 1)) say("crews", c.crews, "There must be a crew.");
  if (c.distance.length !== c.places ** 2)
    say("distance", c.distance.length, `There must be ${c.places ** 2} distances.`);
  if (!c.distance.every((d) => d >= 0 && d < Number.POSITIVE_INFINITY))
    say("distance", undefined, "Distances must be 0 or more.");
  c.visits.forEach((visit, i) => {
    const at = `visits[${i}]`;
    if (!isIndex(visit.place, c.places))
      say(`${at}.place`, visit.place, `Must be one of ${c.places} places.`);
    if (!(visit.due >= visit.ready)) say(`${at}.due`, visit.due, "Must not be before ready.");
    if (!(visit.gap.most >= visit.gap.least))
      say(`${at}.gap`, visit.gap, "The most must not be below the least.");
    visit.parts.forEach((part, p) => {
      // A circle of waits is told by time that runs away, so work takes time.
      if (!(part.duration > 0)) say(`${at}.parts[${p}].duration`, part.duration, "Must be above 0.");
      if (part.crews.length === 0) say(`${at}.parts[${p}].crews`, 0, "No crew has the skill.");
      if (!part.crews.every((k) => isIndex(k, c.crews)))
        say(`${at}.parts[${p}].crews`, part.crews, `Must be among ${c.crews} crews.`);
    });
    if (visit.parts.length === 2 && new Set(visit.parts.flatMap((part) => part.crews)).size < 2)
      say(`${at}.parts`, visit.parts.length, "Two parts need two crews.");
  });
  return problems;
}
