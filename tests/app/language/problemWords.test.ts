import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { messageOf, problemWords } from "@/app/_ui/language/problemWords";
import { makeWords } from "@/app/_ui/language/words";
import { DEFAULT_RULES, parseRules } from "@/lib/takeoff";

const en = makeWords("en", wholeCatalogueOf("en"));
const de = makeWords("de", wholeCatalogueOf("de"));

function refusalOf(change: object) {
  const result = parseRules([{ ...DEFAULT_RULES[0]!, ...change }]);
  if (result.ok) throw new Error("expected a problem");
  return result.problems[0]!;
}

test("what a rule's form refuses is said in the reader's language, the field by its label", () => {
  const factor = refusalOf({ factor: -3.5 });
  expect(problemWords(factor, en)).toBe("factor is -3.5, not at least 0. Give at least 0.");
  expect(problemWords(factor, de)).toBe("factor ist -3,5, nicht mindestens 0. Mindestens 0 angeben.");
  expect(messageOf(factor, de, "Faktor")).toBe("Faktor ist -3,5, nicht mindestens 0.");
  const source = refusalOf({ source: "" });
  expect(messageOf(source, en, "Source")).toBe("Source is empty.");
  expect(`${messageOf(source, de, "Quelle")} ${problemWords(source, de).split(". ")[1]}`).toBe(
    "Quelle ist leer. Einen Text angeben.",
  );
});
