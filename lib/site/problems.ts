/** Turns schema issues into problems a person can act on: where, which rule, what was given, what to do. */
import type { z } from "zod";
import { figure, type Phrase, type PhraseValue, phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, sentences } from "@/lib/result";

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
  const field = lastName(issue.path);
  const unit = unitOf(field);
  const problem = (rule: string, message: Phrase, remedy: Phrase): Problem[] => [
    { path, rule, value, ...sentences(message, remedy) },
  ];
  const missing = phrase("{{field}} is missing.", { field });
  const atLeast = (limit: PhraseValue): Phrase => phrase("Give at least {{limit}}.", { limit });
  const outside = (
    bound: unknown,
    say: (said: Record<string, PhraseValue> & { limit: PhraseValue }) => [Phrase, Phrase],
  ) => problem("out-of-range", ...say({ field, given: amountOf(value, unit), limit: amountOf(bound, unit) }));
  switch (issue.code) {
    case "unrecognized_keys":
      return issue.keys.map((key) => ({
        path: pathText([...issue.path, key]),
        rule: "unknown-field",
        value: valueAt(raw, [...issue.path, key]),
        ...sentences(
          phrase("There is no field called {{name}}.", { name: key }),
          phrase("Check its spelling or leave it out."),
        ),
      }));
    case "invalid_type":
      return value === undefined
        ? problem("missing", missing, wantedType(issue.expected, unit))
        : problem(
            "wrong-type",
            phrase("{{field}} is {{given}}.", { field, given: typeText(value) }),
            wantedType(issue.expected, unit),
          );
    case "invalid_value":
      return problem(
        value === undefined ? "missing" : "not-allowed",
        value === undefined
          ? missing
          : phrase("{{field}} cannot be {{given}}.", { field, given: JSON.stringify(value) }),
        phrase("Use one of: {{choices}}.", { choices: issue.values.map(String).join(", ") }),
      );
    case "too_small": {
      if (issue.origin === "array")
        return problem(
          "too-few",
          phrase("{{field}} has too few entries.", { field }),
          atLeast(amountOf(issue.minimum, "")),
        );
      if (issue.origin === "string")
        return problem("empty", phrase("{{field}} is empty.", { field }), phrase("Give a text."));
      return outside(issue.minimum, (said) =>
        issue.inclusive
          ? [phrase("{{field}} is {{given}}, not at least {{limit}}.", said), atLeast(said.limit)]
          : [
              phrase("{{field}} is {{given}}, not more than {{limit}}.", said),
              phrase("Give more than {{limit}}.", { limit: said.limit }),
            ],
      );
    }
    case "too_big":
      return outside(issue.maximum, (said) =>
        issue.inclusive
          ? [
              phrase("{{field}} is {{given}}, not at most {{limit}}.", said),
              phrase("Give at most {{limit}}.", { limit: said.limit }),
            ]
          : [
              phrase("{{field}} is {{given}}, not less than {{limit}}.", said),
              phrase("Give less than {{limit}}.", { limit: said.limit }),
            ],
      );
    case "custom": {
      const given = issue.params as { rule?: string; remedy?: string } | undefined;
      return [
        {
          path,
          rule: given?.rule ?? "not-allowed",
          value,
          message: issue.message,
          remedy: given?.remedy ?? "Correct this value.",
        },
      ];
    }
    default:
      return problem(
        issue.code.replaceAll("_", "-"),
        phrase("{{field}}: {{why}}.", { field, why: phrase(issue.message) }),
        phrase("Correct this value."),
      );
  }
}

const MOST_DIGITS = 20;

/** A number with all its decimals: a refusal repeats what was given. */
function amountOf(value: unknown, unit: string): PhraseValue {
  if (typeof value !== "number") return unit ? `${String(value)} ${unit}` : String(value);
  const [, decimals = "", power = "0"] = /^-?\d+(?:\.(\d+))?(?:e-(\d+))?$/.exec(String(value)) ?? [];
  const digits = Math.min(MOST_DIGITS, decimals.length + Number(power));
  if (!WORD_UNITS.has(unit)) return figure(value, digits, unit || undefined);
  return phrase("{{value}} {{unit}}", { value: figure(value, digits), unit: phrase(unit) });
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

/** Units that other languages say in other words. */
export const WORD_UNITS: ReadonlySet<string> = new Set([
  "ohm per 100 m",
  "degrees",
  "days",
  "minor units of the currency",
  "minutes of the day",
]);

function wantedType(expected: string, unit: string): Phrase {
  if (expected === "number" || expected === "int") {
    if (unit === "") return phrase("Give a number.");
    return phrase("Give a number in {{unit}}.", { unit: WORD_UNITS.has(unit) ? phrase(unit) : unit });
  }
  if (expected === "boolean") return phrase("Give yes or no (true or false).");
  if (expected === "array") return phrase("Give a list.");
  if (expected === "string") return phrase("Give a text.");
  return phrase("Give a group of fields.");
}

function typeText(value: unknown): Phrase {
  if (value === null) return phrase("empty");
  if (Array.isArray(value)) return phrase("a list");
  if (typeof value === "number")
    return Number.isNaN(value)
      ? phrase("not a number")
      : phrase("the number {{value}}", { value: amountOf(value, "") });
  if (typeof value === "string") return phrase("the text {{text}}", { text: JSON.stringify(value) });
  if (typeof value === "boolean") return value ? phrase("yes") : phrase("no");
  return phrase("a group of fields");
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
