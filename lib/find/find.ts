/** Finding things by a few letters of their code or words: the exact code first, then its beginning, then the rest. */

/** Lower case and without accents, so that "zurich" finds "Zürich". */
export function folded(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}

export interface Findable {
  /** Folded code without signs: "vh001". */
  bareCode: string;
  /** Folded code and words, with a blank before each word. */
  text: string;
}

/** What `findIn` looks at; made once, for thousands of things are looked through with every letter. */
export function findable(code: string, words = ""): Findable {
  return { bareCode: bare(folded(code)), text: ` ${folded(`${code} ${words}`)}` };
}

const bare = (text: string): string => text.replace(/[^\p{L}\p{N}]/gu, "");

/**
 * Those that hold every word of the query, best first: the code itself, a code that begins with it, a word that
 * begins with each part, then any that hold it. Within a class they keep the order in which they were given.
 */
export function findIn<T extends Findable>(
  things: readonly T[],
  query: string,
  most: number,
  mayShow: (thing: T) => boolean = () => true,
): T[] {
  const { parts, code } = partsOf(query);
  if (parts.length === 0) return [];
  const classes: T[][] = [[], [], [], []];
  for (const thing of things) {
    const rank = rankOf(thing, parts, code);
    if (rank === undefined || !mayShow(thing)) continue;
    const found = classes[rank]!;
    // A class of its own can fill the answer: more of it is never shown.
    if (found.length < most) found.push(thing);
  }
  return classes.flat().slice(0, most);
}

/** How well a thing fits: 0 = its code is the query, up to 3 = it holds every word somewhere; undefined = it does not. */
export function rankIn(thing: Findable, query: string): number | undefined {
  const { parts, code } = partsOf(query);
  return parts.length === 0 ? undefined : rankOf(thing, parts, code);
}

function partsOf(query: string): { parts: readonly string[]; code: string } {
  const parts = folded(query).split(/\s+/).filter(Boolean);
  return { parts, code: bare(parts.join("")) };
}

function rankOf({ bareCode, text }: Findable, parts: readonly string[], code: string): number | undefined {
  if (code !== "" && bareCode === code) return 0;
  if (code !== "" && bareCode.startsWith(code)) return 1;
  let rank = 2;
  for (const part of parts) {
    if (text.includes(` ${part}`)) continue;
    if (!text.includes(part)) return undefined;
    rank = 3;
  }
  return rank;
}
