/** Bytes of a text file -> text: the encoding is found, not asked. */
import type { Encoding } from "./types";

/** Code points of bytes 0x80 to 0x9F in Windows-1252 (WHATWG Encoding Standard; the five unassigned stay C1 controls). */
const WINDOWS_1252_HIGH = [
  0x20ac, 0x81, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8d,
  0x017d, 0x8f, 0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a,
  0x0153, 0x9d, 0x017e, 0x0178,
] as const;

/** Bytes looked at for the UTF-16 guess. */
const SAMPLE_BYTES = 65_536;

export interface Decoded {
  text: string;
  encoding: Encoding;
  /** Did a byte order mark name the encoding? It is not part of `text`. */
  hasMark: boolean;
}

/**
 * Decodes by, in order: byte order mark; the zero bytes that UTF-16 leaves beside ASCII digits and separators;
 * valid UTF-8; else Windows-1252, which accepts any bytes (so a caller should show that it was assumed).
 */
export function decode(bytes: Uint8Array): Decoded {
  if (startsWith(bytes, 0xef, 0xbb, 0xbf)) {
    const text = utf8(bytes.subarray(3));
    if (text !== undefined) return { text, encoding: "utf-8", hasMark: true };
    return { text: windows1252(bytes.subarray(3)), encoding: "windows-1252", hasMark: false };
  }
  if (startsWith(bytes, 0xff, 0xfe)) return { ...utf16(bytes.subarray(2), "utf-16le"), hasMark: true };
  if (startsWith(bytes, 0xfe, 0xff)) return { ...utf16(bytes.subarray(2), "utf-16be"), hasMark: true };
  const guess = guessUtf16(bytes);
  if (guess) return { ...utf16(bytes, guess), hasMark: false };
  const text = utf8(bytes);
  if (text !== undefined) return { text, encoding: "utf-8", hasMark: false };
  return { text: windows1252(bytes), encoding: "windows-1252", hasMark: false };
}

function startsWith(bytes: Uint8Array, ...head: number[]): boolean {
  return head.every((b, i) => bytes[i] === b);
}

function utf8(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined; // not UTF-8: the decoder has no other way to say so
  }
}

function utf16(bytes: Uint8Array, encoding: "utf-16le" | "utf-16be"): { text: string; encoding: Encoding } {
  return { text: new TextDecoder(encoding, { ignoreBOM: true }).decode(bytes), encoding };
}

/**
 * UTF-16 without a mark: every ASCII character (separators, digits, line ends) has a zero byte on one side only.
 * A tenth of the characters is enough, so that Greek or Cyrillic names pass too; a stray NUL in UTF-8 is far below.
 */
function guessUtf16(bytes: Uint8Array): "utf-16le" | "utf-16be" | undefined {
  const n = Math.min(bytes.length, SAMPLE_BYTES) & ~1;
  if (n < 4) return undefined;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < n; i += 2) {
    if (bytes[i] === 0) even++;
    if (bytes[i + 1] === 0) odd++;
  }
  const enough = n / 20;
  if (odd >= enough && even * 10 <= odd) return "utf-16le";
  if (even >= enough && odd * 10 <= even) return "utf-16be";
  return undefined;
}

/** By hand: TextDecoder("windows-1252") of some Node 20 releases leaves 0x80 to 0x9F as they are. */
function windows1252(bytes: Uint8Array): string {
  const parts: string[] = [];
  const units = new Uint16Array(8192);
  for (let from = 0; from < bytes.length; from += units.length) {
    const n = Math.min(units.length, bytes.length - from);
    for (let i = 0; i < n; i++) {
      const b = bytes[from + i]!;
      units[i] = b >= 0x80 && b <= 0x9f ? WINDOWS_1252_HIGH[b - 0x80]! : b;
    }
    parts.push(String.fromCharCode(...units.subarray(0, n)));
  }
  return parts.join("");
}
