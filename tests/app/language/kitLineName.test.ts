import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { kitLineName } from "@/app/_ui/language/kitLineName";
import { makeWords } from "@/app/_ui/language/words";

const words = (language: "en" | "de") => makeWords(language, wholeCatalogueOf(language));

test("a run of a kit is named in the reader's language, an item as the catalogue names it", () => {
  expect(kitLineName("IF cable run R1 (main), one piece", words("en"))).toBe(
    "IF cable run R1 (main), one piece",
  );
  expect(kitLineName("IF cable run R2 (standby), one piece", words("de"))).toBe(
    "ZF-Kabelstück R2 (Reserve), ein Stück",
  );
  expect(kitLineName("Earthing lead, copper 16 mm2", words("de"))).toBe("Earthing lead, copper 16 mm2");
});
