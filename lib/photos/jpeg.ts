/** As much of a JPEG file as is needed to know that it is one, how large it is, and to take out what it says besides. */
import { ok, type Problem, type Result, refused } from "@/lib/result";

export interface CleanJpeg {
  widthPx: number;
  heightPx: number;
  /** The picture without position, device and comments. */
  bytes: Uint8Array;
}

const SOI = 0xd8;
const EOI = 0xd9;
const SOS = 0xda;
/** Frames that browsers decode: baseline, extended, progressive. */
const FRAMES = new Set([0xc0, 0xc1, 0xc2]);
/** JFIF, colour profile and colour transform say how to draw; APP1 (position, device) and the others do not. */
const KEPT_APPS = new Set([0xe0, 0xe2, 0xee]);
const COMMENT = 0xfe;

const isApp = (marker: number) => marker >= 0xe0 && marker <= 0xef;

function broken(message: string): { ok: false; problems: readonly Problem[] } {
  return refused({
    path: "photo",
    rule: "not-a-jpeg",
    message,
    remedy: "Take the photo again, or choose a file in the JPEG format.",
  });
}

/**
 * Reads the segments before the picture's data (ISO/IEC 10918-1, annex B), keeps those that draw it, and drops every
 * other. What follows the end of the picture is dropped, too: files can carry others behind them.
 */
export function cleanJpeg(bytes: Uint8Array): Result<CleanJpeg> {
  if (bytes[0] !== 0xff || bytes[1] !== SOI) return broken("The file does not begin as a JPEG picture does.");
  const kept: Uint8Array[] = [bytes.subarray(0, 2)];
  let size: { widthPx: number; heightPx: number } | undefined;
  let at = 2;
  for (;;) {
    // Fill bytes may stand before a marker.
    while (bytes[at] === 0xff && bytes[at + 1] === 0xff) at++;
    const marker = bytes[at + 1];
    if (bytes[at] !== 0xff || marker === undefined || at + 4 > bytes.length)
      return broken("The picture breaks off before its data.");
    const length = (bytes[at + 2]! << 8) | bytes[at + 3]!;
    const end = at + 2 + length;
    if (length < 2 || end > bytes.length) return broken("The picture breaks off before its data.");
    if (FRAMES.has(marker)) {
      if (length < 8) return broken("The picture does not say how large it is.");
      size = {
        heightPx: (bytes[at + 5]! << 8) | bytes[at + 6]!,
        widthPx: (bytes[at + 7]! << 8) | bytes[at + 8]!,
      };
    }
    if (marker === SOS) break;
    if (marker !== COMMENT && (!isApp(marker) || KEPT_APPS.has(marker))) kept.push(bytes.subarray(at, end));
    at = end;
  }
  if (!size || size.widthPx === 0 || size.heightPx === 0)
    return broken("The picture does not say how large it is, or in a form that browsers do not draw.");
  const end = endOfPicture(bytes, at);
  if (end === undefined) return broken("The picture breaks off in its data.");
  kept.push(bytes.subarray(at, end));
  return ok({ ...size, bytes: joined(kept) });
}

/** After the end marker that follows the data; scans of a progressive picture and restarts stand before it. */
function endOfPicture(bytes: Uint8Array, from: number): number | undefined {
  for (let i = from + 2; i + 1 < bytes.length; i++) {
    if (bytes[i] === 0xff && bytes[i + 1] === EOI) return i + 2;
  }
  return undefined;
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, p) => sum + p.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}
