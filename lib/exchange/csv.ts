/** Text of a CSV file -> records of fields (RFC 4180), and back. */
import type { Fault } from "./problems";
import type { Separator } from "./types";

export interface Records {
  /** Record i stands in row i + 1 of a spreadsheet; a blank line is a record of one empty field. */
  records: string[][];
  /** Record in which the quoting breaks: nothing from there on can be trusted. */
  fault?: Fault & { row: number };
}

/** Records and fields at which reading stops: 25 MB of separators or line breaks would fill the memory. */
const MAX_RECORDS = 500_000;
const MAX_FIELDS = 10_000;

const QUOTE = 0x22;
const CR = 0x0d;
const LF = 0x0a;

/**
 * Splits into records. Written out rather than taken from a library so that CRLF, LF and CR may be mixed in one file
 * and a broken quote names its row; the tests compare it with an independent parser.
 *
 * A quote counts only at the start of a field: `3.5" pipe` is text. The last line break is optional.
 */
export function parseRecords(text: string, separator: Separator): Records {
  const sep = separator.charCodeAt(0);
  const records: string[][] = [];
  let record: string[] = [];
  let i = 0;
  const n = text.length;
  while (i < n) {
    if (text.charCodeAt(i) === QUOTE) {
      let field = "";
      let from = i + 1;
      let close = text.indexOf('"', from);
      while (close >= 0 && text.charCodeAt(close + 1) === QUOTE) {
        field += text.slice(from, close + 1);
        from = close + 2;
        close = text.indexOf('"', from);
      }
      const row = records.length + 1;
      if (close < 0) return { records, fault: notClosed(row) };
      record.push(field + text.slice(from, close));
      i = close + 1;
      const next = text.charCodeAt(i);
      if (i < n && next !== sep && next !== CR && next !== LF) return { records, fault: misplaced(row) };
    } else {
      const from = i;
      for (; i < n; i++) {
        const c = text.charCodeAt(i);
        if (c === sep || c === LF || c === CR) break;
      }
      record.push(text.slice(from, i));
    }
    if (record.length > MAX_FIELDS) return { records, fault: tooManyFields(records.length + 1) };
    if (i < n && text.charCodeAt(i) === sep) {
      i++;
      if (i === n)
        record.push(""); // a separator at the very end opens one more, empty field
      else if (isLineBreak(text.charCodeAt(i))) record.push("");
      else continue;
    }
    if (i < n && text.charCodeAt(i) === CR && text.charCodeAt(i + 1) === LF) i++;
    i++;
    records.push(record);
    record = [];
    if (records.length > MAX_RECORDS) return { records, fault: tooManyRecords(records.length) };
  }
  return { records };
}

const isLineBreak = (c: number) => c === CR || c === LF;

const REMEDY =
  'Write a quote inside a quoted field twice (""), or save the file again from a spreadsheet program.';

function notClosed(row: number): Fault & { row: number } {
  return {
    row,
    rule: "quote-not-closed",
    message: `A quoted field that begins in row ${row} is never closed.`,
    remedy: REMEDY,
  };
}

function misplaced(row: number): Fault & { row: number } {
  return {
    row,
    rule: "quote-misplaced",
    message: `In row ${row} a quoted field goes on after its closing quote.`,
    remedy: REMEDY,
  };
}

function tooManyFields(row: number): Fault & { row: number } {
  return {
    row,
    rule: "too-many-columns",
    message: `Row ${row} has more than ${MAX_FIELDS.toLocaleString("en")} fields.`,
    remedy: "Check the separator and the quotes of the file, and delete columns that are not needed.",
  };
}

function tooManyRecords(row: number): Fault & { row: number } {
  return {
    row,
    rule: "too-many-rows",
    message: `The file has more than ${MAX_RECORDS.toLocaleString("en")} lines.`,
    remedy:
      "Delete blank lines, or split it into several files with the same header; they can be imported together.",
  };
}

/**
 * One field as RFC 4180 writes it: quoted when it holds the separator, a quote or a line break, quotes doubled.
 * Fields with a space or tab at an edge are quoted too, since some readers trim what is bare.
 */
export function csvField(text: string, separator: Separator): string {
  const asksQuotes = text.includes(separator) || /["\r\n]|^\s|\s$|^sep=/.test(text);
  return asksQuotes ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Records end with CRLF, the last one too. */
export function csvText(records: readonly (readonly string[])[], separator: Separator): string {
  return records.map((r) => `${r.map((f) => csvField(f, separator)).join(separator)}\r\n`).join("");
}
