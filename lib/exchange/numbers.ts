/** Numbers as people type them -> numbers. */
import { type DecimalMark, markOf, type NumberStyle } from "./separator";

export type NumberReading =
  | { state: "number"; value: number }
  /** Can be read two ways and nothing in the file decides. */
  | { state: "ambiguous"; asPoint: number; asComma: number }
  | { state: "mixed" }
  | { state: "not a number" };

const PLAIN = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i;
/** Space, no-break space, thin space, narrow no-break space, apostrophes. */
const NEUTRAL_GROUP = /^[+-]?\d{1,3}([ \u00a0\u2009\u202f'\u2019]\d{3})+([.,]\d*)?$/;

/**
 * Reads `text` under the column's style.
 *
 * A cell with one mark followed by exactly three digits (`1.234`) may be a decimal or a group mark:
 * - if it is the column's decimal mark, it is a decimal: 1.234;
 * - if the style is sure and it is the other mark, it groups: 1234;
 * - if the style is only the usual one of the separator and it is the other mark, it is ambiguous: asked, never guessed.
 */
export function readNumber(text: string, style: NumberStyle): NumberReading {
  const t = text.trim().replace(/^\u2212/, "-");
  const own = markOf(t);
  const point = parse(t, "point");
  const comma = parse(t, "comma");
  if (point === undefined && comma === undefined) return { state: "not a number" };
  if (point === comma) return { state: "number", value: point! };
  if (own) {
    // The cell can mean one number only, so its own mark counts even in a column that proves the other one.
    const value = own === "point" ? point : comma;
    if (value === undefined) return { state: "not a number" };
    return { state: "number", value };
  }
  if (point === undefined) return { state: "number", value: comma! };
  if (comma === undefined) return { state: "number", value: point };
  if (!style.decimal) return { state: "mixed" };
  const mark: DecimalMark = t.includes(".") ? "point" : "comma";
  if (!style.isSure && mark !== style.decimal) return { state: "ambiguous", asPoint: point, asComma: comma };
  return { state: "number", value: style.decimal === "point" ? point : comma };
}

/** The number under one decimal mark; undefined when the text is none under it. */
function parse(text: string, decimal: DecimalMark): number | undefined {
  let t = text;
  if (NEUTRAL_GROUP.test(t)) t = t.replace(/[ \u00a0\u2009\u202f'\u2019]/g, "");
  const group = decimal === "point" ? "," : ".";
  const mark = decimal === "point" ? "." : ",";
  const grouped = decimal === "point" ? /^[+-]?\d{1,3}(,\d{3})+(\.\d*)?$/ : /^[+-]?\d{1,3}(\.\d{3})+(,\d*)?$/;
  if (grouped.test(t)) t = t.replaceAll(group, "");
  else if (t.includes(group)) return undefined;
  if (mark === ",") t = t.replace(",", ".");
  if (!PLAIN.test(t)) return undefined;
  const value = Number(t);
  if (!Number.isFinite(value)) return undefined;
  return value === 0 ? 0 : value; // no negative zero
}
