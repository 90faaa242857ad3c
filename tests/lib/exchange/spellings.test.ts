import { expect, test } from "vitest";
import { previewImport } from "@/lib/exchange/preview";
import type { SiteRow } from "@/lib/exchange/rows";
import { lines, parsedOf } from "./files";

const HEADER = "Site,Name,Region,Elevation (m),Time zone,Structure,Structure height (m)";
const row = (code: string, region: string) => `${code},Mill,${region},10,UTC,mast,30`;

const previewed = async (existing: ReadonlyMap<string, SiteRow>, rows: readonly string[]) =>
  (await previewImport(await parsedOf("sites", lines(HEADER, ...rows)), existing, {})).rows;

/** What stands, brought in one by one, so that nothing is refused for another. */
async function standing(...rows: string[]): Promise<Map<string, SiteRow>> {
  const each = await Promise.all(rows.map((one) => previewed(new Map(), [one])));
  return new Map(each.map(([r]) => [r!.key!, r!.value!]));
}

const fates = async (existing: ReadonlyMap<string, SiteRow>, ...rows: string[]) =>
  (await previewed(existing, rows)).map((r) => [r.key, r.fate, ...r.problems.map((p) => p.rule)].join(" "));

test("a region is spelled in one way: as it stands, else as its first row in the files has it", async () => {
  expect(
    await fates(
      await standing(row("A", "Salt Coast")),
      row("B", "salt coast"),
      row("C", "Salt Coast"),
      row("D", "SaltCoast"),
      row("E", "North"),
      row("F", "NORTH"),
      row("G", ""),
    ),
  ).toEqual([
    "B refused spelled-otherwise",
    "C new",
    "D refused spelled-otherwise",
    "E new",
    "F refused spelled-otherwise",
    "G new",
  ]);
});

test("a spelling may be replaced with all its rows, and two that stand already stay", async () => {
  expect(await fates(await standing(row("A", "salt coast")), row("A", "Salt Coast"))).toEqual(["A changed"]);
  expect(
    await fates(
      await standing(row("A", "salt coast"), row("B", "Salt Coast")),
      row("C", "salt coast"),
      row("B", "salt coast"),
    ),
  ).toEqual(["C new", "B changed"]);
});
