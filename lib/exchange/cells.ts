/** One cell -> the value of its column, and back to the text that exports write. */
import type { z } from "zod";
import type { CalendarDate } from "@/lib/time";
import {
  type DateOrder,
  dateOfSerial,
  instantText,
  readDate,
  readInstant,
  readTimeOfDay,
  timeOfDayText,
  wallInstant,
} from "./dates";
import { unguardText } from "./guard";
import { readList, showList } from "./lists";
import { readNumber } from "./numbers";
import type { Fault } from "./problems";
import { valueSchema } from "./schema";
import type { NumberStyle } from "./separator";
import type { Cell, Column, Question, UnitConversion } from "./types";
import { convertUnit } from "./units";

/** What is known about the column and row around a cell. */
export interface CellContext {
  style: NumberStyle;
  dateOrder: DateOrder | "both" | undefined;
  /** Zone of instants without an offset; undefined = not known, such instants are asked about. */
  zone?: string;
  conversion?: UnitConversion;
  /** Decimals of the row's currency. */
  currencyDigits: number;
}

export type CellReading =
  /** value undefined = blank */
  { ok: true; value: unknown } | { ok: false; fault: Fault; question?: Pick<Question, "option" | "choices"> };

const BLANK: CellReading = { ok: true, value: undefined };
const DAY_MILLIS = 86_400_000;
const SERIAL_OF_EPOCH = 25_569;
const YES = new Set(["yes", "y", "true", "1", "x"]);
const NO = new Set(["no", "n", "false", "0"]);
const schemas = new WeakMap<Column, z.ZodType>();

/** Reads one cell and checks its limits. Blank cells pass: whether one may be blank is a matter of the row. */
export function readCell(column: Column, cell: Cell, context: CellContext): CellReading {
  if (cell === null) return BLANK;
  if (typeof cell === "object" && !(cell instanceof Date)) {
    return wrong("cell-fault", undefined, `${column.label}: ${cell.fault}.`, cell.remedy);
  }
  const plain = typeof cell === "string" ? cleanText(unguardText(cell)) : cell;
  if (plain === "") return BLANK;
  const reading = readTyped(column, plain, context);
  if (!reading.ok || reading.value === undefined) return reading;
  const fault = limitFault(column, reading.value, cell);
  return fault ? { ok: false, fault } : reading;
}

/** Unicode NFC, line breaks as LF, no white space at the edges. */
export function cleanText(text: string): string {
  return text.normalize("NFC").replace(/\r\n?/g, "\n").trim();
}

type PlainCell = string | number | boolean | Date;

function readTyped(column: Column, cell: PlainCell, context: CellContext): CellReading {
  switch (column.type) {
    case "text":
      return { ok: true, value: textOf(cell) };
    case "number":
    case "integer":
      return readMeasure(column, cell, context);
    case "money":
      return readMoney(column, cell, context);
    case "date":
      return readDateCell(column, cell, context);
    case "time":
      return readTimeCell(column, cell);
    case "instant":
      return readInstantCell(column, cell, context.zone);
    case "boolean":
      return readYesNo(column, cell);
    case "enum":
      return readChoice(column, cell);
    case "list": {
      const list = readList(column.listForm!, textOf(cell));
      if (list.ok) return { ok: true, value: list.value };
      return wrong(
        "list-part-unknown",
        textOf(cell),
        `${column.label}: "${list.part}" cannot be read.`,
        `Write ${list.expected}.`,
      );
    }
  }
}

function textOf(cell: PlainCell): string {
  if (cell instanceof Date) {
    const iso = cell.toISOString();
    return iso.endsWith("T00:00:00.000Z") ? iso.slice(0, 10) : iso.slice(0, 16).replace("T", " ");
  }
  return String(cell);
}

function readMeasure(column: Column, cell: PlainCell, context: CellContext): CellReading {
  const number = plainNumber(column, cell, context);
  if (!number.ok) return number;
  const { conversion } = context;
  const value = conversion ? convertUnit(number.value, conversion.from, conversion.to) : number.value;
  return { ok: true, value };
}

function readMoney(column: Column, cell: PlainCell, context: CellContext): CellReading {
  const number = plainNumber(column, cell, context);
  if (!number.ok) return number;
  const minor = number.value * 10 ** context.currencyDigits;
  const whole = Math.round(minor);
  if (Math.abs(minor - whole) > 1e-6 * Math.max(1, Math.abs(whole) * 1e-6)) {
    return wrong(
      "money-too-fine",
      textOf(cell),
      `${column.label}: the currency has ${context.currencyDigits} decimals.`,
      "Round the amount, or give the price of a larger unit.",
    );
  }
  return { ok: true, value: whole };
}

type NumberOrFault = { ok: true; value: number } | Extract<CellReading, { ok: false }>;

