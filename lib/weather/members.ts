/** Members of an ensemble forecast: several equally likely courses of the weather, issued together. */
import { decodeSeries, encodeSeries } from "./block";
import type { HourMask, WeatherSeries } from "./types";
import { WORK_CLASSES } from "./types";

const MAGIC = 0x4d585742; // "BWXM"
const HOUR_MILLIS = 3_600_000;

/** All members of one place and issue as one block: "BWXM", their number (uint32), then each with its length. */
export function encodeMembers(members: readonly WeatherSeries[]): Uint8Array {
  const blocks = members.map(encodeSeries);
  const bytes = new Uint8Array(blocks.reduce((sum, b) => sum + 4 + b.length, 8));
  const view = new DataView(bytes.buffer);
  view.setUint32(0, MAGIC, true);
  view.setUint32(4, blocks.length, true);
  let at = 8;
  for (const block of blocks) {
    view.setUint32(at, block.length, true);
    bytes.set(block, at + 4);
    at += 4 + block.length;
  }
  return bytes;
}

/** @throws RangeError when the bytes are not such a block: blocks are written by this program only */
export function decodeMembers(bytes: Uint8Array): WeatherSeries[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 8 || view.getUint32(0, true) !== MAGIC) {
    throw new RangeError("not a block of ensemble members");
  }
  const members: WeatherSeries[] = [];
  let at = 8;
  for (let i = view.getUint32(4, true); i > 0; i--) {
    const length = view.getUint32(at, true);
    members.push(decodeSeries(bytes.subarray(at + 4, at + 4 + length)));
    at += 4 + length;
  }
  return members;
}

/**
 * Share of the members in which each class may be worked for the whole hour: `share[h * classes + c]` for hour h from
 * `startsAtMillis` on. Only members that cover the hour count; where none does, the share is NaN, never 0 or 1.
 *
 * @param masks one for each member, at one site and height
 */
export function workableShare(
  masks: readonly HourMask[],
  startsAtMillis: number,
  hours: number,
): Float32Array {
  const share = new Float32Array(hours * WORK_CLASSES.length);
  for (let h = 0; h < hours; h++) {
    const at = startsAtMillis + h * HOUR_MILLIS;
    const inHour = masks.flatMap((mask) => {
      const m = Math.round((at - mask.startsAtMillis) / HOUR_MILLIS);
      return m >= 0 && m < mask.hours ? [mask.workable[m]!] : [];
    });
    for (let c = 0; c < WORK_CLASSES.length; c++) {
      const open = inHour.filter((bits) => ((bits >> c) & 1) === 1).length;
      share[h * WORK_CLASSES.length + c] = inHour.length === 0 ? Number.NaN : open / inHour.length;
    }
  }
  return share;
}
