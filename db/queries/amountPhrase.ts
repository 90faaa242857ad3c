import { figure, type PhraseValue, phrase, shortFigure } from "@/lib/phrase";

/** As `amount` of the pages says them; other units stand behind their figure as signs. */
const COUNTED: Readonly<Record<string, string>> = {
  piece: "{{count}} pieces",
  roll: "{{count}} rolls",
  can: "{{count}} cans",
  tube: "{{count}} tubes",
  pack: "{{count}} packs",
};

/** An amount of stock inside a sentence: "26 pieces", "1 roll", "12.5 m". */
export function amountPhrase(quantityC: number, unit: string): PhraseValue {
  const quantity = quantityC / 100;
  const counted = COUNTED[unit];
  if (!counted) {
    const { value, digits } = shortFigure(quantity);
    return figure(value, digits, unit);
  }
  return quantity === 1
    ? phrase("1 {{unit}}", { unit: phrase(unit) })
    : phrase(counted, { count: shortFigure(quantity) });
}
