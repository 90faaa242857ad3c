/** Columns of a kind -> a zod schema for whole rows: the one place that says what a stored row may hold. */
import { z } from "zod";
import { partKeys } from "@/lib/calibration";
import { DEFAULT_NORMS, SKILLS } from "@/lib/hours";
import { SEGMENT_KINDS } from "@/lib/site";
import { parseCalendarDate } from "@/lib/time";
import type { Column, ListForm } from "./types";

export const DEFAULT_MAX_LENGTH = 200;
const DAY_MIN = 1440;
/** Control characters other than tab and line feed. */
const CONTROL = /[^\P{Cc}\t\n]/u;

const date = z.string().refine((t) => parseCalendarDate(t) !== undefined, "is not a calendar date");

const LIST_SCHEMAS: Readonly<Record<ListForm, z.ZodType>> = {
  weekdays: z.array(z.int().min(1).max(7)).min(1),
  polarisations: z.array(z.enum(["V", "H"])).min(1),
  skills: z
    .array(z.object({ skill: z.enum(SKILLS as unknown as [string]), validUntil: date.optional() }))
    .refine((l) => new Set(l.map((s) => s.skill)).size === l.length, "names a skill twice"),
  leave: z
    .array(
      z
        .object({
          fromOn: date,
          toOn: date,
          reason: z
            .string()
            .max(DEFAULT_MAX_LENGTH)
            .refine((r) => r === r.trim() && !r.includes(";") && !CONTROL.test(r), 'has a reason with ";"'),
        })
        .refine((l) => l.fromOn <= l.toOn, "ends before it begins"),
    )
    .refine((l) => new Set(l.map((x) => x.fromOn)).size === l.length, "begins twice on one day"),
  route: z
    .array(
      z.object({
        kind: z.enum(SEGMENT_KINDS as unknown as [string]),
        lengthM: z.number().min(0.01, "has a segment under 0.01 m").max(5000, "has a segment over 5000 m"),
        bendAtEnd: z.boolean(),
      }),
    )
    .min(1, "has no segment"),
  "task minutes": z
    .array(
      z.object({
        part: z.enum(partKeys(DEFAULT_NORMS) as [string]),
        workedMin: z.number().positive("has a task of no minutes").max(1440, "has a task over 1440 min"),
      }),
    )
    .refine((l) => new Set(l.map((t) => t.part)).size === l.length, "names a task twice"),
};

/** Schema of the stored rows of a kind; virtual columns are not part of it. */
export function schemaOf(columns: readonly Column[]): z.ZodObject {
  const shape: Record<string, z.ZodType> = {};
  for (const column of columns) {
    if (column.isVirtual) continue;
    const value = valueSchema(column);
    const isSet = column.required || column.default !== undefined;
    shape[column.key] = isSet ? value : value.optional();
  }
  return z.object(shape);
}

/** Schema of one stored value. */
export function valueSchema(column: Column): z.ZodType {
  switch (column.type) {
    case "text":
      return z
        .string()
        .min(1)
        .max(
          column.maxLength ?? DEFAULT_MAX_LENGTH,
          `is longer than ${column.maxLength ?? DEFAULT_MAX_LENGTH} characters`,
        )
        .refine((t) => !CONTROL.test(t), "holds control characters");
    case "number":
      return limited(z.number(), column);
    case "integer":
    case "money":
    case "instant":
      return limited(z.int("must be a whole number"), column);
    case "time":
      return z.int().min(0).max(DAY_MIN);
    case "date":
      return date;
    case "boolean":
      return z.boolean();
    case "enum":
      return z.enum(column.choices as unknown as [string]);
    case "list":
      return LIST_SCHEMAS[column.listForm!];
  }
}

function limited(schema: z.ZodNumber, column: Column): z.ZodNumber {
  const unit = column.unit ? ` ${column.unit}` : "";
  let s = schema;
  if (column.min !== undefined) s = s.min(column.min, `is under ${column.min}${unit}`);
  if (column.above !== undefined) s = s.gt(column.above, `must be above ${column.above}${unit}`);
  if (column.max !== undefined) s = s.max(column.max, `is over ${column.max}${unit}`);
  return s;
}
