/** The example of docs/methods/exchange.md. */

import { expect, it } from "vitest";
import type { AntennaRow, ExistingRows } from "@/lib/exchange";
import { previewFiles } from "@/lib/exchange/exchange";
import { USUAL_PROCEDURES } from "../../helpers/hop";
import { bytesOf } from "./files";

const antenna = (side: "near" | "far", mountHeightM: number): AntennaRow => ({
  hopCode: "MW-101",
  side,
  label: "A1",
  mountHeightM,
  diameterM: 0.6,
  polarisations: ["V"],
  mount: "pole",
  bandGhz: 18,
  owner: "customer",
});

it("previews four rows of a file in feet, each with its fate", async () => {
  const existing: ExistingRows = {
    hops: new Map([
      [
        "MW-101",
        {
          code: "MW-101",
          scheme: "1+0",
          bandGhz: 18,
          nearSiteCode: "KAR-014",
          farSiteCode: "KAR-022",
          weight: 1,
          ...USUAL_PROCEDURES,
        },
      ],
    ]),
    antennas: new Map([
      ["MW-101/near/A1", antenna("near", 40)],
      ["MW-101/far/A1", antenna("far", 16.002)],
    ]),
  };
  const file = [
    "Hop;End;Antenna;Height (ft);Dish diameter (m);Pol;Band (GHz);Foreman",
    "MW-101;A;A1;137,8;0,6;V;18;x",
    "MW-101;far;A1;52,5;0,6;V;18;",
    "MW-101;far;A2;49,2;0,6;H;18;",
    "MW-1O1;far;A1;40;0,6;V;18;",
  ].join("\r\n");
  const { bundle, matchings } = await previewFiles(
    [{ fileName: "antennas.csv", source: bytesOf(file) }],
    existing,
  );
  const [preview] = bundle.files;
  expect(matchings[0]!.matching.columns.map((c) => [c.header, c.key, c.confidence])).toEqual([
    ["Hop", "hopCode", "exact"],
    ["End", "side", "exact"],
    ["Antenna", "label", "exact"],
    ["Height (ft)", "mountHeightM", "unit"],
    ["Dish diameter (m)", "diameterM", "alias"],
    ["Pol", "polarisations", "alias"],
    ["Band (GHz)", "bandGhz", "exact"],
  ]);
  expect(preview!.notices).toEqual([
    '"Height (ft)" is converted from ft to m: x 0.3048.',
    'Column "Foreman" is not read: no column of that name.',
  ]);
  expect(preview!.rows.map((r) => [r.rowNumber, r.fate])).toEqual([
    [2, "changed"],
    [3, "same"],
    [4, "new"],
    [5, "refused"],
  ]);
  expect(preview!.rows[0]!.changes).toEqual([
    { key: "mountHeightM", label: "Mount height", from: "40", to: "42.00144" },
  ]);
  expect(preview!.rows[2]!.value).toMatchObject({
    mountHeightM: 14.99616,
    polarisations: ["H"],
    mount: "pole",
    owner: "customer",
  });
  expect(preview!.rows[3]!.problems.map((p) => [p.path, p.message, p.remedy])).toEqual([
    [
      "antennas.csv, row 5, Hop",
      'Hop "MW-1O1" is not among the hops.',
      'Did you mean "MW-101"? Otherwise import it first, or in the same import.',
    ],
  ]);
});
