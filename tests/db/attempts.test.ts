import { expect, test } from "vitest";
import { memoryDatabase } from "@/db/migrate";
import { clearFailedAttempts, failedAttempts, recordFailedAttempt } from "@/db/queries/attempts";
import type { InstantMillis } from "@/lib/time";

const at = (millis: number) => millis as InstantMillis;
const NAME = "sign-in by name";

test("failed attempts count by kind and subject, whatever the capitals, and old ones are forgotten", () => {
  const db = memoryDatabase();
  const failed = (subject: string, since: number, kind: typeof NAME | "sign-in by address" = NAME) =>
    failedAttempts(db, kind, subject, at(since));
  recordFailedAttempt(db, NAME, "A@masts.example", at(10), at(0));
  recordFailedAttempt(db, NAME, "a@masts.example ", at(20), at(0));
  recordFailedAttempt(db, NAME, "b@masts.example", at(20), at(0));
  recordFailedAttempt(db, "sign-in by address", "a@masts.example", at(20), at(0));
  expect(failed("a@masts.example", 0)).toBe(2);
  expect(failed("a@masts.example", 15)).toBe(1);
  recordFailedAttempt(db, NAME, "a@masts.example", at(30), at(15));
  expect(failed("a@masts.example", 0)).toBe(2);
  clearFailedAttempts(db, NAME, "a@masts.example");
  expect(failed("a@masts.example", 0)).toBe(0);
  expect(failed("b@masts.example", 0)).toBe(1);
  expect(failed("a@masts.example", 0, "sign-in by address")).toBe(1);
});
