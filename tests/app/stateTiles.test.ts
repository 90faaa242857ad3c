import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { readView } from "@/app/_ui/table/view";
import { stateTiles } from "@/app/(work)/programme/stateTiles";
import { HOP_COLUMNS } from "@/app/(work)/sites/hopColumns";
import { type HopProgress, type HopState, summary } from "@/lib/programme";
import { calendarDate } from "@/lib/time";

const words = makeWords("en", wholeCatalogueOf("en"));
const STATES: readonly HopState[] = [
  "done",
  "to accept",
  "on promise",
  "at risk",
  "late",
  "held",
  "not planned",
];
/** One hop of the first state, two of the second, and so on. */
const hops: HopProgress[] = STATES.flatMap((state, i) =>
  Array.from({ length: i + 1 }, (_, n) => ({
    hopCode: `${state} ${n}`,
    state,
    byPlan: state,
    promisedOn: calendarDate(n === 0 ? "2026-03-01" : "2026-04-01"),
  })),
);

test("the tiles of the hops' states add up to all hops", () => {
  const tiles = stateTiles(summary(hops), words);
  expect(tiles.reduce((sum, tile) => sum + tile.count, 0)).toBe(hops.length);
  expect(tiles[0]?.limit).toBe(`of ${hops.length} hops`);
});

test("each tile opens a list of exactly the hops that it counts", () => {
  const ids = new Set(HOP_COLUMNS.map((c) => c.id));
  for (const tile of stateTiles(summary(hops), words)) {
    const address = new URL(tile.href, "http://localhost");
    const filter = readView(address.searchParams, ids, new Set()).filters.state;
    expect(
      hops.filter((h) => filter?.oneOf?.includes(h.state)),
      tile.label,
    ).toHaveLength(tile.count);
  }
});

test("a tile for hops that no plan has stands only where there are any", () => {
  const of = (states: readonly HopState[]) =>
    stateTiles(summary(hops.filter((h) => states.includes(h.state))), words).map((t) => t.state);
  expect(of(["done", "late"])).not.toContain("not planned");
  expect(of(["done", "late"])).toContain("held");
  const tile = stateTiles(summary(hops), words).find((t) => t.state === "not planned");
  expect(tile).toMatchObject({ count: 7, limit: "no place in the plan in force", tone: "warn" });
});
