import { describe, expect, test } from "vitest";
import { formatAmount, formatClock, NO_VALUE, TIED } from "@/app/_ui/format";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { UNITS } from "@/lib/site";

const en = makeWords("en", wholeCatalogueOf("en"));
const de = makeWords("de", wholeCatalogueOf("de"));

describe("amounts", () => {
  test("are in English what the formats say", () => {
    for (const unit of UNITS)
      for (const quantity of [0, 0.5, 1, 2, 1234.5, undefined])
        expect(en.amount(quantity, unit)).toBe(formatAmount(quantity, unit));
    expect([-3, -1, 0, 1, 12].map(en.daysLate)).toEqual([
      "3 days early",
      "1 day early",
      "on the day",
      "1 day late",
      "12 days late",
    ]);
    for (const minute of [0, 450, 1500, -60, -1500, 4000, undefined])
      expect(en.clock(minute)).toBe(formatClock(minute));
  });

  test("take the language's word for every unit of stock", () => {
    const said = UNITS.map((unit) =>
      [1, 1234.5].map((quantity) => de.amount(quantity, unit).replace(TIED, " ")),
    );
    expect(Object.fromEntries(UNITS.map((unit, i) => [unit, said[i]]))).toEqual({
      piece: ["1 Stück", "1.234,5 Stück"],
      m: ["1 m", "1.234,5 m"],
      roll: ["1 Rolle", "1.234,5 Rollen"],
      can: ["1 Dose", "1.234,5 Dosen"],
      tube: ["1 Tube", "1.234,5 Tuben"],
      pack: ["1 Packung", "1.234,5 Packungen"],
    });
    expect(de.amount(null, "roll")).toBe(NO_VALUE);
  });

  test("say how late and which day in the language", () => {
    expect([3, -1, 0].map(de.daysLate)).toEqual(["3 Tage zu spät", "1 Tag früher", "am Tag selbst"]);
    expect([450, 1500, -1500].map(de.clock)).toEqual(["07:30", "01:00 (+1 Tag)", "23:00 (-2 Tage)"]);
  });
});
