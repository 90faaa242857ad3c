/** How often what is secret may be guessed at before it rests. */
import type { Db } from "@/db/open";
import { clearFailedAttempts, failedAttempts, recordFailedAttempt } from "@/db/queries/attempts";
import type { AttemptKind } from "@/db/schema/auth";
import type { InstantMillis } from "@/lib/time";
import { machineNow } from "./clock";

/** Failed attempts count for this long. */
const WINDOW_MILLIS = 15 * 60_000;

/** An office shares one address, and its people mistype; one name is one person. */
const MOST: Readonly<Record<AttemptKind, number>> = {
  "sign-in by name": 10,
  "sign-in by address": 100,
  "calendar by address": 30,
  "invitation by address": 30,
  "interface by address": 30,
};

function most(kind: AttemptKind): number {
  const wanted = Number(process.env.BOTHENDS_SIGN_IN_LIMIT);
  return kind === "sign-in by name" && wanted > 0 ? wanted : MOST[kind];
}

const since = () => (machineNow() - WINDOW_MILLIS) as InstantMillis;

/** Whether there were too many failed attempts lately. */
export function rests(db: Db, kind: AttemptKind, subject: string): boolean {
  return failedAttempts(db, kind, subject, since()) >= most(kind);
}

export function noteFailure(db: Db, kind: AttemptKind, subject: string): void {
  recordFailedAttempt(db, kind, subject, machineNow(), since());
}

export function noteSuccess(db: Db, kind: AttemptKind, subject: string): void {
  clearFailedAttempts(db, kind, subject);
}

/**
 * The network address that a request comes from: what the nearest proxy says, which stands last. Without a proxy of
 * one's own a visitor may claim any address, so limits by address come on top of those by name, never instead.
 */
export function clientAddress(headers: Headers | undefined): string {
  return headers?.get("x-forwarded-for")?.split(",").at(-1)?.trim() || "unknown";
}
