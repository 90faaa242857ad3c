/** Whose session ended while a report waits on the phone reads on the sign-in page that it stays. */
import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { LanguageProvider } from "@/app/_ui/language/LanguageProvider";
import { WaitingNotice } from "@/app/sign-in/WaitingHere";

const shown = (count: number, hasEnded: boolean, language: "en" | "de" = "en", photos = 0) =>
  renderToStaticMarkup(
    createElement(LanguageProvider, {
      language,
      entries: wholeCatalogueOf(language),
      isFeetToo: false,
      // biome-ignore lint/correctness/noChildrenProp: its type wants them among the rest
      children: createElement(WaitingNotice, { count, photos, hasEnded }),
    }),
  );

test("it says how many wait, and that the session ended only to whom it did", () => {
  expect(shown(0, true)).toBe("");
  expect(shown(1, true)).toContain(
    "Your session has ended: sign in; the report that waits on this phone stays.",
  );
  expect(shown(3, true)).toContain("the 3 reports that wait on this phone stay.");
  expect(shown(1, false)).toContain("Sign in: the report that waits on this phone stays.");
  expect(shown(0, true, "en", 2)).toContain("2 photos wait on this phone");
  expect(shown(0, true, "en", 2)).not.toContain("report");
  expect(shown(2, true, "de")).toContain("die 2 Meldungen, die auf diesem Telefon warten, bleiben.");
});
