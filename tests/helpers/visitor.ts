import type { Visitor } from "@/app/_server/carryOut";
import type { Role } from "@/db/schema/auth";

/** Somebody who is signed in with this role; a crew lead leads crew C1. */
export function visitorAs(role: Role, over: Partial<Visitor> = {}): Visitor {
  return {
    userId: `user-${role.replace(" ", "-")}`,
    name: role,
    email: `${role.replace(" ", "-")}@masts.example`,
    role,
    crewId: role === "crew lead" ? "C1" : null,
    regions: null,
    sessionId: `session-${role.replace(" ", "-")}`,
    ...over,
  };
}
