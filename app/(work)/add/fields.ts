/** The columns of a kind as fields of a form: what a file may give is what the form asks for, no more and no less. */
import { type Column, type DecimalMark, type KindName, typedColumns, typedText } from "@/lib/exchange";

/** For a browser that does not load the reader of files. Words are English; the form says them. */
export interface FieldSpec {
  key: string;
  label: string;
  unit?: string;
  type: Column["type"];
  listForm?: Column["listForm"];
  isRequired: boolean;
  /** What a blank field means, as a person would type it. */
  usual?: string;
  choices?: readonly string[];
  description: string;
  /** May it be below zero? Decimal keys of a phone often have no minus. */
  isSigned: boolean;
}

/** Signs that differ from the unit's name in files. */
const UNIT_SIGNS: Readonly<Record<string, string>> = { deg: "°" };

/** Columns whose value follows from the row's place in the form. */
const FOLLOWS = new Set(["hopCode", "side"]);

export function fieldsOf(kind: KindName, decimal: DecimalMark): FieldSpec[] {
  return typedColumns(kind)
    .filter((c) => !FOLLOWS.has(c.key) || (kind === "gates" && c.key === "side"))
    .map((c) => ({
      key: c.key,
      label: c.label,
      ...(c.unit && { unit: UNIT_SIGNS[c.unit] ?? c.unit }),
      type: c.type,
      ...(c.listForm && { listForm: c.listForm }),
      // A route is given by its metres as well.
      isRequired: c.required && c.listForm !== "route",
      ...(c.default !== undefined && { usual: typedText(c, c.default, decimal) }),
      ...(c.choices && { choices: c.choices }),
      description: c.description,
      isSigned: (c.min ?? c.above ?? 0) < 0,
    }));
}
