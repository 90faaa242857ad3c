/**
 * A series as one compact binary block: 11 bytes an hour instead of 24.
 * Header: "BWX1", length of the JSON head (uint32), head. Then wind, gust, rain, temperature, humidity as
 * int16 in hundredths and thunder as one byte; little endian. -32768 and 255 mark missing values.
 */
import type { WeatherSeries } from "./types";

const MAGIC = 0x31585742; // "BWX1"
const MISSING = -32768;
const MISSING_BYTE = 255;
const SCALE = 100;
const COLUMNS = ["windMs", "gustMs", "rainMmH", "tempC", "humidityPct"] as const;

/**
 * Values are rounded to 0.01 of their unit and limited to +-327.67, so a decoded series may differ by 0.005;
 * values with two decimals come back as they were.
 */
export function encodeSeries(series: WeatherSeries): Uint8Array {
  const { placeId, kind, memberNo, source, isMadeUp, issuedAtMillis, startsAtMillis, hours } = series;
  const head = new TextEncoder().encode(
    JSON.stringify({ placeId, kind, memberNo, source, isMadeUp, issuedAtMillis, startsAtMillis, hours }),
  );
  const bytes = new Uint8Array(8 + head.length + hours * (COLUMNS.length * 2 + 1));
  const view = new DataView(bytes.buffer);
  view.setUint32(0, MAGIC, true);
  view.setUint32(4, head.length, true);
  bytes.set(head, 8);
  let at = 8 + head.length;
  for (const column of COLUMNS) {
    for (const v of series[column]) {
      view.setInt16(at, scaled(v), true);
      at += 2;
    }
  }
  for (const v of series.thunder) bytes[at++] = Number.isNaN(v) ? MISSING_BYTE : v > 0 ? 1 : 0;
  return bytes;
}

const scaled = (v: number) =>
  Number.isNaN(v) ? MISSING : Math.max(-32767, Math.min(32767, Math.round(v * SCALE)));

type Head = Omit<WeatherSeries, (typeof COLUMNS)[number] | "thunder">;

/** When a block's hours begin and how many there are, without reading them. @throws RangeError as `decodeSeries` */
export function spanOfBlock(bytes: Uint8Array): Pick<Head, "startsAtMillis" | "hours"> {
  return headOf(bytes).head;
}

function headOf(bytes: Uint8Array): { head: Head; headLength: number; view: DataView } {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 8 || view.getUint32(0, true) !== MAGIC) throw new RangeError("not a weather block");
  const headLength = view.getUint32(4, true);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(8, 8 + headLength)));
  return { head, headLength, view };
}

/** @throws RangeError when the bytes are not such a block: blocks are written by this program only */
export function decodeSeries(bytes: Uint8Array): WeatherSeries {
  const { head, headLength, view } = headOf(bytes);
  const hours: number = head.hours;
  const expected = 8 + headLength + hours * (COLUMNS.length * 2 + 1);
  if (bytes.length !== expected) {
    throw new RangeError(`weather block of ${hours} hours has ${bytes.length} bytes, expected ${expected}`);
  }
  let at = 8 + headLength;
  const column = () => {
    const values = new Float32Array(hours);
    for (let h = 0; h < hours; h++, at += 2) {
      const v = view.getInt16(at, true);
      values[h] = v === MISSING ? Number.NaN : v / SCALE;
    }
    return values;
  };
  const [windMs, gustMs, rainMmH, tempC, humidityPct] = [column(), column(), column(), column(), column()];
  const thunder = new Float32Array(hours);
  for (let h = 0; h < hours; h++) {
    const v = bytes[at++]!;
    thunder[h] = v === MISSING_BYTE ? Number.NaN : v;
  }
  return { ...head, windMs, gustMs, rainMmH, tempC, humidityPct, thunder };
}
