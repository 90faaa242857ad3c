import { formatClock } from "@/app/_ui/format";

const LONGEST = 400;

/** Fields that are minutes of a day; all other minutes are lengths. */
const CLOCKS = new Set(["startMin", "endMin", "arriveMin", "fromMin", "toMin"]);
/** Units at the end of a field's name, and how they are said after the figure. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/Min$/, " min"],
  [/Ms$/, " m/s"],
  [/Km$/, " km"],
  [/Kg$/, " kg"],
  [/Ghz$/, " GHz"],
];
/** Milliseconds since 1970 begin here to be a time rather than a count: September 2001. */
const FIRST_INSTANT = 1e12;

export interface LogDetail {
  /** What stands in the row at once. */
  shown: string;
  /** What unfolds below it; undefined when `shown` is all of it. */
  rest?: string;
}

/**
 * What an entry of the log keeps, field by field in words: times by the clock, units beside figures. Of what is longer
 * than a few lines the rest is set apart, at a gap between words.
 */
export function logDetail(detail: unknown, instant: (at: number) => string): LogDetail {
  const text = words(detail, instant);
  if (text.length <= LONGEST) return { shown: text };
  const gap = text.lastIndexOf(" ", LONGEST);
  const at = gap > LONGEST / 2 ? gap : LONGEST;
  return { shown: text.slice(0, at), rest: text.slice(at).trimStart() };
}

function words(value: unknown, instant: (at: number) => string): string {
  if (value === null || value === undefined) return "none";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value)) return value.map((one) => words(one, instant)).join("; ");
  if (typeof value !== "object") return String(value);
  return Object.entries(value)
    .map(([field, inner]) => fieldWords(field, inner, instant))
    .join(", ");
}

function fieldWords(field: string, value: unknown, instant: (at: number) => string): string {
  if (typeof value !== "number") return `${spaced(field)} ${words(value, instant)}`;
  if (value >= FIRST_INSTANT) return `${spaced(field)} ${instant(value)}`;
  if (CLOCKS.has(field)) return `${spaced(field.replace(/Min$/, ""))} ${formatClock(value)}`;
  // Amounts are kept in hundredths.
  if (/[a-z]C$/.test(field)) return `${spaced(field.slice(0, -1))} ${value / 100}`;
  const unit = UNITS.find(([end]) => end.test(field));
  return unit ? `${spaced(field.replace(unit[0], ""))} ${value}${unit[1]}` : `${spaced(field)} ${value}`;
}

/** "windowMax" as "window max"; what is no name of a field, such as a code, stays. */
const spaced = (field: string): string =>
  /^[a-z]+([A-Z][a-z]*)+$/.test(field)
    ? field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
    : field;