function plainNumber(column: Column, cell: PlainCell, context: CellContext): NumberOrFault {
  if (typeof cell === "number" && Number.isFinite(cell)) return { ok: true, value: cell };
  if (cell instanceof Date) {
    return wrong(
      "number-turned-date",
      textOf(cell),
      `${column.label}: the spreadsheet holds a date (${textOf(cell)}) where a number belongs.`,
      "Set the cell's format to number and type the value again.",
    );
  }
  const text = String(cell);
  const reading = readNumber(text, context.style);
  if (reading.state === "number") return { ok: true, value: reading.value };
  if (reading.state === "ambiguous") {
    const { asPoint, asComma } = reading;
    return {
      ...wrong(
        "number-ambiguous",
        text,
        `${column.label}: "${text}" can be ${asPoint} or ${asComma}, and nothing in the file decides.`,
        "Say whether the file has a decimal point or a decimal comma.",
      ),
      question: {
        option: "decimalMark",
        choices: [
          { answer: "point", readsAs: String(asPoint) },
          { answer: "comma", readsAs: String(asComma) },
        ],
      },
    };
  }
  if (reading.state === "mixed") {
    return wrong(
      "number-mixed-marks",
      text,
      `${column.label}: "${text}" can be read two ways, and the column has both decimal points and decimal commas.`,
      "Write all numbers of the column with one mark.",
    );
  }
  const unit = column.unit ? ` (${column.unit})` : "";
  return wrong(
    "not-a-number",
    text,
    `${column.label}: "${text}" is not a number.`,
    `Write the number alone, without a unit${unit ? `; the unit belongs in the header${unit}` : ""}.`,
  );
}

function readDateCell(column: Column, cell: PlainCell, context: CellContext): CellReading {
  if (cell instanceof Date) {
    if (cell.getTime() % DAY_MILLIS !== 0) return hasTime(column, textOf(cell));
    const reading = readDate(cell.toISOString().slice(0, 10), undefined);
    return reading.state === "date" ? { ok: true, value: reading.value } : notADate(column, textOf(cell));
  }
  const serial = dateOfSerial(Number(cell));
  if (serial && typeof cell !== "boolean") return { ok: true, value: serial };
  const text = String(cell);
  const reading = readDate(text, context.dateOrder);
  switch (reading.state) {
    case "date":
      return { ok: true, value: reading.value };
    case "ambiguous":
      return {
        ...wrong(
          "date-ambiguous",
          text,
          `${column.label}: "${text}" can be ${reading.dayFirst} or ${reading.monthFirst}, and nothing in the column decides.`,
          "Say whether the day or the month comes first in this file, or write dates as YYYY-MM-DD.",
        ),
        question: {
          option: "dateOrder",
          choices: [
            { answer: "day first", readsAs: reading.dayFirst },
            { answer: "month first", readsAs: reading.monthFirst },
          ],
        },
      };
    case "mixed":
      return wrong(
        "date-mixed-orders",
        text,
        `${column.label}: some dates of the column have the day first and some the month, so "${text}" can be both.`,
        "Write all dates as YYYY-MM-DD.",
      );
    case "two-digit year":
      return wrong(
        "date-short-year",
        text,
        `${column.label}: "${text}" has a year of two digits.`,
        "Write the year with four digits.",
      );
    case "has a time":
      return hasTime(column, text);
    case "not a date":
      return notADate(column, text);
  }
}

function hasTime(column: Column, text: string) {
  return wrong(
    "date-with-time",
    text,
    `${column.label}: "${text}" has a time of day.`,
    "Give the date alone, since a time may belong to another day in the site's zone.",
  );
}

function notADate(column: Column, text: string) {
  return wrong("not-a-date", text, `${column.label}: "${text}" is not a date.`, "Write dates as YYYY-MM-DD.");
}

function readTimeCell(column: Column, cell: PlainCell): CellReading {
  let minutes: number | undefined;
  if (cell instanceof Date) {
    const ofDay = ((cell.getTime() % DAY_MILLIS) + DAY_MILLIS) % DAY_MILLIS;
    minutes = cell.getUTCFullYear() < 1901 ? Math.round(ofDay / 60_000) : undefined;
  } else if (typeof cell === "number") {
    minutes = cell >= 0 && cell <= 1 ? Math.round(cell * 1440) : undefined;
  } else minutes = readTimeOfDay(String(cell));
  if (minutes !== undefined) return { ok: true, value: minutes };
  return wrong(
    "not-a-time",
    textOf(cell),
    `${column.label}: "${textOf(cell)}" is not a time of day.`,
    "Write it as 07:30; 24:00 is the end of the day.",
  );
}

function readInstantCell(column: Column, cell: PlainCell, zone: string | undefined): CellReading {
  let value: number | "zone unknown" | undefined;
  if (typeof cell === "string") value = readInstant(cell, zone);
  else if (cell instanceof Date) value = wallClock(cell.getTime(), zone);
  else if (typeof cell === "number" && dateOfSerial(Math.floor(cell))) {
    // A day's fraction is not exact: 13:00 comes as 0.541666...; whole seconds are meant.
    value = wallClock(Math.round((cell - SERIAL_OF_EPOCH) * 86_400) * 1000, zone);
  }
  if (typeof value === "number") return { ok: true, value };
  if (value === "zone unknown") {
    return { ok: false, fault: zoneUnknown(column.label, textOf(cell)), question: ZONE_QUESTION };
  }
  return wrong(
    "not-a-time",
    textOf(cell),
    `${column.label}: "${textOf(cell)}" is not a date and time.`,
    "Write it as 2026-01-01T13:00Z (UTC), or with an offset as 2026-01-01T14:00+01:00.",
  );
}

