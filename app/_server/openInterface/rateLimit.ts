/** How often one key may ask: a bucket of requests that fills up again as time passes. */
import type { InstantMillis } from "@/lib/time";

/** As many at once as a program needs to read everything page by page. */
const MOST = 60;
const PER_SECOND = 2;

export interface Bucket {
  left: number;
  at: InstantMillis;
}

/** One request out of the bucket; `waitS` is 0 when it may be answered, else the seconds until the next may. */
export function takeOne(bucket: Bucket | undefined, now: InstantMillis): { bucket: Bucket; waitS: number } {
  const passedS = bucket ? Math.max(0, now - bucket.at) / 1_000 : 0;
  const left = bucket ? Math.min(MOST, bucket.left + passedS * PER_SECOND) : MOST;
  if (left >= 1) return { bucket: { left: left - 1, at: now }, waitS: 0 };
  return { bucket: { left, at: now }, waitS: Math.ceil((1 - left) / PER_SECOND) };
}

// Next bundles this module more than once; the process counts in one place.
const shared = globalThis as typeof globalThis & { bothendsBuckets?: Map<string, Bucket> };

/** Seconds that this key has to wait; 0 when it may ask. */
export function waitOfKey(keyId: string, now: InstantMillis): number {
  shared.bothendsBuckets ??= new Map();
  const { bucket, waitS } = takeOne(shared.bothendsBuckets.get(keyId), now);
  shared.bothendsBuckets.set(keyId, bucket);
  return waitS;
}
