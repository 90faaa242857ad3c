import { randomInt } from "node:crypto";

/** No sign that paper and handwriting confuse with another: no 0 and O, no 1, I and L, and one case only. */
const SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";
const HALF = 5;

/** Ten codes such as "7K2QP-XW9AT": 49 bits each, used once. */
export const makeBackupCodes = (): string[] => Array.from({ length: 10 }, () => `${half()}-${half()}`);

const half = (): string => Array.from({ length: HALF }, () => SIGNS[randomInt(SIGNS.length)]).join("");

/** A code as somebody typed it from paper, in the form it was made: capitals, and the line between its halves. */
export function typedBackupCode(typed: string): string {
  const text = typed.trim();
  // Codes made before have small letters that count.
  if (/[A-Z]/.test(text) && /[a-z]/.test(text)) return text;
  const signs = text.toUpperCase().replace(/[\s-]/g, "");
  return signs.length === 2 * HALF ? `${signs.slice(0, HALF)}-${signs.slice(HALF)}` : text;
}
