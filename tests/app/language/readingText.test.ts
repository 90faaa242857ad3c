import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { readingText } from "@/app/_ui/language/readingText";
import { makeWords } from "@/app/_ui/language/words";
import { whyWords } from "@/app/(work)/plan/why";

const de = makeWords("de", wholeCatalogueOf("de"));
const en = makeWords("en", wholeCatalogueOf("en"));

/** As lib says them, and in German. */
const SAID: readonly (readonly [string, string])[] = [
  [
    "far end, receive level R1: -45.5 dBm, 6.2 dB below the target of -39.3 dBm (3 dB allowed)",
    "ferne Seite, Empfangspegel R1: -45,5 dBm, 6,2 dB unter dem Soll von -39,3 dBm (3 dB erlaubt)",
  ],
  [
    "near end, earth resistance: 12.3 ohm (at most 10 ohm); far end, switch-over: did not pass",
    "nahe Seite, Erdungswiderstand: 12,3 Ohm (höchstens 10 Ohm); ferne Seite, Umschaltung: nicht bestanden",
  ],
  ["missing: near end, photos; error run", "es fehlt: nahe Seite, Fotos; Fehlertest"],
];

test("what is said of readings is said in the reader's language, also where it holds a hop", () => {
  for (const [text, said] of SAID) {
    expect(readingText(text, de)).toBe(said);
    expect(readingText(text, en)).toBe(text);
    expect(whyWords(text, de)).toBe(said);
    expect(whyWords(`revisit not in the plan yet: ${text}`, de)).toBe(
      `Nacharbeit noch nicht im Plan: ${said}`,
    );
  }
});
