import { english, type Phrase, phrase } from "./phrase";

/** One thing wrong with an input, in words that a person can act on. */
export interface Problem {
  /** Where: a path such as `odus[1].bandGhz`, or a column name. */
  path: string;
  /** The rule that was broken, as a short stable key, e.g. `mount-above-structure`. */
  rule: string;
  /** The value as it was given. */
  value?: unknown;
  /** What is wrong, as a sentence. */
  message: string;
  /** What to do about it, as a sentence. */
  remedy: string;
  /** Message and remedy with their figures apart, for other languages; left out where they are plain sentences. */
  said?: { message?: Phrase; remedy?: Phrase };
}

/** Message and remedy of a problem whose sentences hold figures or names: English, and apart for other languages. */
export const sentences = (message: Phrase, remedy: Phrase): Pick<Problem, "message" | "remedy" | "said"> => ({
  message: english(message),
  remedy: english(remedy),
  said: { message, remedy },
});

const asPhrase = (words: Phrase | string): Phrase => (typeof words === "string" ? phrase(words) : words);

/** A problem from its parts, in the order of the interface; sentences with figures or names are phrases. */
export function problem(
  path: string,
  rule: string,
  value: unknown,
  message: Phrase | string,
  remedy: Phrase | string,
): Problem {
  const at = { path, rule, value };
  if (typeof message === "string" && typeof remedy === "string") return { ...at, message, remedy };
  return { ...at, ...sentences(asPhrase(message), asPhrase(remedy)) };
}

/** Either the parsed value or all problems at once, never both. */
export type Result<T, P = Problem> = { ok: true; value: T } | { ok: false; problems: readonly P[] };

export const ok = <T>(value: T): { ok: true; value: T } => ({ ok: true, value });

export const refused = <P>(...problems: P[]): { ok: false; problems: readonly P[] } => ({
  ok: false,
  problems,
});
