/** A sentence with its figures still apart, so that a screen can say it in another language and with that language's numbers. */

/** A figure with so many decimals. */
export interface Figure {
  value: number;
  digits: number;
}

/** What stands in a place of a sentence: a name as it is, a figure, or words that are said in the language too. */
export type PhraseValue = string | Figure | Phrase;

export interface Phrase {
  /** English, with its places in double braces: "{{run}}: cut {{cut}} m". */
  text: string;
  values?: Readonly<Record<string, PhraseValue>>;
}

export const phrase = (text: string, values?: Phrase["values"]): Phrase => ({ text, values });

export const figure = (value: number, digits = 0): Figure => ({ value, digits });

/** The sentence in English. */
export function english({ text, values = {} }: Phrase): string {
  return text.replaceAll(/\{\{(\w+)\}\}/g, (place, name: string) => {
    const value = values[name];
    if (value === undefined) return place;
    if (typeof value === "string") return value;
    return "text" in value ? english(value) : value.value.toFixed(value.digits);
  });
}
