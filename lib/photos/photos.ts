/** What a photo may be, on the phone and on the server alike. */
import { ok, type Problem, type Result, refused } from "@/lib/result";
import { type CleanJpeg, cleanJpeg } from "./jpeg";

/** Longest side to which the phone scales a photo: a label is still read, and forty fit into a poor signal's hour. */
export const PHOTO_SIDE_PX = 1600;
/** Some five times what such a photo has. */
export const PHOTO_MOST_BYTES = 3_000_000;
export const PHOTOS_MOST_PER_VISIT = 40;
/** One request carries so much; a cut costs no more than this. */
export const PIECE_BYTES = 128 * 1024;
const SIDE_MOST_PX = 4096;

/** Made on the phone once for each photo. */
export const isPhotoKey = (key: string): boolean => /^[0-9a-f]{32}$/.test(key);

/** The photo as it is kept, or why it is not taken. */
export function takePhoto(bytes: Uint8Array): Result<CleanJpeg, Problem> {
  if (bytes.length > PHOTO_MOST_BYTES)
    return refused({
      path: "photo",
      rule: "photo-too-large",
      value: bytes.length,
      message: `The photo has ${(bytes.length / 1e6).toFixed(1)} MB; up to ${PHOTO_MOST_BYTES / 1e6} MB are taken.`,
      remedy: "Add it on the visit's page, which scales it down.",
    });
  const clean = cleanJpeg(bytes);
  if (!clean.ok) return clean;
  const longest = Math.max(clean.value.widthPx, clean.value.heightPx);
  if (longest > SIDE_MOST_PX)
    return refused({
      path: "photo",
      rule: "photo-too-wide",
      value: longest,
      message: `The photo's longer side has ${longest} px; up to ${SIDE_MOST_PX} are taken.`,
      remedy: "Add it on the visit's page, which scales it down.",
    });
  return ok(clean.value);
}

/** The size to which a picture is scaled: its shape stays, it never grows. */
export function scaledSize(widthPx: number, heightPx: number): { widthPx: number; heightPx: number } {
  const share = Math.min(1, PHOTO_SIDE_PX / Math.max(widthPx, heightPx));
  return {
    widthPx: Math.max(1, Math.round(widthPx * share)),
    heightPx: Math.max(1, Math.round(heightPx * share)),
  };
}
