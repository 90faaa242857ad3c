import { expect, test } from "vitest";
import german from "@/app/_ui/language/catalogue/de/common.json";
import { visitTyped } from "@/app/_ui/language/visitTyped";
import { makeWords } from "@/app/_ui/language/words";

test("a visit is read as it is shown, in the reader's language, and by its id", () => {
  const read = (text: string, locale: "en" | "de") =>
    visitTyped(text, makeWords(locale, locale === "de" ? german : {}).t);
  for (const text of ["H-1 far", " H-1  far end", "H-1/far"]) expect(read(text, "en")).toBe("H-1/far");
  for (const text of ["H-1 fern", "H-1 ferne Seite", "H-1 far end"]) expect(read(text, "de")).toBe("H-1/far");
  for (const text of ["H-1 near install", "H-1/near/install"])
    expect(read(text, "en")).toBe("H-1/near/install");
  expect(read("H-1 nah Montage", "de")).toBe("H-1/near/install");
  expect(read("H-1 far alignment, part 2", "en")).toBe("H-1/far/alignment-2");
  expect(read("", "en")).toBe("");
});
