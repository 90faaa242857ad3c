import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  hopsFromRows,
  itemFromRow,
  rowFromItem,
  rowFromSite,
  rowsFromHops,
  siteFromRow,
} from "@/lib/exchange/assemble";
import { previewBundle, rowsToStore } from "@/lib/exchange/bundle";
import { keyOf } from "@/lib/exchange/keys";
import { applyMatching, matchColumns } from "@/lib/exchange/match";
import { parseRows } from "@/lib/exchange/parseRows";
import { readTable } from "@/lib/exchange/readTable";
import type { KindName } from "@/lib/exchange/rows";
import type { ExistingRows, ParsedFile } from "@/lib/exchange/types";
import { writeCsv } from "@/lib/exchange/write";
import type { Hop, LinkEnd } from "@/lib/site";
import { USUAL_PROCEDURES } from "../../helpers/hop";
import { lines, parsedOf } from "./files";
import { rowOf } from "./rows";

const end = (
  hopCode: string,
  side: "near" | "far",
  siteId: string,
  over: Partial<LinkEnd> = {},
): LinkEnd => ({
  id: `${hopCode}/${side}`,
  hopId: hopCode,
  side,
  siteId,
  antennas: [
    {
      label: "A1",
      mountHeightM: 42,
      diameterM: 0.6,
      polarisations: ["V"],
      mount: "pole",
      bandGhz: 18,
      owner: "customer",
    },
  ],
  odus: [
    {
      label: "R1",
      antennaLabel: "A1",
      bandGhz: 18,
      subBand: "B",
      duplexSpacingMhz: 1010,
      half: side === "near" ? "high" : "low",
      polarisation: "V",
      role: "main",
      mounting: "direct",
      owner: "customer",
      route: [
        { kind: "vertical", lengthM: 42, bendAtEnd: true },
        { kind: "bridge", lengthM: 6, bendAtEnd: true },
        { kind: "indoor", lengthM: 8, bendAtEnd: false },
      ],
      earthBarDistanceM: 1.5,
    },
  ],
  worstSupplyV: 42,
  includesIduPower: true,
  ...over,
});

const hop = (code: string): Hop => ({
  id: code,
  code,
  scheme: "1+0",
  bandGhz: 18,
  weight: 2,
  ...USUAL_PROCEDURES,
  near: end(code, "near", "KAR-1", { cableCode: "CX-400", entryHeightM: 3 }),
  far: end(code, "far", "KAR-2"),
  gates: [
    { hopId: code, kind: "survey", owner: "us", state: "met" },
    { hopId: code, side: "far", kind: "supply", owner: "", state: "dated", dueOn: "2027-02-01" as never },
  ],
});

async function throughCsv(kind: KindName, rows: readonly unknown[]): Promise<ParsedFile> {
  const table = await readTable(`${kind}.csv`, writeCsv(kind, rows as never));
  if (!table.ok) throw new Error(JSON.stringify(table.problems));
  const matched = applyMatching(table.value, kind, matchColumns(table.value.header, kind));
  if (!matched.ok) throw new Error(JSON.stringify(matched.problems));
  return parseRows(matched.value);
}

