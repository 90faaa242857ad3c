import { database } from "@/db/open";
import { countAccounts } from "@/db/queries/accounts";

export const dynamic = "force-dynamic";

/** For the supervisor and for monitors: answers once pages and database both work. Tells nothing else. */
export function GET(): Response {
  countAccounts(database());
  return Response.json({ ok: true });
}
