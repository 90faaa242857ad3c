import { redirect } from "next/navigation";
import { homeOf } from "./_server/roles";
import { requireRoleInRegions } from "./_server/session";

/** The start: where this visitor's role begins its day. */
export default async function StartPage() {
  redirect(homeOf(await requireRoleInRegions()));
}
