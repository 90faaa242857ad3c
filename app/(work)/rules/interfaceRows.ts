/** Keys of the open interface as an administrator sees them. */
import { homeZone, machineNow } from "@/app/_server/clock";
import { formatInstant } from "@/app/_ui/format";
import type { Db } from "@/db/open";
import { type InterfaceKey, interfaceKeys } from "@/db/queries/interfaceKeys";
import type { InstantMillis } from "@/lib/time";
import type { KeyRow } from "./InterfaceTab";

function stateOf(key: InterfaceKey, now: InstantMillis): KeyRow["state"] {
  if (key.revokedAt !== null) return "revoked";
  return key.expiresAt !== null && key.expiresAt <= now ? "run out" : "open";
}

export function keyRows(db: Db, locale: string): KeyRow[] {
  const zone = homeZone(db);
  const now = machineNow();
  return interfaceKeys(db).map((key) => ({
    id: key.id,
    name: key.name,
    scopes: key.scopes,
    made: `${formatInstant(key.madeAt, zone, locale)}, ${key.madeBy}`,
    expires: key.expiresAt === null ? "" : formatInstant(key.expiresAt, zone, locale),
    lastUsed: key.lastUsedAt === null ? "" : formatInstant(key.lastUsedAt, zone, locale),
    state: stateOf(key, now),
    revoked: key.revokedAt === null ? "" : `${formatInstant(key.revokedAt, zone, locale)}, ${key.revokedBy}`,
  }));
}
