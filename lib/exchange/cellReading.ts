/** What comes of reading one cell, and the parts that all readers share. */
import type { Phrase } from "@/lib/phrase";
import { problem } from "@/lib/result";
import type { DateOrder } from "./dates";
import type { Fault } from "./problems";
import type { NumberStyle } from "./separator";
import type { Question, UnitConversion } from "./types";

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

/** A cell that is neither blank nor a fault; text is cleaned. */
export type PlainCell = string | number | boolean | Date;

/** The cell as text, dates as ISO. */
export function textOf(cell: PlainCell): string {
  if (cell instanceof Date) {
    const iso = cell.toISOString();
    return iso.endsWith("T00:00:00.000Z") ? iso.slice(0, 10) : iso.slice(0, 16).replace("T", " ");
  }
  return String(cell);
}

export function wrong(rule: string, value: unknown, message: Phrase | string, remedy: Phrase | string) {
  const { path: _, ...fault } = problem("", rule, value, message, remedy);
  return { ok: false as const, fault };
}
