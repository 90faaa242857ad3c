import { figure, type Phrase, type PhraseValue, phrase } from "./phrase";

interface Known {
  text: string;
  names: readonly string[];
  pattern: RegExp;
}

/** Places under these names hold numbers and nothing else. */
const NUMBERS: ReadonlySet<string> = new Set(["n", "m", "k"]);
/** Places under these names hold names, which stay as they are: the site 0417 is no number. */
const NAMES: ReadonlySet<string> = new Set(["code", "codes", "otherCode", "otherCodes"]);
/** Places under these names hold lists, whose parts are read back one by one. */
const LISTS: ReadonlySet<string> = new Set(["attributes", "lacked"]);
const BETWEEN = ", ";

const read = new WeakMap<readonly string[], readonly Known[]>();

function patternsOf(sentences: readonly string[]): readonly Known[] {
  let known = read.get(sentences);
  if (!known) {
    known = sentences.map((text) => {
      const names: string[] = [];
      const body = text.split(/\{\{(\w+)\}\}/).map((piece, at) => {
        if (at % 2 === 0) return piece.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&");
        names.push(piece);
        return NUMBERS.has(piece) ? "(-?\\d+(?:\\.\\d+)?)" : "(.+?)";
      });
      return { text, names, pattern: new RegExp(`^${body.join("")}$`, "s") };
    });
    read.set(sentences, known);
  }
  return known;
}

/**
 * A sentence that was kept in English, with its figures apart again, so that it can be said in another language. Plans
 * keep the reasons of their day as text; what none of the sentences fits stays as it is.
 * @param sentences with places in double braces ({{n}}, {{m}} and {{k}} are numbers, {{code}}, {{codes}} and their others names, {{attributes}} and {{lacked}} lists); the first that fits is taken, so the more special ones come first
 */
export function readBack(text: string, sentences: readonly string[]): Phrase {
  for (const { text: sentence, names, pattern } of patternsOf(sentences)) {
    const found = pattern.exec(text);
    if (!found) continue;
    const values = names.map((name, at) => {
      const written = found[at + 1]!;
      if (NAMES.has(name)) return [name, written] as const;
      return [name, LISTS.has(name) ? listOf(written, sentences) : placeOf(written, sentences)] as const;
    });
    return phrase(sentence, Object.fromEntries(values));
  }
  return phrase(text);
}

function listOf(text: string, sentences: readonly string[]): Phrase {
  const parts = text.split(BETWEEN);
  const places = parts.map((_, at) => `{{part${at}}}`).join(BETWEEN);
  return phrase(places, Object.fromEntries(parts.map((part, at) => [`part${at}`, placeOf(part, sentences)])));
}

/** A figure is written the language's way; what is a known text itself is said too. */
function placeOf(text: string, sentences: readonly string[]): PhraseValue {
  const number = /^-?\d+(?:\.(\d+))?$/.exec(text);
  if (number) return figure(Number(text), number[1]?.length ?? 0);
  const inner = readBack(text, sentences);
  return inner.values === undefined && inner.text === text && !sentences.includes(text) ? text : inner;
}
