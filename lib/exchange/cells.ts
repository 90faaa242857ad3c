/** One cell -> the value of its column, and back to the text that exports write. */
import type { z } from "zod";
import { figure, type Phrase, phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { readMeasure, readMoney } from "./cellNumbers";
import { type CellContext, type CellReading, type PlainCell, textOf, wrong } from "./cellReading";
import { noSuchDay, readDateCell, readInstantCell, readTimeCell } from "./cellTimes";
import { instantText, timeOfDayText } from "./dates";
import { unguardText } from "./guard";
import { readList, showList } from "./lists";
import type { Fault } from "./problems";
import { DEFAULT_MAX_LENGTH, valueSchema } from "./schema";
import type { Cell, Column } from "./types";

const BLANK: CellReading = { ok: true, value: undefined };
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
      const label = phrase(column.label);
      if (list.fault?.rule === "no-such-day") return noSuchDay(column, textOf(cell), list.fault.day);
      if (list.fault)
        return wrong(
          list.fault.rule,
          textOf(cell),
          phrase('{{label}}: "{{part}}" ends before it begins.', { label, part: list.part }),
          phrase("Write the earlier day first."),
        );
      return wrong(
        "list-part-unknown",
        textOf(cell),
        phrase('{{label}}: "{{part}}" cannot be read.', { label, part: list.part }),
        phrase("Write {{expected}}.", { expected: phrase(list.expected) }),
      );
    }
  }
}

function readYesNo(column: Column, cell: PlainCell): CellReading {
  if (typeof cell === "boolean") return { ok: true, value: cell };
  const text = String(cell).toLowerCase();
  if (YES.has(text)) return { ok: true, value: true };
  if (NO.has(text)) return { ok: true, value: false };
  return wrong(
    "not-yes-or-no",
    textOf(cell),
    phrase('{{label}}: "{{value}}" is neither yes nor no.', {
      label: phrase(column.label),
      value: textOf(cell),
    }),
    column.default === undefined && !column.required
      ? phrase("Write yes or no, or leave it blank when it is not known.")
      : phrase("Write yes or no."),
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
    phrase('{{label}}: "{{value}}" is not among the choices.', { label: phrase(column.label), value: text }),
    phrase("Write one of: {{choices}}.", { choices: choices.join(", ") }),
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
    ...sentences(outsideWords(column, value, message), limitsWords(column)),
  };
}

/** A number as it was given, with the decimals that it has. */
function asGiven(value: number, unit?: string) {
  return figure(value, String(value).split(".")[1]?.length ?? 0, unit);
}

/** Which limit a value breaks; `issue` is what the schema says of it. */
function outsideWords(column: Column, value: unknown, issue: string): Phrase {
  const label = phrase(column.label);
  const { min, above, max, unit } = column;
  if (typeof value !== "number" || (column.type !== "number" && column.type !== "integer"))
    return phrase("{{label}}: {{value}} {{issue}}.", {
      label,
      value: showCell(column, value),
      issue: phrase(issue),
    });
  const said = asGiven(value);
  if (min !== undefined && value < min)
    return phrase("{{label}}: {{value}} is under {{limit}}.", {
      label,
      value: said,
      limit: asGiven(min, unit),
    });
  if (max !== undefined && value > max)
    return phrase("{{label}}: {{value}} is over {{limit}}.", {
      label,
      value: said,
      limit: asGiven(max, unit),
    });
  if (above !== undefined && value <= above)
    return phrase("{{label}}: {{value}} must be above {{limit}}.", {
      label,
      value: said,
      limit: asGiven(above, unit),
    });
  return phrase("{{label}}: {{value}} {{issue}}.", { label, value: said, issue: phrase(issue) });
}

/** What to give instead, as a remedy. */
function limitsWords(column: Column): Phrase {
  const { type, min, above, max, unit } = column;
  const isNumber = type === "number" || type === "integer";
  if (isNumber && max !== undefined && (above ?? min) !== undefined) {
    const values = {
      what: phrase(type === "integer" ? "a whole number" : "a number"),
      from: asGiven((above ?? min)!, unit),
      to: asGiven(max, unit),
    };
    return above === undefined
      ? phrase("Give {{what}} at least {{from}} and at most {{to}}.", values)
      : phrase("Give {{what}} above {{from}} and at most {{to}}.", values);
  }
  if (type === "text")
    return phrase("Give text of at most {{most}} characters without control characters.", {
      most: String(column.maxLength ?? DEFAULT_MAX_LENGTH),
    });
  return phrase("Give {{limits}}.", { limits: limitsText(column) });
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
      return `text of at most ${column.maxLength ?? DEFAULT_MAX_LENGTH} characters without control characters`;
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