export const ZONE_QUESTION: Pick<Question, "option" | "choices"> = {
  option: "zone",
  choices: [{ answer: "UTC", readsAs: "hours of UTC" }],
};

/** An hour without an offset in a file of which nobody said the zone. */
export function zoneUnknown(label: string, text: string): Fault {
  return {
    rule: "hour-without-zone",
    value: text,
    message: `${label}: "${text}" does not say in which time zone it is.`,
    remedy:
      "Say the time zone of the file's hours (UTC or an IANA name), or write them as 2026-01-01T13:00Z.",
  };
}

/** `millis` shows a wall clock as if it were UTC. */
function wallClock(millis: number, zone: string | undefined): number | "zone unknown" {
  if (zone === undefined) return "zone unknown";
  const minute = Math.floor((millis % DAY_MILLIS) / 60_000);
  const date = new Date(millis).toISOString().slice(0, 10) as CalendarDate;
  return wallInstant(date, minute, zone);
}

function readYesNo(column: Column, cell: PlainCell): CellReading {
  if (typeof cell === "boolean") return { ok: true, value: cell };
  const text = String(cell).toLowerCase();
  if (YES.has(text)) return { ok: true, value: true };
  if (NO.has(text)) return { ok: true, value: false };
  return wrong(
    "not-yes-or-no",
    textOf(cell),
    `${column.label}: "${textOf(cell)}" is neither yes nor no.`,
    column.default === undefined && !column.required
      ? "Write yes or no, or leave it blank when it is not known."
      : "Write yes or no.",
  );
}

function readChoice(column: Column, cell: PlainCell): CellReading {
  const text = textOf(cell).replace(/\s+/g, " ");
  const lower = text.toLowerCase();
  const choices = column.choices ?? [];
  const hit = choices.find((c) => c === text) ?? choices.find((c) => c.toLowerCase() === lower);
  if (hit !== undefined) return { ok: true, value: hit };
  const alias = column.choiceAliases?.[lower];
  if (alias !== undefined) return alias === "" ? BLANK : { ok: true, value: alias };
  return wrong(
    "not-a-choice",
    text,
    `${column.label}: "${text}" is not among the choices.`,
    `Write one of: ${choices.join(", ")}.`,
  );
}

function limitFault(column: Column, value: unknown, cell: Cell): Fault | undefined {
  let schema = schemas.get(column);
  if (!schema) {
    schema = valueSchema(column);
    schemas.set(column, schema);
  }
  const result = schema.safeParse(value);
  if (result.success) return undefined;
  const message = result.error.issues[0]?.message ?? "is not allowed";
  return {
    rule: "outside-limits",
    value: cell instanceof Date ? textOf(cell) : cell,
    message: `${column.label}: ${showCell(column, value)} ${message}.`,
    remedy: `Give ${limitsText(column)}.`,
  };
}

/** "a number of m, at least 0, at most 700": for remedies and the template's description. */
export function limitsText(column: Column): string {
  const unit = column.unit ? ` ${column.unit}` : "";
  const limits = [
    ...(column.above === undefined ? [] : [`above ${column.above}${unit}`]),
    ...(column.min === undefined ? [] : [`at least ${column.min}${unit}`]),
    ...(column.max === undefined ? [] : [`at most ${column.max}${unit}`]),
  ];
  switch (column.type) {
    case "integer":
    case "number":
    case "money": {
      const what =
        column.type === "integer" ? "a whole number" : column.type === "money" ? "an amount" : "a number";
      const inUnit = limits.length === 0 && column.unit ? ` in ${column.unit}` : "";
      return `${what}${inUnit}${limits.length > 0 ? ` ${limits.join(" and ")}` : ""}`;
    }
    case "text":
      return `text of at most ${column.maxLength ?? 200} characters without control characters`;
    case "enum":
      return `one of: ${(column.choices ?? []).join(", ")}`;
    case "date":
      return "a date as YYYY-MM-DD";
    case "time":
      return "a time as HH:MM";
    case "instant":
      return "a time as 2026-01-01T13:00Z";
    case "boolean":
      return "yes or no";
    case "list":
      return "a list as the template shows";
  }
}

/** The text that exports write for a value; "" for none. Numbers in full precision with a decimal point. */
export function showCell(column: Column, value: unknown, currencyDigits = 2): string {
  if (value === undefined || value === null) return "";
  switch (column.type) {
    case "number":
    case "integer":
      return String(value);
    case "money":
      return (Number(value) / 10 ** currencyDigits).toFixed(currencyDigits);
    case "time":
      return timeOfDayText(Number(value));
    case "instant":
      return instantText(Number(value));
    case "boolean":
      return value ? "yes" : "no";
    case "list":
      return showList(column.listForm!, value as readonly unknown[]);
    default:
      return String(value);
  }
}

function wrong(rule: string, value: unknown, message: string, remedy: string) {
  return { ok: false as const, fault: { rule, value, message, remedy } };
}
