import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { lineReason } from "@/app/_ui/language/lineReason";
import { makeWords } from "@/app/_ui/language/words";
import { english, readBack } from "@/lib/phrase";
import { LINE_REASONS } from "@/lib/takeoff";

const de = makeWords("de", wholeCatalogueOf("de"));
const en = makeWords("en", wholeCatalogueOf("en"));

/** As the take-off writes them, and as they are said in German. */
const SAID: readonly (readonly [string, string])[] = [
  ["47.0 m = 42.0 route + 5.0 surplus", "47,0 m = 42,0 Kabelweg + 5,0 Zugabe"],
  [
    "84.0 m: R1 42.0 m = 37.0 route + 5.0 surplus; R2 42.0 m = 36.8 route + 5.0 surplus, rounded up to 0.5 m",
    "84,0 m: R1 42,0 m = 37,0 Kabelweg + 5,0 Zugabe; R2 42,0 m = 36,8 Kabelweg + 5,0 Zugabe, auf 0,5 m aufgerundet",
  ],
  [
    "2.1 = 2 connectors + 5 %; rounded up to 1 over the order",
    "2,1 = 2 Stecker + 5 %; über die Bestellung auf 1 aufgerundet",
  ],
  [
    "70 = 66.15 rounded up to 10 per site; 66.15 = 63 ties (each run: 40 on 38.2 m + 5 at the drip loop + 6 at earthing points + 12 at wraps) + 5 %",
    "70 = 66,15, je Standort auf 10 aufgerundet; 66,15 = 63 Binder (jedes Kabel: 40 auf 38,2 m + 5 an der Tropfschlaufe + 6 an Erdungspunkten + 12 an Abdichtungen) + 5 %",
  ],
  [
    "3 = 3 earthing points (near ODU 1.0 m, structure foot 25.2 m, entry 33.2 m)",
    "3 = 3 Erdungspunkte (nahe der ODU 1,0 m, Fuß des Bauwerks 25,2 m, Einführung 33,2 m)",
  ],
  [
    "0.18 = 2 flanges x 0.9 g / 10 g a tube; rounded up to 1 over the order",
    "0,18 = 2 Flansche x 0,9 g / 10 g je Tube; über die Bestellung auf 1 aufgerundet",
  ],
  ["2 = R1 channel 1, R2 channel 2", "2 = R1 Kanal 1, R2 Kanal 2"],
];

test("why a line has its quantity is said in the reader's language", () => {
  for (const [reason, said] of SAID) {
    expect(lineReason(reason, de)).toBe(said);
    expect(lineReason(reason, en)).toBe(reason);
  }
});

test("nothing is lost between the English sentence and its parts", () => {
  for (const [reason] of SAID) expect(english(readBack(reason, LINE_REASONS))).toBe(reason);
});
