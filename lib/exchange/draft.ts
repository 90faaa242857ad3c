/** One file row merged with what stands, and the rules it must pass on its own. */
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { showCell } from "./cells";
import { ignoringCase, keyFrom } from "./keys";
import { columnOf, keyLabel, kindOf, rowSchema } from "./kinds";
import { faultAt } from "./parseRows";
import { type Place, problemAt } from "./problems";
import type { KindName, RowOf } from "./rows";
import type { ExchangeProblem, FieldChange, ParsedRow } from "./types";

/** What a row may refer to, as it will stand after the import. */
export interface Standing {
  /** The row, or undefined when there is none or its own row in the files is refused. */
  row(kind: KindName, key: string): unknown;
  /** Where a refused row of that key stands in the files. */
  refusedAt(kind: KindName, key: string): string | undefined;
  near(kind: KindName, key: string): string | undefined;
}

/** A file's row on its way through the checks. */
export interface Draft {
  file: number;
  at: Place & { row: number };
  parsed: ParsedRow;
  existing?: Record<string, unknown>;
  merged: Record<string, unknown>;
  isNew: boolean;
  changes: readonly FieldChange[];
  problems: ExchangeProblem[];
}

export function checkDraft(
  kind: KindName,
  draft: Draft,
  standing: Standing,
  looseExisting: ReadonlyMap<string, string>,
): void {
  if (draft.problems.length > 0) {
    // Told with the rest, so that one correction is enough; what only follows from another row is not.
    const unknown = referenceProblems(kind, draft, standing).filter((p) => p.rule === "reference-unknown");
    draft.problems.push(...unknown);
    return;
  }
  if (!draft.isNew && draft.changes.length === 0) {
    // It changes nothing, so it passes whatever newer rules would say of what stands; only what it claims is checked.
    if (hasCheckOnly(kind, draft)) checkAgainst(kind, draft, standing);
    return;
  }
  const { key } = draft.parsed;
  const other = draft.isNew && key !== undefined ? looseExisting.get(ignoringCase(key)) : undefined;
  if (other !== undefined) {
    draft.problems.push(
      problemAt(
        { ...draft.at, column: keyLabel(kind) },
        {
          rule: "key-differs-in-case",
          value: key,
          ...sentences(
            phrase('"{{key}}" differs only in upper and lower case from "{{other}}", which exists.', {
              key: key!,
              other,
            }),
            phrase('Write "{{other}}" if it is the same, or choose a code that cannot be mistaken for it.', {
              other,
            }),
          ),
        },
      ),
    );
    return;
  }
  draft.problems.push(...clearedProblems(kind, draft), ...schemaProblems(kind, draft));
  if (draft.problems.length > 0) return;
  const row = draft.merged as unknown as RowOf<KindName>;
  const definition = kindOf(kind);
  draft.problems.push(...(definition.check?.(row) ?? []).map((f) => faultAt(kind, draft.at, f)));
  draft.problems.push(...referenceProblems(kind, draft, standing));
  if (draft.problems.length > 0) return;
  checkAgainst(kind, draft, standing);
}

function checkAgainst(kind: KindName, draft: Draft, standing: Standing): void {
  const row = draft.merged as unknown as RowOf<KindName>;
  const faults = kindOf(kind).checkAgainst?.(row, (k, code) => standing.row(k, code)) ?? [];
  draft.problems.push(...faults.map((f) => faultAt(kind, draft.at, f)));
}

function hasCheckOnly(kind: KindName, draft: Draft): boolean {
  return kindOf(kind).columns.some((c) => c.isCheckOnly && draft.parsed.values[c.key] !== undefined);
}

function clearedProblems(kind: KindName, draft: Draft): ExchangeProblem[] {
  return kindOf(kind).columns.flatMap(({ key, label, isKept }): ExchangeProblem[] => {
    if (!isKept || draft.existing?.[key] === undefined || draft.merged[key] !== undefined) return [];
    const problem = problemAt(
      { ...draft.at, column: label },
      {
        rule: "cannot-be-cleared",
        ...sentences(
          phrase(
            '{{label}} is "{{value}}" now and would be blank: what is planned there would have no place.',
            { label: phrase(label), value: String(draft.existing[key]) },
          ),
          phrase("Give the new value, or leave the column out of the file."),
        ),
      },
    );
    return [problem];
  });
}

/** Columns that a new row must have and the file lacks, and whatever the schema finds in the merged row. */
function schemaProblems(kind: KindName, draft: Draft): ExchangeProblem[] {
  const result = rowSchema(kind).safeParse(draft.merged);
  if (result.success) return [];
  const seen = new Set<string>();
  return result.error.issues.flatMap((issue) => {
    const key = String(issue.path[0]);
    if (seen.has(key)) return [];
    seen.add(key);
    const column = columnOf(kind, key);
    const value = draft.merged[key];
    const fault =
      value === undefined
        ? {
            rule: "required",
            ...sentences(
              phrase("{{label}} is missing, and a new row needs it.", { label: phrase(column.label) }),
              phrase('Add the column "{{label}}" with a value, e.g. {{example}}', {
                label: column.label,
                example: column.example || phrase(column.description),
              }),
            ),
          }
        : {
            rule: "outside-limits",
            value: showCell(column, value),
            ...sentences(
              phrase("{{label}}: {{value}} {{issue}}.", {
                label: phrase(column.label),
                value: showCell(column, value),
                issue: phrase(issue.message),
              }),
              phrase("Correct it in the file, adding the column when it is not there."),
            ),
          };
    return [problemAt({ ...draft.at, column: column.label }, fault)];
  });
}

function referenceProblems(kind: KindName, draft: Draft, standing: Standing): ExchangeProblem[] {
  return kindOf(kind).references.flatMap(({ columns, kinds }): ExchangeProblem[] => {
    const last = columns.at(-1)!;
    if (draft.merged[last] === undefined) return [];
    const code = keyFrom(columns, draft.merged);
    if (kinds.some((k) => standing.row(k, code) !== undefined)) return [];
    const column = columnOf(kind, last);
    const titles = kinds.map((k) => kindOf(k).title.toLowerCase()).join(" or ");
    const refusedAt = kinds.map((k) => standing.refusedAt(k, code)).find((w) => w !== undefined);
    const near = kinds.map((k) => standing.near(k, code)).find((n) => n !== undefined);
    const fault = refusedAt
      ? {
          rule: "reference-refused",
          value: code,
          ...sentences(
            phrase('{{label}} "{{code}}" is refused itself ({{refusedAt}}).', {
              label: phrase(column.label),
              code,
              refusedAt,
            }),
            phrase("Correct that row; this one then follows."),
          ),
        }
      : {
          rule: "reference-unknown",
          value: code,
          ...sentences(
            phrase('{{label}} "{{code}}" is not among the {{titles}}.', {
              label: phrase(column.label),
              code,
              titles: phrase(titles),
            }),
            near
              ? phrase('Did you mean "{{near}}"? Otherwise import it first, or in the same import.', { near })
              : phrase("Correct the code, or import the {{titles}} first or together with this file.", {
                  titles: phrase(titles),
                }),
          ),
        };
    return [problemAt({ ...draft.at, column: column.label }, fault)];
  });
}
