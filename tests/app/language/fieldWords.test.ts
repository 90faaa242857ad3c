import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { fieldWords } from "@/app/_ui/language/fieldWords";
import { makeWords } from "@/app/_ui/language/words";
import { stockFieldWords } from "@/app/(work)/stock/stockFieldWords";

const { t: en } = makeWords("en", wholeCatalogueOf("en"));
const { t: de } = makeWords("de", wholeCatalogueOf("de"));

test("lines and serials of a refusal are named in the reader's language", () => {
  expect(["serial", "line 3", "line 3 (ODU-23-1232B-HI)"].map((path) => fieldWords(path, de))).toEqual([
    "Seriennummer",
    "Zeile 3",
    "Zeile 3 (ODU-23-1232B-HI)",
  ]);
  expect(fieldWords("line 3 (ODU-23-1232B-HI)", en)).toBe("Line 3 (ODU-23-1232B-HI)");
  expect([fieldWords("regions", en), fieldWords("regions", de)]).toEqual(["Regions", "Regionen"]);
  expect(fieldWords("vehicle", de)).toBeUndefined();
});

test("fields of goods are named in the reader's language, of a line with its number", () => {
  expect(
    ["quantity", "line 1 quantity", "line 2 lot", "line 2 vehicle"].map((p) => stockFieldWords(p, de)),
  ).toEqual(["Menge", "Zeile 1: Menge", "Zeile 2: Charge", undefined]);
});
