/** Who is asking. Every page that is not public begins with `requireRole`. */
import { headers } from "next/headers";
import { forbidden, redirect } from "next/navigation";
import { cache } from "react";
import { database } from "@/db/open";
import { personById } from "@/db/queries/accounts";
import type { Role } from "@/db/schema/auth";
import { auth } from "./auth";
import { mayAct, type Visitor } from "./carryOut";

export type { Visitor };

/** The header in which proxy.ts hands down the address of the page. */
export const PATH_HEADER = "x-bothends-path";

/** Who is signed in with these headers' cookie; undefined for nobody and for closed accounts. */
export async function visitorOf(requestHeaders: Headers): Promise<Visitor | undefined> {
  const found = await auth().api.getSession({ headers: requestHeaders });
  const person = found ? personById(database(), found.user.id) : undefined;
  if (!found || !person || person.disabledAt) return undefined;
  const { id, name, email, role, crewId, regions } = person;
  return { userId: id, name, email, role, crewId, regions, sessionId: found.session.id };
}

/** The visitor of the current request, read once per request. */
export const currentVisitor = cache(async (): Promise<Visitor | undefined> => visitorOf(await headers()));

/** What a page asked for in this request and did not get, for app/forbidden.tsx to say. */
const asked = cache((): { roles: readonly Role[]; isForAllRegions: boolean } => ({
  roles: [],
  isForAllRegions: false,
}));

export function refusedPage(): { roles: readonly Role[]; isForAllRegions: boolean } {
  return asked();
}

/**
 * The visitor of a page that shows only what lies in the visitor's regions (regions.ts), when signed in with one of
 * `roles` (none given: with any). Otherwise does not return: to /sign-in and back here afterwards, or to the page that
 * says for whom this one is.
 */
export async function requireRoleInRegions(...roles: Role[]): Promise<Visitor> {
  const visitor = await currentVisitor();
  if (!visitor) {
    const here = (await headers()).get(PATH_HEADER) ?? "/";
    redirect(`/sign-in?next=${encodeURIComponent(here)}`);
  }
  if (!mayAct(visitor, roles)) {
    asked().roles = roles;
    forbidden();
  }
  return visitor;
}

/** The same for a page that shows the whole programme: accounts that are limited to regions do not see it. */
export async function requireRole(...roles: Role[]): Promise<Visitor> {
  const visitor = await requireRoleInRegions(...roles);
  if (visitor.regions !== null) refuseRegion();
  return visitor;
}

/** For a thing outside the visitor's regions: does not return. */
export function refuseRegion(): never {
  asked().isForAllRegions = true;
  forbidden();
}

/** `next` comes from the address bar and must not lead to another site; undefined when it is not to be followed. */
export function safeNext(next: string | null | undefined): string | undefined {
  // Read as the browser will read it, which also drops tabs and turns backslashes.
  const inside = "http://inside.example";
  if (!next?.startsWith("/") || !URL.canParse(next, inside)) return undefined;
  const { origin, pathname, search } = new URL(next, inside);
  if (origin !== inside || pathname === "/" || pathname === "/sign-in") return undefined;
  return pathname + search;
}
