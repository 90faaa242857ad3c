import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { storedWords } from "@/app/(work)/import/importWords";
import { KIND_NAMES } from "@/lib/exchange";

const said = (
  language: "en" | "de",
  counts: Parameters<typeof storedWords>[0]["counts"],
  weatherSeries = 0,
) =>
  storedWords({ counts, weatherSeries, at: 0, by: "Test" }, makeWords(language, wholeCatalogueOf(language)));

test("what was brought in is counted in its own words, one and several", () => {
  expect(said("en", { ends: 1, orders: 1, stock: 2, "weather places": 1 }, 1)).toBe(
    "1 end, 1 order line, 2 stock rows, 1 weather place, 1 weather series",
  );
  expect(said("de", { ends: 2, orders: 1, "crew members": 1 })).toBe(
    "2 Seiten, 1 Bestellzeile, 1 Truppmitglied",
  );
  for (const kind of KIND_NAMES) expect(said("de", { [kind]: 2 })).not.toBe(said("en", { [kind]: 2 }));
  expect(said("en", {})).toBe("nothing: everything stood already");
});
