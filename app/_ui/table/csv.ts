import { type Column, choiceKey, plainValue } from "./columns";

/** One field. Quoted where it must be; text that a spreadsheet would run as a formula gets a leading apostrophe. */
function field(value: string | number | boolean | undefined): string {
  if (value === undefined) return "";
  if (typeof value === "number") return String(value);
  let text = choiceKey(value);
  if (/^[=+\-@\t\r]/.test(text)) text = `'${text}`;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** The rows as CSV (RFC 4180), head with units, numbers with a decimal point. What is on screen is what is exported. */
export function toCsv<Row>(rows: readonly Row[], columns: readonly Column<Row>[]): string {
  const head = columns.map((c) => field(c.unit ? `${c.header} [${c.unit}]` : c.header)).join(",");
  const lines = rows.map((row) => columns.map((c) => field(plainValue(c.value(row)))).join(","));
  return `${[head, ...lines].join("\r\n")}\r\n`;
}

/** Hands a text file to the browser as a download. UTF-8 with a byte order mark: spreadsheets need it for accents. */
export function downloadCsv(name: string, csv: string): void {
  const url = URL.createObjectURL(new Blob(["\ufeff", csv], { type: "text/csv;charset=utf-8" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = `${name}.csv`;
  link.click();
  URL.revokeObjectURL(url);
}
