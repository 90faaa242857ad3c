/** What a password must be. Length counts most; what is tried first is refused whatever its length. */
import { z } from "zod";

export const PASSWORD_LENGTH_MIN = 10;
const PASSWORD_LENGTH_MAX = 128;

/** Neighbours on keyboards and in the alphabet, both ways round. */
const RUNS = [
  "01234567890123456789",
  "abcdefghijklmnopqrstuvwxyz",
  "qwertyuiopasdfghjklzxcvbnm",
  "qwertzuiopasdfghjklyxcvbnm",
].flatMap((run) => [run, [...run].reverse().join("")]);
const FIRST_TRIED = /^(password|passwort|welcome|willkommen|administrator|bothends)[\W\d_]*$/i;
const LEAST_DIFFERENT = 5;

export const GUESSABLE =
  "This password is among the first that are tried. Take several words that do not belong together.";

/**
 * Whether it is among the first that somebody tries: a run of neighbours, few signs over and over, a usual word with
 * figures behind it. A list of leaked passwords would be better and larger; this asks nobody outside.
 * After NIST SP 800-63B, 5.1.1.2, which wants common values refused (from memory).
 */
export function isGuessable(password: string): boolean {
  const lower = password.toLowerCase();
  return (
    new Set(lower).size < LEAST_DIFFERENT ||
    RUNS.some((run) => run.includes(lower)) ||
    FIRST_TRIED.test(password)
  );
}

/** A password that somebody chooses. @param what as the form calls it */
export const chosenPassword = (what: "The password" | "The new password") =>
  z
    .string()
    .min(PASSWORD_LENGTH_MIN, `${what} needs at least ${PASSWORD_LENGTH_MIN} characters.`)
    .max(PASSWORD_LENGTH_MAX, `${what} may have ${PASSWORD_LENGTH_MAX} characters at most.`)
    // A short one is told that it is short.
    .refine((password) => password.length < PASSWORD_LENGTH_MIN || !isGuessable(password), GUESSABLE);
