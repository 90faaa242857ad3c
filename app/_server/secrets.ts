/** Secrets that are shown once and kept as their hash: set-up tokens, invitations, calendar addresses. */
import { createHash, randomBytes, timingSafeEqual } from "node:crypto";

/** 256 random bits in characters that an address may hold. */
export function newSecret(): string {
  return randomBytes(32).toString("base64url");
}

/** SHA-256, hexadecimal. Enough for a secret of so many random bits; a password needs a slow hash. */
export function hashOfSecret(secret: string): string {
  return createHash("sha256").update(secret).digest("hex");
}

/** Compares in a time that does not depend on where the two differ. */
export function isSecretOf(secret: string, hash: string): boolean {
  const given = Buffer.from(hashOfSecret(secret), "hex");
  const kept = Buffer.from(hash, "hex");
  return kept.length === given.length && timingSafeEqual(given, kept);
}
