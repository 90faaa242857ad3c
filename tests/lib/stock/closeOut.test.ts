import { expect, test } from "vitest";
import { closeOut, type HopMaterial } from "@/lib/stock";

const row = (hopCode: string, itemCode: string, part: Partial<HopMaterial>): HopMaterial => ({
  hopCode,
  itemCode,
  unit: "m",
  issuedC: 0,
  returnedC: 0,
  installedC: 0,
  scrappedC: 0,
  ...part,
});

test("a hop closes when what went out was installed, returned or scrapped, at both ends together", () => {
  const [a, b] = closeOut([
    row("H2", "X", { issuedC: 500 }),
    row("H1", "X", { issuedC: 1000, installedC: 700 }),
    row("H1", "X", { issuedC: 200, installedC: 300, returnedC: 100, scrappedC: 100 }),
    row("H1", "Y", { issuedC: 300, installedC: 400 }),
    row("H1", "Z", { issuedC: 900, returnedC: 250 }),
  ]);
  expect(a).toMatchObject({ hopCode: "H1", openLines: 2 });
  expect(a!.lines.map((l) => [l.itemCode, l.openC])).toEqual([
    ["Z", 650],
    ["Y", -100],
    ["X", 0],
  ]);
  expect(b).toMatchObject({ hopCode: "H2", openLines: 1, lines: [{ itemCode: "X", openC: 500 }] });
  expect(closeOut([])).toEqual([]);
});

test("what is opened for one hop and used up at another adds up at both; a whole unit does not", () => {
  const roll = (hopCode: string, part: Partial<HopMaterial>) => row(hopCode, "T", { unit: "roll", ...part });
  const hops = closeOut([
    roll("H1", { issuedC: 400, installedC: 341 }),
    // Its other visit took the rest of another hop's roll.
    roll("H1", { issuedC: 300, installedC: 341 }),
    roll("H2", { installedC: 29 }),
    roll("H3", { issuedC: 200, installedC: 71 }),
  ]);
  expect(hops.map((h) => [h.openLines, h.lines[0]!.openC, h.lines[0]!.openedC])).toEqual([
    [0, 0, 18],
    [0, 0, -29],
    [1, 100, 29],
  ]);
});

test("a piece that a kit took because its need was rounded up rides on the vehicle and is not open", () => {
  const spare = (hopCode: string, issuedC: number, installedC: number, part: Partial<HopMaterial> = {}) =>
    row(hopCode, "C", { unit: "piece", neededC: 210, vehicle: "VAN-1", issuedC, installedC, ...part });
  const of = (...rows: HopMaterial[]) =>
    closeOut(rows).map((h) => [h.openLines, h.lines[0]!.openC, h.lines[0]!.carriedC, h.lines[0]!.vehicles]);
  expect(of(spare("H", 300, 200))).toEqual([[0, 0, 100, ["VAN-1"]]]);
  // One less was used than the need is for sure, or more was issued than it asks for: nobody meant that.
  expect(of(spare("H", 300, 100))).toEqual([[1, 100, 100, ["VAN-1"]]]);
  expect(of(spare("H", 500, 200))).toEqual([[1, 200, 100, ["VAN-1"]]]);
  expect(of(spare("H", 200, 100))).toEqual([[1, 100, 0, []]]);
  // Its box took one less, for the vehicle had it; more than that came from nowhere that is known.
  expect(of(spare("H", 200, 300))).toEqual([[0, 0, -100, ["VAN-1"]]]);
  expect(of(spare("H", 200, 400))).toEqual([[1, -100, -100, ["VAN-1"]]]);
  expect(of(spare("H", 300, 400))).toEqual([[1, -100, 0, []]]);
  // A whole need, no kit, another unit: as it was.
  expect(of(spare("H", 300, 200, { neededC: 300 }))).toEqual([[1, 100, 0, []]]);
  expect(of(spare("H", 300, 200, { neededC: undefined }))).toEqual([[1, 100, 0, []]]);
  expect(of(spare("H", 300, 200, { unit: "roll" }))).toEqual([[1, 100, 0, []]]);
  // Both ends, each with its own vehicle.
  expect(of(spare("H", 300, 200), spare("H", 300, 200, { vehicle: "VAN-2" }))).toEqual([
    [0, 0, 200, ["VAN-1", "VAN-2"]],
  ]);
});
