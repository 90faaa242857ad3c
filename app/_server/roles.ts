/** The roles, in the words that screens use. */
import { ROLES, type Role } from "@/db/schema/auth";

export { ROLES, type Role };

/** Who a role is, as a plural for sentences such as "This page is for ...". */
const PEOPLE: Record<Role, string> = {
  administrator: "administrators",
  manager: "rollout managers",
  logistics: "logistics staff",
  "crew lead": "crew leads",
};

/** `["manager", "administrator"]` -> `rollout managers and administrators`. */
export function rolesInWords(roles: readonly Role[]): string {
  const names = roles.map((role) => PEOPLE[role]);
  const last = names.pop();
  if (!last) return "everybody who is signed in";
  return names.length === 0 ? last : `${names.join(", ")} and ${last}`;
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
