import { describe, expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { bookedByWords, ledgerReasonWords } from "@/app/(work)/stock/ledgerWords";
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

  test("is said where a delivery, a hold, a count by hand or a file made the row", () => {
    const said = (text: string) => ledgerReasonWords(text, de);
    expect(said("Received from Fellgate Supplies")).toBe("Eingang von Fellgate Supplies");
    expect(said("Received from Fellgate Supplies: a box more than ordered")).toBe(
      "Eingang von Fellgate Supplies: a box more than ordered",
    );
    expect(said("Wrong item, received from Fellgate Supplies: labels mixed up")).toBe(
      "Falscher Artikel, Eingang von Fellgate Supplies: labels mixed up",
    );
    expect(said("Counted 12.5, ledger 14: one roll wet")).toBe("Gezählt 12,5, im Lagerbuch 14: one roll wet");
    expect(said("Failed in service: no light")).toBe("Im Betrieb ausgefallen: no light");
    expect(said("On hold at receipt of PO-014: crushed")).toBe("Beim Eingang von PO-014 gesperrt: crushed");
    expect(said("In place of 0417: agreed by phone")).toBe("Anstelle von 0417: agreed by phone");
    expect(said("Quantity from a file")).toBe("Menge aus einer Datei");
  });

  test("is followed by who booked it, in words where that is no person", () => {
    expect(bookedByWords("Earlier work", de)).toBe("Frühere Arbeit");
    expect(bookedByWords("Ines Maro", de)).toBe("Ines Maro");
  });

  test("stays as a person wrote it", () => {
    expect(ledgerReasonWords("found behind the rack", de)).toBeUndefined();
    expect(ledgerReasonWords("found behind the rack", en)).toBe("found behind the rack");
  });
});
