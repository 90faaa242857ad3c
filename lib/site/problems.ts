/** Turns schema issues into problems a person can act on: where, which rule, what was given, what to do. */
import type { z } from "zod";
import type { Problem, Result } from "@/lib/result";
import { ok } from "@/lib/result";

type Issue = z.core.$ZodIssue;

/**
 * Parses `raw` and reports every problem at once: those of the schema and those that `acrossFields` finds on the
 * raw data. `acrossFields` runs even where the schema refuses, so it must cope with any shape.
 */
export function parseWith<T>(
  schema: z.ZodType<T>,
  raw: unknown,
  acrossFields: (raw: unknown) => readonly Problem[] = () => [],
): Result<T> {
  const parsed = schema.safeParse(raw);
  const problems = [
    ...(parsed.success ? [] : parsed.error.issues.flatMap((i) => problemsOf(i, raw))),
    ...acrossFields(raw),
  ];
  return parsed.success && problems.length === 0 ? ok(parsed.data) : { ok: false, problems };
}

/** `near.odus[1].bandGhz`. */
export function pathText(path: readonly PropertyKey[]): string {
  let text = "";
  for (const key of path) {
    if (typeof key === "number") text += `[${key}]`;
    else text += text === "" ? String(key) : `.${String(key)}`;
  }
  return text;
}

function problemsOf(issue: Issue, raw: unknown): Problem[] {
  const path = pathText(issue.path);
  const value = valueAt(raw, issue.path);
  const name = lastName(issue.path);
  const unit = unitOf(name);
  const inUnit = unit ? ` ${unit}` : "";
  const problem = (rule: string, message: string, remedy: string): Problem[] => [
    { path, rule, value, message, remedy },
  ];
  switch (issue.code) {
    case "unrecognized_keys":
      return issue.keys.map((key) => ({
        path: pathText([...issue.path, key]),
        rule: "unknown-field",
        value: valueAt(raw, [...issue.path, key]),
        message: `There is no field called ${key}.`,
        remedy: "Check its spelling or leave it out.",
      }));
    case "invalid_type":
      return value === undefined
        ? problem("missing", `${name} is missing.`, `Give ${wantedType(issue.expected, unit)}.`)
        : problem(
            "wrong-type",
            `${name} is ${typeText(value)}.`,
            `Give ${wantedType(issue.expected, unit)}.`,
          );
    case "invalid_value":
      return problem(
        value === undefined ? "missing" : "not-allowed",
        value === undefined ? `${name} is missing.` : `${name} cannot be ${JSON.stringify(value)}.`,
        `Use one of: ${issue.values.map(String).join(", ")}.`,
      );
    case "too_small": {
      if (issue.origin === "array")
        return problem("too-few", `${name} has too few entries.`, `Give at least ${issue.minimum}.`);
      if (issue.origin === "string") return problem("empty", `${name} is empty.`, "Give a text.");
      const bound = `${issue.inclusive ? "at least" : "more than"} ${issue.minimum}${inUnit}`;
      return problem("out-of-range", `${name} is ${String(value)}${inUnit}, not ${bound}.`, `Give ${bound}.`);
    }
    case "too_big": {
      const bound = `${issue.inclusive ? "at most" : "less than"} ${issue.maximum}${inUnit}`;
      return problem("out-of-range", `${name} is ${String(value)}${inUnit}, not ${bound}.`, `Give ${bound}.`);
    }
    case "custom": {
      const given = issue.params as { rule?: string; remedy?: string } | undefined;
      return problem(given?.rule ?? "not-allowed", issue.message, given?.remedy ?? "Correct this value.");
    }
    default:
      return problem(issue.code.replaceAll("_", "-"), `${name}: ${issue.message}.`, "Correct this value.");
  }
}

/** Unit that a field's name carries in its ending, "" for none. */
export function unitOf(name: string): string {
  return UNIT_ENDINGS.find(([ending]) => name.endsWith(ending))?.[1] ?? "";
}

/** Longest endings first: `massKgPerM` must not be read as metres. */
const UNIT_ENDINGS: readonly (readonly [ending: string, unit: string])[] = [
  ["OhmPer100M", "ohm per 100 m"],
  ["KgPerM", "kg/m"],
  ["Mm2", "mm2"],
  ["Ghz", "GHz"],
  ["Mhz", "MHz"],
  ["Deg", "degrees"],
  ["Days", "days"],
  ["Minor", "minor units of the currency"],
  ["Min", "minutes of the day"],
  ["Mm", "mm"],
  ["Km", "km"],
  ["Kg", "kg"],
  ["Db", "dB"],
  ["M", "m"],
  ["L", "l"],
  ["V", "V"],
  ["W", "W"],
  ["C", "degC"],
  ["N", "N"],
  ["G", "g"],
];

function wantedType(expected: string, unit: string): string {
  if (expected === "number" || expected === "int") return unit ? `a number in ${unit}` : "a number";
  if (expected === "boolean") return "yes or no (true or false)";
  if (expected === "array") return "a list";
  if (expected === "string") return "a text";
  return "a group of fields";
}

function typeText(value: unknown): string {
  if (value === null) return "empty";
  if (Array.isArray(value)) return "a list";
  if (typeof value === "number") return Number.isNaN(value) ? "not a number" : `the number ${value}`;
  if (typeof value === "string") return `the text ${JSON.stringify(value)}`;
  if (typeof value === "boolean") return value ? "yes" : "no";
  return "a group of fields";
}

function valueAt(raw: unknown, path: readonly PropertyKey[]): unknown {
  let at = raw;
  for (const key of path) {
    if (typeof at !== "object" || at === null) return undefined;
    at = (at as Record<PropertyKey, unknown>)[key];
  }
  return at;
}

function lastName(path: readonly PropertyKey[]): string {
  const last = path.findLast((key) => typeof key === "string");
  return typeof last === "string" ? last : "This";
}
