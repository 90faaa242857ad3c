/** Which character separates the fields of a text file, and which mark its numbers use. */
import type { Cell, Separator } from "./types";

const SEPARATORS: readonly Separator[] = [",", ";", "\t"];
const SAMPLE_RECORDS = 20;

/**
 * The separator that splits the header into most fields, counted outside quotes, and splits the next records
 * into about as many. A first line `sep=;` (a spreadsheet program's convention) decides alone.
 */
export function findSeparator(text: string): { separator: Separator; skipsFirstLine: boolean } {
  const stated = /^sep=([,;\t])\r?\n/.exec(text);
  if (stated) return { separator: stated[1] as Separator, skipsFirstLine: true };
  let best: Separator = ",";
  let bestScore = 0;
  for (const separator of SEPARATORS) {
    const counts = countFields(text, separator);
    const header = counts[0] ?? 1;
    if (header < 2) continue;
    const alike = counts.filter((c) => c === header).length / counts.length;
    const score = (header - 1) * (0.25 + alike);
    if (score > bestScore) {
      best = separator;
      bestScore = score;
    }
  }
  return { separator: best, skipsFirstLine: false };
}

/** Fields in each of the first records that are not blank. */
function countFields(text: string, separator: string): number[] {
  const counts: number[] = [];
  let fields = 1;
  let isQuoted = false;
  let isBlank = true;
  for (let i = 0; i < text.length && counts.length < SAMPLE_RECORDS; i++) {
    const c = text[i]!;
    if (c === '"') isQuoted = !isQuoted;
    if (isQuoted) {
      isBlank = false;
      continue;
    }
    if (c === separator) fields++;
    else if (c === "\n" || c === "\r") {
      if (!isBlank) counts.push(fields);
      fields = 1;
      isBlank = true;
      continue;
    }
    if (c !== " ") isBlank = false;
  }
  if (!isBlank && counts.length < SAMPLE_RECORDS) counts.push(fields);
  return counts;
}

export type DecimalMark = "point" | "comma";

/** How the numbers of a column are to be read. */
export interface NumberStyle {
  /** undefined = the column's cells prove both marks. */
  decimal?: DecimalMark;
  /** Was the mark stated or proved by a cell, rather than taken as usual for the separator? */
  isSure: boolean;
}

/**
 * The decimal mark of one column.
 *
 * A cell proves a mark when it can mean one number only: `12,5` and `1.234,5` prove the comma, `12.5` and `1,234.5`
 * the point. `1.234` and `1,234` prove nothing. Order of trust: the person's answer, a cell of this column, a cell of
 * any other number column of the file (`fileMark`), what is usual for the separator (comma with semicolons, else point).
 */
export function columnStyle(
  cells: Iterable<Cell>,
  usual: DecimalMark,
  fileMark?: DecimalMark,
  answer?: DecimalMark,
): NumberStyle {
  if (answer) return { decimal: answer, isSure: true };
  const proof = provedMark(cells);
  if (proof === "both") return { isSure: true };
  if (proof) return { decimal: proof, isSure: true };
  if (fileMark) return { decimal: fileMark, isSure: true };
  return { decimal: usual, isSure: false };
}

export function usualMark(separator: Separator | undefined): DecimalMark {
  return separator === ";" ? "comma" : "point";
}

/** The mark that the text cells prove, "both" when they contradict each other. */
export function provedMark(cells: Iterable<Cell>): DecimalMark | "both" | undefined {
  let found: DecimalMark | undefined;
  for (const cell of cells) {
    if (typeof cell !== "string") continue;
    const mark = markOf(cell);
    if (!mark) continue;
    if (found && found !== mark) return "both";
    found = mark;
  }
  return found;
}

/** The mark that one cell proves on its own; undefined when it has none or can be read two ways. */
export function markOf(text: string): DecimalMark | undefined {
  if (!text.includes(".") && !text.includes(",")) return undefined;
  const t = text.trim().replace(/^[+\-\u2212]/, "");
  if (!/^[\d.,\s'\u00a0\u2009\u202f\u2019]*\d?(e[+-]?\d+)?$/i.test(t)) return undefined;
  const point = t.lastIndexOf(".");
  const comma = t.lastIndexOf(",");
  if (point >= 0 && comma >= 0) return point > comma ? "point" : "comma";
  const at = Math.max(point, comma);
  if (at < 0) return undefined;
  const mark: DecimalMark = point >= 0 ? "point" : "comma";
  const sign = t[at]!;
  if (t.indexOf(sign) !== at) return mark === "point" ? "comma" : "point"; // 1.234.567: only a group mark repeats
  const digitsAfter = /^\d*/.exec(t.slice(at + 1))![0].length;
  const before = t.slice(0, at);
  const couldGroup = digitsAfter === 3 && /^[1-9]\d{0,2}$/.test(before) && t.length === at + 4;
  return couldGroup ? undefined : mark;
}
