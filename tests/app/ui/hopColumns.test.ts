import { expect, test } from "vitest";
import { finishedLast, HOP_COLUMNS } from "@/app/(work)/sites/hopColumns";

/** A window of 1440 px less the page's margins. */
const SHEET_PX = 1376;

test("at a usual desk the list of hops shows state, dates, days late and what holds a hop without scrolling", () => {
  const wanted = ["code", "state", "promised", "planned", "late", "p80", "held"];
  const first = HOP_COLUMNS.filter((c) => !c.startsHidden).slice(0, wanted.length);
  expect(first.map((c) => c.id)).toEqual(wanted);
  expect(first.reduce((sum, c) => sum + (c.width ?? 0), 0)).toBeLessThanOrEqual(SHEET_PX);
});

test("finished hops come last, the others keep their order", () => {
  const hops = [
    { code: "A", state: "done" as const },
    { code: "B", state: "late" as const },
    { code: "C", state: "done" as const },
    { code: "D", state: "on promise" as const },
  ];
  expect(finishedLast(hops).map((h) => h.code)).toEqual(["B", "D", "A", "C"]);
});
