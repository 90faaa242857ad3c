/**
 * Rows that a person types into a form. Each is read, checked and compared like a row of a file, so that what is
 * entered by hand and what is brought in obey one set of rules. Storing is the caller's, as for files.
 */
import { english, type Phrase, phrase } from "@/lib/phrase";
import { type Problem, sentences } from "@/lib/result";
import { previewBundle } from "./bundle";
import { showCell } from "./cells";
import { keyFrom } from "./keys";
import { columnOf, kindOf } from "./kinds";
import { readNumber } from "./numbers";
import { EXAMPLE_MARK, parseRows } from "./parseRows";
import type { KindName, RowOf } from "./rows";
import type { DecimalMark } from "./separator";
import type { BundlePreview, Cell, Column, ExchangeProblem, ExistingRows, ParsedFile } from "./types";
import { cellsOfRow, isNumeric } from "./write";

/** What stands in the fields of a row, by column key; a column that is not named is blank. */
export type TypedText = Readonly<Record<string, string>>;

export interface TypedRow {
  kind: KindName;
  /** Names the row within its form; problems stand at `${at}.${column key}`. */
  at: string;
  cells: TypedText;
}

/** A row that stands and is taken out: no file says this, a person does. */
export interface TakenOut {
  kind: KindName;
  key: string;
}

/** The columns of a kind that a form asks for: those that are only checked against another row are left out. */
export const typedColumns = (kind: KindName): readonly Column[] =>
  kindOf(kind).columns.filter((c) => !c.isCheckOnly);

/**
 * Previews all rows together. A row is a table of its own here, since the columns of a form do not prove anything
 * about each other's numbers and dates.
 *
 * @param decimal the mark that the person's language has; a number that can mean one thing only is read as that
 * @param out rows that stand and are taken out, named by their key columns: nothing may refer to them any more
 */
export async function previewTyped(
  rows: readonly TypedRow[],
  existing: ExistingRows,
  decimal: DecimalMark,
  out: readonly TypedRow[] = [],
): Promise<{ bundle: BundlePreview; problems: Problem[]; takenOut: TakenOut[] }> {
  const takenOut = out
    .map(({ kind, cells }): TakenOut => ({ kind, key: typedKey(kindOf(kind).key, cells) }))
    .filter(({ kind, key }) => existing[kind]?.has(key));
  const parsed = await Promise.all(rows.map((row) => parsedFrom(row, decimal)));
  const bundle = await previewBundle(parsed, withoutRows(existing, takenOut));
  const problems = bundle.files.flatMap((file, i) => {
    const row = rows[i]!;
    if (file.rows.length === 0) return [exampleProblem(row)];
    return file.rows.flatMap((r) => r.problems.map((p) => problemInForm(row, p)));
  });
  const referring = rows.flatMap((row) => referenceProblems(row, rows, takenOut));
  const paths = new Set(referring.map((p) => p.path));
  return {
    bundle,
    problems: [...tellingOnes(problems).filter((p) => !paths.has(p.path)), ...referring],
    takenOut,
  };
}

const typedKey = (columns: readonly string[], cells: TypedText): string =>
  keyFrom(columns, Object.fromEntries(columns.map((c) => [c, cells[c]?.trim()])));

function withoutRows(existing: ExistingRows, takenOut: readonly TakenOut[]): ExistingRows {
  const kept: Record<string, unknown> = { ...existing };
  for (const { kind } of takenOut) {
    const gone = new Set(takenOut.filter((t) => t.kind === kind).map((t) => t.key));
    const rows: ReadonlyMap<string, unknown> = existing[kind] ?? new Map();
    kept[kind] = new Map([...rows].filter(([key]) => !gone.has(key)));
  }
  return kept as ExistingRows;
}

/** What a row refers to and the form takes out. A row that is otherwise as it was passes the checks of files unseen. */
function referenceProblems(
  row: TypedRow,
  rows: readonly TypedRow[],
  takenOut: readonly TakenOut[],
): Problem[] {
  return kindOf(row.kind).references.flatMap(({ columns, kinds }): Problem[] => {
    const key = typedKey(columns, row.cells);
    const isGone = takenOut.some((t) => kinds.includes(t.kind) && t.key === key);
    // The form may give another of the same name.
    const isThere = rows.some((r) => kinds.includes(r.kind) && typedKey(kindOf(r.kind).key, r.cells) === key);
    if (!isGone || isThere) return [];
    const last = columns.at(-1)!;
    const value = row.cells[last]?.trim() ?? "";
    return [
      {
        path: `${row.at}.${last}`,
        rule: "refers-to-taken-out",
        value,
        ...sentences(
          phrase('{{label}} "{{value}}" is taken out in this form.', {
            label: phrase(columnOf(row.kind, last).label),
            value,
          }),
          phrase("Choose another one, or take this out too."),
        ),
      },
    ];
  });
}

