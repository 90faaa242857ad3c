import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { amountPhrase } from "@/db/queries/amountPhrase";
import { english, phrase } from "@/lib/phrase";
import { UNITS } from "@/lib/site";

const over = (quantityC: number, unit: string) =>
  phrase("That is {{over}} more than is still to come.", { over: amountPhrase(quantityC, unit) });
const de = makeWords("de", wholeCatalogueOf("de"));
const en = makeWords("en", wholeCatalogueOf("en"));

test("an amount in a sentence takes the singular for one and the plural for more, in every language", () => {
  const said = (quantityC: number, unit: string) => {
    const sentence = over(quantityC, unit);
    expect(en.say(sentence)).toBe(english(sentence));
    return [english(sentence), de.say(sentence)].map((s) => s.replaceAll(/[\u2009\u202f\u00a0]/g, " "));
  };
  expect(said(2600, "piece")).toEqual([
    "That is 26 pieces more than is still to come.",
    "26 Stück mehr, als noch offen ist.",
  ]);
  expect(said(100, "roll")).toEqual([
    "That is 1 roll more than is still to come.",
    "1 Rolle mehr, als noch offen ist.",
  ]);
  expect(said(300, "can")[1]).toBe("3 Dosen mehr, als noch offen ist.");
});

test("metres keep their sign", () => {
  expect(english(over(1250, "m"))).toBe("That is 12.5 m more than is still to come.");
});

test("the unit alone follows the quantity before it", () => {
  expect([1, 2].map((n) => en.unit(n, "piece"))).toEqual(["piece", "pieces"]);
  expect([1, 2].map((n) => de.unit(n, "roll"))).toEqual(["Rolle", "Rollen"]);
  for (const unit of UNITS) expect(en.unit(2, unit)).not.toMatch(/\d/);
  expect(en.unit(2.5, "m")).toBe("m");
});
