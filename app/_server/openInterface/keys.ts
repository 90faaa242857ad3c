/** Keys by which other programs use the open interface: made, shown once, revoked by an administrator. */

import { randomUUID } from "node:crypto";
import { z } from "zod";
import type { Db } from "@/db/open";
import {
  addInterfaceKey,
  type InterfaceKey,
  openInterfaceKeys,
  revokeInterfaceKey,
} from "@/db/queries/interfaceKeys";
import { addLogEntry } from "@/db/queries/log";
import { SCOPES } from "@/db/schema/auth";
import { ok, refused } from "@/lib/result";
import type { InstantMillis } from "@/lib/time";
import type { ActionDefinition } from "../carryOut";
import { machineNow } from "../clock";
import { hashOfSecret, isSecretOf, newSecret } from "../secrets";

const ADMINISTRATORS = ["administrator"] as const;
const DAY_MILLIS = 86_400_000;
/** Tells a person, and programs that look for leaked keys, what the text is. */
export const KEY_PREFIX = "bothends_";

const makeInput = z.object({
  name: z.string().trim().min(3, "Say in a few letters which program uses it.").max(80),
  scopes: z.array(z.enum(SCOPES)).min(1, "Choose at least one thing that the key may do."),
  /** Null: until it is revoked. */
  days: z.number().int().min(1, "A key lasts a day at least.").max(3_650).nullable(),
});

/** Makes a key; the answer shows it once. */
export const makeKeyAction: ActionDefinition<typeof makeInput, { id: string; key: string }> = {
  name: "make-interface-key",
  roles: ADMINISTRATORS,
  input: makeInput,
  changesData: false,
  isAnswerSecret: true,
  run: ({ name, scopes, days }, { db, visitor, now }) => {
    const key = `${KEY_PREFIX}${newSecret()}`;
    const id = randomUUID();
    const kept = SCOPES.filter((s) => scopes.includes(s));
    // By the machine's time, as sessions: the demonstration's clock goes back every week.
    const madeAt = machineNow();
    addInterfaceKey(db, {
      id,
      name,
      secretHash: hashOfSecret(key),
      scopes: kept,
      madeBy: visitor.name,
      madeAt,
      expiresAt: days === null ? null : ((madeAt + days * DAY_MILLIS) as InstantMillis),
    });
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "make interface key",
      subject: `interface key ${name}`,
      detail: { id, scopes: kept, days },
    });
    return ok({ id, key });
  },
};

const revokeInput = z.object({ id: z.string().min(1).max(100) });

export const revokeKeyAction: ActionDefinition<typeof revokeInput, null> = {
  name: "revoke-interface-key",
  roles: ADMINISTRATORS,
  input: revokeInput,
  changesData: false,
  run: ({ id }, { db, visitor, now }) => {
    const revoked = revokeInterfaceKey(db, id, { name: visitor.name, at: machineNow() });
    if (!revoked)
      return refused({
        path: "id",
        rule: "key-unknown",
        value: id,
        message: "There is no such key, or it was revoked before.",
        remedy: "Reload the list of keys.",
      });
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "revoke interface key",
      subject: `interface key ${revoked.name}`,
      detail: { id },
    });
    return ok(null);
  },
};

/** The key with this secret, run out or not; undefined for a secret that is none, or none any more. */
export function keyOfSecret(db: Db, secret: string): InterfaceKey | undefined {
  return openInterfaceKeys(db).filter(({ secretHash }) => isSecretOf(secret, secretHash))[0];
}
