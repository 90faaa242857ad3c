/** The sheet that is taken to the shelf: what whoever picks must know first stands above what is to pick. */

import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PickSheet } from "@/app/_ui/PickSheet";
import { offeredC } from "@/app/(work)/kits/[...visitId]/lineWords";
import { otherLotWords } from "@/app/(work)/kits/[...visitId]/otherLotWords";
import type { CalendarDate } from "@/lib/time";

test("a hold stands on the sheet itself, above its lines, so that paper says it too", () => {
  const html = renderToStaticMarkup(
    createElement(PickSheet, {
      words: makeWords("en", wholeCatalogueOf("en")),
      notice: createElement(Notice, { kind: "hold", title: "The visit is on hold: no access" }),
      kitCode: "VH1 near",
      hopCode: "VH1",
      end: "near end",
      siteCode: "S1",
      siteName: "Mill",
      depot: "Depot",
      neededOn: "2026-03-18" as CalendarDate,
      lines: [{ lineNo: 1, itemCode: "TIE", name: "Tie", quantity: 2, unit: "piece", countsAs: "2" }],
      cuts: [],
      massKg: 1,
    }),
  );
  const sheet = html.slice(html.indexOf('class="ui-sheet"'));
  expect(sheet.indexOf("on hold: no access")).toBeGreaterThan(0);
  expect(sheet.indexOf("on hold: no access")).toBeLessThan(sheet.indexOf("<table"));
  expect(sheet).not.toContain("ui-no-print");
});

test("a later lot of the right item is told as such, with the lot to take", () => {
  const { t } = makeWords("en", wholeCatalogueOf("en"));
  const source = (lotCode: string, expiresOn: string) => ({
    lotCode,
    owner: "contractor" as const,
    quantityC: 100,
    expiresOn: expiresOn as CalendarDate,
    isClaimed: false,
  });
  const line = {
    itemCode: "TAPE",
    name: "Tape",
    sources: [source("A", "2026-06-01")],
    otherLots: [source("B", "2026-09-01"), source("C", "2026-05-01")],
  };
  expect(otherLotWords(line, "b", t)).toContain("right item, but lot A expires first: take that");
  // An earlier kit counts on lot C.
  expect(otherLotWords(line, "C", t)).toContain("right item, but this kit takes lot A: take that");
  expect(otherLotWords({ ...line, sources: [] }, "B", t)).toContain("takes nothing of lot B");
});

test("a press or a scan picks what the box needs, half a metre too, and one unit where it needs none", () => {
  expect([50, 100, 340, 0].map((boxC) => offeredC({ boxC }))).toEqual([50, 100, 340, 100]);
});
