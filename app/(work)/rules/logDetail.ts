import {
  formatClock,
  formatDate,
  formatDuration,
  formatMoney,
  formatNumber,
  formatQuantity,
} from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { CalendarDate } from "@/lib/time";
import { fieldSaid, valueSaid } from "./logWords";

const LONGEST = 400;

/** Fields that are minutes of a day; all other minutes are lengths. */
const CLOCKS = new Set(["startMin", "endMin", "arriveMin", "fromMin", "toMin"]);
/** Units at the end of a field's name, and how they are said after the figure. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/Ms$/, "m/s"],
  [/Km$/, "km"],
  [/Kg$/, "kg"],
  [/Ghz$/, "GHz"],
  [/Dbm$/, "dBm"],
];
const DIGITS = 4;
const DAY = /^\d{4}-\d{2}-\d{2}$/;
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
export function logDetail(detail: unknown, instant: (at: number) => string, words: Words): LogDetail {
  const text = said(detail, { instant, words });
  if (text.length <= LONGEST) return { shown: text };
  const gap = text.lastIndexOf(" ", LONGEST);
  const at = gap > LONGEST / 2 ? gap : LONGEST;
  return { shown: text.slice(0, at), rest: text.slice(at).trimStart() };
}

interface Reader {
  instant: (at: number) => string;
  words: Words;
}

/** @param field the name under which the value stands, as it is kept */
function said(value: unknown, reader: Reader, field?: string): string {
  const { words } = reader;
  if (value === null || value === undefined) return valueSaid("none", undefined, words);
  if (typeof value === "boolean") return valueSaid(value ? "yes" : "no", undefined, words);
  if (typeof value === "number") return numberSaid(value, words);
  if (Array.isArray(value))
    return value.length === 0
      ? valueSaid("none", undefined, words)
      : value.map((one) => said(one, reader, field)).join("; ");
  if (typeof value !== "object")
    return DAY.test(String(value))
      ? formatDate(String(value) as CalendarDate, "full", words.locale)
      : valueSaid(String(value), field, words);
  if ("askedId" in value && typeof value.askedId === "string")
    return readingSaid(value, value.askedId, reader);
  const currency = "currency" in value && typeof value.currency === "string" ? value.currency : undefined;
  return Object.entries(value)
    .map(([name, inner]) => fieldWords(name, inner, reader, currency))
    .join(", ");
}

/** A reading by what was read where: "far receive level R1: -41.7 dBm". */
function readingSaid(reading: object, askedId: string, reader: Reader): string {
  const { askedId: _, value, passed, ...more } = reading as Record<string, unknown>;
  const figure = passed === undefined || passed === null ? value : passed;
  const result =
    typeof figure === "boolean"
      ? valueSaid(figure ? "passed" : "failed", undefined, reader.words)
      : figure === undefined || figure === null
        ? undefined
        : typeof figure === "number"
          ? formatQuantity(figure, unitOfReading(askedId, reader.words), DIGITS, reader.words.locale)
          : said(figure, reader);
  return [
    `${valueSaid(askedId, "askedId", reader.words)}${result === undefined ? "" : `: ${result}`}`,
    ...Object.entries(more)
      .filter(([, inner]) => inner !== undefined && inner !== null)
      .map(([name, inner]) => fieldWords(name, inner, reader, undefined)),
  ].join(", ");
}

function unitOfReading(askedId: string, { t }: Words): string {
  if (askedId.includes("receive level")) return "dBm";
  if (askedId.includes("cross-polar")) return "dB";
  return askedId.includes("earth resistance") ? t("ohm") : "s";
}

function fieldWords(field: string, value: unknown, reader: Reader, currency: string | undefined): string {
  const { words, instant } = reader;
  const name = (end?: RegExp) => fieldSaid(spaced(end ? field.replace(end, "") : field), words);
  if (value === null || value === undefined)
    return `${name(/(Min|Minor|Ms|Km|Kg|Ghz|Dbm)$/)} ${said(value, reader)}`;
  if (typeof value !== "number") return `${name()} ${said(value, reader, field)}`;
  if (value >= FIRST_INSTANT) return `${name()} ${instant(value)}`;
  if (CLOCKS.has(field)) return `${name(/Min$/)} ${formatClock(value)}`;
  if (/Min$/.test(field)) return `${name(/Min$/)} ${formatDuration(value, words.locale)}`;
  if (/Minor$/.test(field) && currency)
    return `${name(/Minor$/)} ${formatMoney(value, currency, words.locale)}`;
  // Amounts are kept in hundredths.
  if (/[a-z]C$/.test(field)) return `${name(/C$/)} ${numberSaid(value / 100, words)}`;
  const unit = UNITS.find(([end]) => end.test(field));
  return unit
    ? `${name(unit[0])} ${formatQuantity(value, unit[1], DIGITS, words.locale)}`
    : `${name()} ${numberSaid(value, words)}`;
}

/** Whole numbers may be numbers of rows and orders: nothing parts their thousands. */
const numberSaid = (value: number, { locale }: Words): string =>
  Number.isInteger(value) ? String(value) : formatNumber(value, DIGITS, locale);

/** "windowMax" as "window max"; what is no name of a field, such as a code, stays. */
const spaced = (field: string): string =>
  /^[a-z]+([A-Z][a-z]*)+$/.test(field)
    ? field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
    : field;
