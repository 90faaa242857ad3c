import { describe, expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { ledgerReasonWords } from "@/app/(work)/stock/ledgerWords";
import { ledgerReason } from "@/db/queries/ledgerReasons";

const de = makeWords("de", wholeCatalogueOf("de"));
const en = makeWords("en", wholeCatalogueOf("en"));

describe("the reason of a ledger row", () => {
  test("is said in the reader's language where the ledger wrote it", () => {
    const cut = ledgerReason("cutOtherwise", { label: "H-012 near R1", n: "42.50", m: "41.00" });
    expect(cut).toBe("H-012 near R1: 42.50 m, listed 41.00 m");
    expect(ledgerReasonWords(cut, de)).toBe("H-012 near R1: 42,50 m, gelistet 41,00 m");
    expect(ledgerReasonWords(ledgerReason("scrapped", { why: "too short" }), de)).toBe(
      "Verschrottet: zu kurz",
    );
    expect(ledgerReasonWords(ledgerReason("issuedShort", { why: "two lugs late" }), de)).toBe(
      "Material unvollständig ausgegeben: two lugs late",
    );
  });

  test("stays as a person wrote it", () => {
    expect(ledgerReasonWords("found behind the rack", de)).toBeUndefined();
    expect(ledgerReasonWords("found behind the rack", en)).toBe("found behind the rack");
  });
});
