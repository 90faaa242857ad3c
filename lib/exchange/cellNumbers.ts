/** Number cells: measures with their conversion, and prices. */

import { phrase } from "@/lib/phrase";
import { type CellContext, type CellReading, type PlainCell, textOf, wrong } from "./cellReading";
import { readNumber } from "./numbers";
import type { Column } from "./types";
import { convertUnit } from "./units";

export function readMeasure(column: Column, cell: PlainCell, context: CellContext): CellReading {
  const number = plainNumber(column, cell, context);
  if (!number.ok) return number;
  const { conversion } = context;
  const value = conversion ? convertUnit(number.value, conversion.from, conversion.to) : number.value;
  return { ok: true, value };
}

/** In minor units of the row's currency. */
export function readMoney(column: Column, cell: PlainCell, context: CellContext): CellReading {
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
  const { unit } = column;
  return wrong(
    "not-a-number",
    text,
    phrase('{{label}}: "{{value}}" is not a number.', { label: phrase(column.label), value: text }),
    unit
      ? phrase("Write the number alone, without a unit; the unit belongs in the header ({{unit}}).", { unit })
      : phrase("Write the number alone, without a unit."),
  );
}
