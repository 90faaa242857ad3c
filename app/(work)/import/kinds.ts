/** The kinds of rows as pages and addresses name them. */
import type { Role } from "@/db/schema/auth";
import { headerOf, KIND_NAMES, type KindName, kindOf, unitsLike } from "@/lib/exchange";

/** Who may bring files in and take them out. */
export const IMPORTERS: readonly Role[] = ["administrator", "manager", "logistics"];

/** "crew members" -> "crew-members". */
export const slugOf = (kind: KindName) => kind.replaceAll(" ", "-");

export function kindOfSlug(slug: string): KindName | undefined {
  return KIND_NAMES.find((kind) => slugOf(kind) === slug);
}

/** A column of a kind, for a browser that does not load the reader of files. */
export interface ColumnWords {
  key: string;
  label: string;
  header: string;
  required: boolean;
  units: readonly string[];
  /** English; said in the reader's language. */
  description: string;
  example: string;
  /** Values as the file writes them, where only these are taken. */
  choices?: readonly string[];
}

export interface KindWords {
  name: KindName;
  title: string;
  description: string;
  columns: readonly ColumnWords[];
}

export function kindWords(name: KindName): KindWords {
  const { title, description, columns } = kindOf(name);
  return {
    name,
    title,
    description,
    columns: columns.map((c) => ({
      key: c.key,
      label: c.label,
      header: headerOf(c),
      required: c.required,
      units: c.unit ? unitsLike(c.unit) : [],
      description: c.description,
      example: c.example,
      ...(c.choices && { choices: c.choices }),
    })),
  };
}