function parsedFrom({ kind, at, cells }: TypedRow, decimal: DecimalMark): Promise<ParsedFile> {
  const columns = typedColumns(kind);
  const row = columns.map((c) => cellOf(c, cells[c.key] ?? "", decimal));
  return parseRows({
    kind,
    table: {
      fileName: at,
      source: "csv",
      headerRow: 1,
      header: columns.map((c) => c.label),
      rows: [{ rowNumber: 2, cells: row }],
      notices: [],
    },
    columns: columns.map((column, index) => ({ column, index, header: column.label })),
    constants: {},
    notices: [],
  });
}

function cellOf(column: Column, text: string, decimal: DecimalMark): Cell {
  if (text.trim() === "") return null;
  if (!isNumeric(column)) return text;
  const number = readNumber(text, { decimal, isSure: true });
  return number.state === "number" ? number.value : text;
}

/** The row's problem at its field. The rows of a form have no numbers: what says where in a file is said anew. */
function problemInForm({ kind, at, cells }: TypedRow, problem: ExchangeProblem): Problem {
  const { columns, key: keys } = kindOf(kind);
  const key = columns.find((c) => c.label === problem.column)?.key ?? keys.at(-1)!;
  const { rule, value, message, remedy, said } = problem;
  const path = `${at}.${key}`;
  const instead = remedyInForm(
    key,
    problem,
    columns.find((c) => c.key === key),
  );
  if (instead)
    return { path, rule, value, message, remedy: english(instead), said: { ...said, remedy: instead } };
  if (rule !== "duplicate-key") return { path, rule, value, message, remedy, ...(said && { said }) };
  return {
    path,
    rule,
    value: cells[key] ?? "",
    ...sentences(
      phrase('{{label}} "{{value}}" stands twice in this form.', {
        label: phrase(columnOf(kind, key).label),
        value: cells[key] ?? "",
      }),
      phrase("Give one of them another, or take one of them out."),
    ),
  };
}

/** What helps in a form where the remedy of a file speaks of headers, columns and other files. */
function remedyInForm(
  key: string,
  { rule, said }: ExchangeProblem,
  column: Column | undefined,
): Phrase | undefined {
  switch (rule) {
    case "not-a-number":
      return phrase("Write the number alone, without a unit.");
    case "cannot-be-cleared":
      return phrase("Give the new value.");
    case "end-without-site":
      return phrase("Choose the site; add it first when it is not there.");
    case "required":
      if (key === "route") return phrase("Give the cable's metres, or its route as text.");
      // A form offers the words of the reader's language; a file's example is a word of the file.
      return column?.choices ? phrase("Choose one of the list.") : undefined;
    case "reference-unknown": {
      const near = said?.remedy?.values?.near;
      return near === undefined
        ? phrase("Correct it, or add it first.")
        : phrase('Did you mean "{{near}}"? Otherwise add it first.', { near });
    }
    default:
      return undefined;
  }
}

/** Templates hold examples whose codes begin so, and files that have them are read without them. */
const exampleProblem = ({ kind, at, cells }: TypedRow): Problem => {
  const [key] = kindOf(kind).key;
  return {
    path: `${at}.${key}`,
    rule: "example-code",
    value: cells[key!],
    ...sentences(
      phrase("Codes that begin with {{mark}} are examples of the templates and are never stored.", {
        mark: EXAMPLE_MARK,
      }),
      phrase("Choose another code."),
    ),
  };
};

/** Without what only follows from a fault that is told elsewhere in the form, and each fault of a field once. */
function tellingOnes(problems: readonly Problem[]): Problem[] {
  const roots = problems.filter((p) => p.rule !== "reference-refused");
  return [...new Map(roots.map((p) => [`${p.path} ${p.rule}`, p])).values()];
}

/** A stored row as the fields of a form show it: `previewTyped` reads the same row back. */
export function typedCells<K extends KindName>(
  kind: K,
  row: RowOf<K>,
  decimal: DecimalMark,
): Record<string, string> {
  const cells = cellsOfRow(kind, row);
  return Object.fromEntries(
    typedColumns(kind).map((column) => [column.key, typedText(column, cells[column.key], decimal)]),
  );
}

/** One value as a person types it. */
export function typedText(column: Column, value: unknown, decimal: DecimalMark): string {
  const text = showCell(column, value);
  return decimal === "comma" && isNumeric(column) ? text.replace(".", ",") : text;
}
