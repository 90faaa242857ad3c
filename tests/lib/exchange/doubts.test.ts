import { expect, it } from "vitest";
import { orderDoubts } from "@/lib/exchange/doubts";
import { previewImport } from "@/lib/exchange/preview";
import type { ExistingRows } from "@/lib/exchange/types";
import { calendarDate } from "@/lib/time";
import { lines, parsedOf } from "./files";

const TODAY = calendarDate("2026-03-16");
const references = {
  items: new Map([["WIPE", { code: "WIPE" }]]),
  places: new Map([["WH", { code: "WH" }]]),
} as unknown as ExistingRows;

async function doubts(...rows: string[]) {
  const parsed = await parsedOf("orders", lines("Order,Line,Item,Quantity,Due on,Place,Supplier", ...rows));
  const { rows: previewed } = await previewImport(parsed, new Map(), references);
  expect(previewed.map((r) => r.fate)).toEqual(rows.map(() => "new"));
  return orderDoubts(previewed, TODAY, (code) =>
    code === "WIPE" ? { planned: 40, usedInYear: 25 } : undefined,
  ).map((p) => p.text);
}

it("doubts a day long past, a quantity far beyond every need, and an order from nobody", async () => {
  const said = await doubts("PO-1,1,WIPE,1000000,2025-01-01,WH,");
  expect(said).toHaveLength(3);
  expect(said.join()).toMatch(/due .* days ago.*the plan wants.*no supplier is named/);
});

it("doubts nothing of a usual order, nor of one that is a few weeks late", async () => {
  expect(await doubts("PO-1,1,WIPE,4000,2026-02-14,WH,Acorn")).toEqual([]);
  expect(await doubts("PO-2,1,WIPE,4001,2026-02-13,WH,Acorn")).toHaveLength(2);
});