describe("a programme of hops", () => {
  const hops = [hop("MW-1"), hop("MW/2")];
  const rows = rowsFromHops(hops);
  const kinds = ["hops", "ends", "antennas", "radios", "gates"] as const;
  const base = {
    sites: new Map([
      ["KAR-1", {}],
      ["KAR-2", {}],
    ]),
    items: new Map([["CX-400", {}]]),
  };
  const existing = {
    ...base,
    ...Object.fromEntries(kinds.map((k) => [k, new Map(rows[k].map((r) => [keyOf(k, r as never), r]))])),
  } as unknown as ExistingRows;

  it("goes through files and comes back whole", async () => {
    const files = await Promise.all(kinds.map((k) => throughCsv(k, rows[k])));
    const fresh = await previewBundle(files, base as unknown as ExistingRows);
    expect(fresh.totals.refused).toBe(0);
    const stored = Object.fromEntries(rowsToStore(fresh).map((s) => [s.kind, s.rows]));
    expect(hopsFromRows(stored as never, new Map())).toEqual({ hops, withoutBothEnds: [] });
    const again = await previewBundle(files, existing);
    expect(again.totals).toMatchObject({ new: 0, changed: 0, refused: 0 });
  });

  it("takes single changed rows and keeps all the rest", async () => {
    const files = await Promise.all([
      parsedOf("antennas", lines("Hop,End,Antenna,Mount height (ft)", "MW-1,near,A1,100")),
      parsedOf("gates", lines("Hop,Gate,State", "MW-1,survey,open", "MW-1,site ready,met")),
    ]);
    const preview = await previewBundle(files as ParsedFile[], existing);
    const stored = Object.fromEntries(rowsToStore(preview).map((s) => [s.kind, s.rows]));
    const { hops: changed } = hopsFromRows(stored as never, new Map(hops.map((h) => [h.code, h])));
    const expected = structuredClone(hops[0]!) as Hop;
    (expected.near.antennas[0] as { mountHeightM: number }).mountHeightM = 30.48;
    expect(changed).toEqual([
      {
        ...expected,
        gates: [
          { ...expected.gates[0]!, state: "open" },
          expected.gates[1]!,
          { hopId: "MW-1", kind: "site ready", owner: "", state: "met" },
        ],
      },
    ]);
  });

  it("names hops that lack an end, and gives new ends the defaults and the ids that the caller makes", () => {
    const row = {
      code: "N",
      scheme: "1+0" as const,
      bandGhz: 18,
      nearSiteCode: "KAR-1",
      weight: 1,
      ...USUAL_PROCEDURES,
    };
    expect(hopsFromRows({ hops: [row] }, new Map())).toEqual({ hops: [], withoutBothEnds: ["N"] });
    const { hops: made } = hopsFromRows({ hops: [{ ...row, farSiteCode: "KAR-2" }] }, new Map(), {
      siteId: (c) => `site ${c}`,
      hopId: (c) => `hop ${c}`,
      endId: (c, s) => `${c}-${s}`,
    });
    expect(made[0]).toMatchObject({
      id: "hop N",
      near: {
        id: "N-near",
        hopId: "hop N",
        siteId: "site KAR-1",
        worstSupplyV: 40.5,
        includesIduPower: false,
        antennas: [],
        odus: [],
      },
      far: { id: "N-far", siteId: "site KAR-2" },
    });
    expect(() =>
      hopsFromRows({ gates: [{ hopCode: "X", kind: "survey", state: "met" }] }, new Map()),
    ).toThrow(RangeError);
  });
});

describe("sites and items", () => {
  it("come back from their rows", () => {
    fc.assert(
      fc.property(rowOf("sites"), (row) => {
        expect(rowFromSite(siteFromRow(row))).toEqual(row);
      }),
    );
    fc.assert(
      fc.property(rowOf("items"), (row) => {
        expect(rowFromItem(itemFromRow(row))).toEqual(row);
      }),
    );
  });

  it("keep attributes apart from the catalogue's own fields", () => {
    const item = itemFromRow({
      code: "CX",
      name: "Cable",
      category: "IF cable",
      unit: "m",
      massKg: 0.1,
      volumeL: 0,
      owner: "contractor",
      leadTimeDays: 28,
      lotRule: "fixed multiple",
      orderMultiple: 500,
      minimumOrder: 500,
      safetyStock: 0,
      priceMinor: 135,
      currency: "EUR",
      cableDiameterMm: 10.3,
      k1: 0.2,
    });
    expect(item.attributes).toEqual({ cableDiameterMm: 10.3, k1: 0.2 });
    expect(item).not.toHaveProperty("cableDiameterMm");
    expect(item.lotRule).toBe("fixed multiple");
  });
});
