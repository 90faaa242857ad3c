/** The roles, in the words that screens use. */
import type { Words } from "@/app/_ui/language/words";
import { ROLES, type Role } from "@/db/schema/auth";
import { type Phrase, phrase } from "@/lib/phrase";

export { ROLES, type Role };

/** Who a role is, as a plural for sentences such as "This page is for ...". */
export const PEOPLE: Record<Role, string> = {
  administrator: "administrators",
  manager: "rollout managers",
  logistics: "logistics staff",
  "crew lead": "crew leads",
};

/** `["manager", "administrator"]` -> `rollout managers and administrators`. */
export const rolesInWords = (roles: readonly Role[], words: Pick<Words, "say">): string =>
  words.say(rolesPhrase(roles));

/** The same as a phrase, for sentences that are said later. */
export function rolesPhrase(roles: readonly Role[]): Phrase {
  const names = roles.map((role) => phrase(PEOPLE[role]));
  const last = names.pop();
  if (!last) return phrase("everybody who is signed in");
  const before = names.reduce<Phrase | undefined>(
    (a, b) => (a ? phrase("{{a}}, {{b}}", { a, b }) : b),
    undefined,
  );
  return before ? phrase("{{a}} and {{b}}", { a: before, b: last }) : last;
}

const HOME: Record<Role, string> = {
  administrator: "/programme",
  manager: "/programme",
  logistics: "/stock",
  "crew lead": "/week",
};

/** Where somebody begins the day: whoever is limited to regions at the lists, the others as their role asks. */
export function homeOf({ role, regions }: { role: Role; regions: readonly string[] | null }): string {
  return regions === null ? HOME[role] : "/sites";
}
