/** Accounts as an administrator sees them. */

import { rests } from "@/app/_server/attempts";
import { homeZone, machineNow } from "@/app/_server/clock";
import { formatInstant } from "@/app/_ui/format";
import type { Db } from "@/db/open";
import { accounts } from "@/db/queries/accounts";
import { openInvitations } from "@/db/queries/invitations";
import { openSessions } from "@/db/queries/sessions";
import { sessionRow } from "../account/sessionWords";
import type { AccountRow } from "./AccountsTab";

export function accountRows(db: Db, locale: string): AccountRow[] {
  const now = machineNow();
  const zone = homeZone(db);
  const sessions = openSessions(db, now);
  const invited = new Map(openInvitations(db, now).map((i) => [i.userId, i.expiresAt]));
  return accounts(db).map(({ id, name, email, role, crewId, regions, disabledAt, twoFactorEnabled }) => ({
    id,
    name,
    email,
    role,
    crewId,
    regions,
    isClosed: disabledAt !== null,
    invitedUntil: invited.has(id) ? formatInstant(invited.get(id), zone, locale) : undefined,
    rests: rests(db, "sign-in by name", email),
    hasSecondFactor: twoFactorEnabled,
    sessions: sessions.filter((s) => s.userId === id).map((s) => sessionRow(s, zone, undefined, locale)),
  }));
}
