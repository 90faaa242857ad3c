/** A sentence with its figures still apart, so that a screen can say it in another language and with that language's numbers. */

/** A figure with so many decimals, and its unit where a reader may want another beside it: m, m/s. */
export interface Figure {
  value: number;
  digits: number;
  unit?: string;
}

/** What stands in a place of a sentence: a name as it is, a figure, or words that are said in the language too. */
export type PhraseValue = string | Figure | Phrase;

export interface Phrase {
  /** English, with its places in double braces: "{{run}}: cut {{cut}} m". */
  text: string;
  values?: Readonly<Record<string, PhraseValue>>;
}

export const phrase = (text: string, values?: Phrase["values"]): Phrase => ({ text, values });

export const figure = (value: number, digits = 0, unit?: string): Figure => ({ value, digits, unit });

const CENT = 100;

/** A figure with the decimals that it needs, two at most: 4, 12.5. */
export function shortFigure(value: number): Figure {
  const rounded = Math.round(value * CENT) / CENT;
  return figure(rounded, String(rounded).split(".")[1]?.length ?? 0);
}

/** The sentence in English. */
export function english({ text, values = {} }: Phrase): string {
  return text.replaceAll(/\{\{(\w+)\}\}/g, (place, name: string) => {
    const value = values[name];
    if (value === undefined) return place;
    if (typeof value === "string") return value;
    if ("text" in value) return english(value);
    return value.value.toFixed(value.digits) + (value.unit === undefined ? "" : ` ${value.unit}`);
  });
}
