/** Time-based one-time codes by RFC 6238 and RFC 4226, written apart from the product's library. */
import { createHmac } from "node:crypto";

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

/** Bytes of a key in base 32 (RFC 4648), without padding. */
export function fromBase32(text: string): Buffer {
  const bits = [...text.toUpperCase()].map((c) => ALPHABET.indexOf(c).toString(2).padStart(5, "0")).join("");
  return Buffer.from((bits.match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2)));
}

/** The code that an app shows at `unixS` seconds, for steps of 30 s and HMAC-SHA-1. */
export function totp(key: Buffer, unixS: number, digits = 6): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(Math.floor(unixS / 30)));
  const mac = createHmac("sha1", key).update(counter).digest();
  const at = (mac.at(-1) ?? 0) & 15;
  const number = mac.readUInt32BE(at) & 0x7fffffff;
  return String(number % 10 ** digits).padStart(digits, "0");
}
