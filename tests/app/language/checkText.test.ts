import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { checkText } from "@/app/_ui/language/checkText";
import { makeWords } from "@/app/_ui/language/words";
import { whyWords } from "@/app/(work)/plan/why";

const de = makeWords("de", wholeCatalogueOf("de"));
const en = makeWords("en", wholeCatalogueOf("en"));

/** As design checks say them, and in German. */
const SAID: readonly (readonly [string, string])[] = [
  ["Both ends transmit in the high half.", "Beide Seiten senden in derselben Hälfte (obere)."],
  [
    "1+1 hot standby has 2 ODUs per end, the design data 1; 1 counted.",
    "1+1 Bereitschaftsreserve hat je Seite 2 ODUs, die Planungsdaten 1; gezählt: 1.",
  ],
  [
    "IFC-06 loses 12.53 dB on 47.0 m, 0.3 dB surge arrestor included; the ODU allows 12 dB.",
    "IFC-06 dämpft auf 47,0 m um 12,53 dB, darin 0,3 dB Überspannungsableiter; die ODU erlaubt 12 dB.",
  ],
  [
    "The catalogue has no ODU with band 15 GHz, sub-band A; the line is kept as MISSING:ODU.",
    "Im Katalog fehlt: ODU mit Band 15 GHz, Unterband A; die Zeile bleibt als MISSING:ODU stehen.",
  ],
  [
    "The catalogue has no hybrid coupler with band 15 GHz, split equal; the line is kept as MISSING:hybrid coupler.",
    "Im Katalog fehlt: Hybridkoppler mit Band 15 GHz, Aufteilung gleich; die Zeile bleibt als MISSING:hybrid coupler stehen.",
  ],
  [
    "DC feed cannot be checked, the catalogue lacks IFC-06: loop resistance, ODU-1: power.",
    "Die Gleichstromspeisung lässt sich nicht prüfen, im Katalog fehlt IFC-06: Schleifenwiderstand, ODU-1: Leistung.",
  ],
  ["Enter the roll length of TAPE-1 in the catalogue.", "Im Katalog bei TAPE-1 eintragen: Rollenlänge."],
  ["0417 has no earthing bar for the runs.", "0417 hat keine Erdungsschiene für die Kabel."],
  [
    "No IF cable can be chosen: loss limit, intermediate frequencies or power are unknown for R1, R2.",
    "Kein ZF-Kabel ist wählbar: Dämpfungsgrenze, Zwischenfrequenzen oder Leistung sind unbekannt bei R1, R2.",
  ],
];

test("what a design check found is said in the reader's language, also where it holds a visit", () => {
  for (const [text, said] of SAID) {
    expect(checkText(text, de)).toBe(said);
    expect(checkText(text, en)).toBe(text);
    expect(whyWords(`design check: ${text}`, de)).toBe(`Planungsprüfung: ${said}`);
  }
});
