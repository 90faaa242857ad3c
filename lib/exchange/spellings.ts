/** Names that group rows, such as a region: one spelling of each, since accounts and lists tell them apart by it. */
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import type { Draft } from "./draft";
import { columnOf, kindOf } from "./kinds";
import { problemAt } from "./problems";
import type { KindName } from "./rows";

/** What two spellings share that differ in upper and lower case or in blanks only. */
const spelledAlike = (name: string): string => name.normalize("NFKC").toLowerCase().replace(/\s+/gu, "");

/**
 * Refuses rows that bring a second spelling of what stands, or of what an earlier row of the files brings. A spelling
 * that is given up by its last row may be replaced.
 */
export function refuseSpellings(
  kind: KindName,
  drafts: readonly Draft[],
  existing: ReadonlyMap<string, unknown>,
): void {
  for (const key of kindOf(kind).oneSpelling ?? []) {
    const bringing = drafts.filter(
      (d) => d.problems.length === 0 && (d.isNew || d.changes.some((change) => change.key === key)),
    );
    if (bringing.length === 0) continue;
    const { label } = columnOf(kind, key);
    const leaving = new Set(bringing.map((d) => d.parsed.key));
    const known = new Map<string, string>();
    const exact = new Set<string>();
    const add = (value: unknown) => {
      if (typeof value !== "string" || value === "") return;
      exact.add(value);
      if (!known.has(spelledAlike(value))) known.set(spelledAlike(value), value);
    };
    for (const [code, row] of existing) if (!leaving.has(code)) add((row as Record<string, unknown>)[key]);
    for (const draft of bringing) {
      const value = draft.merged[key];
      const other = typeof value === "string" ? known.get(spelledAlike(value)) : undefined;
      if (typeof value !== "string" || other === undefined || exact.has(value)) {
        add(value);
        continue;
      }
      draft.problems.push(
        problemAt(
          { ...draft.at, column: label },
          {
            rule: "spelled-otherwise",
            value,
            ...sentences(
              phrase(
                '{{label}} "{{value}}" differs from "{{other}}" only in upper and lower case or blanks.',
                {
                  label: phrase(label),
                  value,
                  other,
                },
              ),
              phrase('Write "{{other}}" if it is the same, or a name that cannot be mistaken for it.', {
                other,
              }),
            ),
          },
        ),
      );
    }
  }
}
