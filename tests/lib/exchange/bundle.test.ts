import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { previewBundle, problemsOf, rowsToStore } from "@/lib/exchange/bundle";
import { KIND_NAMES, kindOf } from "@/lib/exchange/kinds";
import type { KindName, SiteRow } from "@/lib/exchange/rows";
import type { ExistingRows, ParsedFile } from "@/lib/exchange/types";
import { USUAL_PROCEDURES } from "../../helpers/hop";
import { lines, parsedOf } from "./files";

/** A small programme in one file per kind; rows refer across all of them. */
const PROGRAMME: { kind: KindName; rows: string[] }[] = [
  {
    kind: "sites",
    rows: [
      "Site,Name,Elevation (m),Time zone,Structure,Structure height (m)",
      "KAR-1,Ridge,612,Europe/Zurich,lattice,54",
      "KAR-2,Field,430,Europe/Zurich,roof,18",
      "KAR-3,Wood,500,Europe/Zurich,monopole,30",
    ],
  },
  {
    kind: "hops",
    rows: [
      "Hop,Protection scheme,Band (GHz),Near site,Far site",
      "MW-1,1+0,18,KAR-1,KAR-2",
      "MW-2,1+1,18,KAR-2,KAR-3",
    ],
  },
  { kind: "items", rows: ["Item,Name,Category,Unit", "CX-400,Cable,IF cable,m"] },
  { kind: "ends", rows: ["Hop,End,IF cable", "MW-1,near,CX-400", "MW-1,far,", "MW-2,far,CX-400"] },
  {
    kind: "antennas",
    rows: [
      "Hop,End,Site,Antenna,Mount height (m),Diameter (m),Polarisation,Band (GHz)",
      "MW-1,near,KAR-1,A1,42,0.6,V,18",
      "MW-1,far,KAR-2,A1,16,0.6,V,18",
      "MW-2,near,,A1,15,0.6,V,18",
    ],
  },
  {
    kind: "radios",
    rows: [
      "Hop,End,Radio,Antenna,Band (GHz),Sub-band,Duplex spacing (MHz),Transmit half,Polarisation,Vertical (m),Indoor (m)",
      "MW-1,near,R1,A1,18,B,1010,high,V,42,8",
      "MW-1,far,R1,A1,18,B,1010,low,V,16,8",
    ],
  },
  { kind: "gates", rows: ["Hop,Gate,State,Due on", "MW-1,survey,met,", "MW-2,supply,dated,2027-02-01"] },
  { kind: "places", rows: ["Place,Name", "WH,North warehouse"] },
  { kind: "stock", rows: ["Item,Place,Drum,Drum remaining (m)", "CX-400,WH,D-1,300"] },
  { kind: "orders", rows: ["Order,Item,Quantity,Due on,Place", "PO-1,CX-400,500,2027-02-10,WH"] },
  { kind: "crews", rows: ["Crew,Name,Depot,Time zone,Payload (kg)", "C1,Crew North,WH,Europe/Zurich,900"] },
  {
    kind: "crew members",
    rows: ["Person,Crew,Name,Skills", "P1,C1,Lead North,climber until 2027-09-30; rescue"],
  },
];

const parseAll = () =>
  Promise.all(
    PROGRAMME.map(
      ({ kind, rows }) => parsedOf(kind, lines(...rows), { fileName: `${kind}.csv` }) as Promise<ParsedFile>,
    ),
  );

describe("KIND_NAMES", () => {
  it("lists every kind after those it refers to", () => {
    KIND_NAMES.forEach((kind, i) => {
      for (const reference of kindOf(kind).references) {
        for (const target of reference.kinds)
          expect(KIND_NAMES.indexOf(target), `${kind} -> ${target}`).toBeLessThan(i);
      }
    });
  });
});

describe("previewBundle", () => {
  it("lets rows refer to rows of other files of the same import", async () => {
    const preview = await previewBundle(await parseAll(), {});
    expect(problemsOf(preview)).toEqual([]);
    expect(preview.totals).toEqual({ new: 21, changed: 0, same: 0, refused: 0, notInFile: 0 });
    const stored = rowsToStore(preview);
    expect(stored.map((s) => [s.kind, s.rows.length])).toEqual([
      ["sites", 3],
      ["places", 1],
      ["items", 1],
      ["hops", 2],
      ["ends", 3],
      ["antennas", 3],
      ["radios", 2],
      ["gates", 2],
      ["stock", 1],
      ["orders", 1],
      ["crews", 1],
      ["crew members", 1],
    ]);
  });

  it("does not depend on the order of files or rows", async () => {
    const files = await parseAll();
    const first = await previewBundle(files, {});
    await fc.assert(
      fc.asyncProperty(
        fc.shuffledSubarray(files, { minLength: files.length }),
        fc.array(fc.nat(), { minLength: 8, maxLength: 8 }),
        async (shuffled, keys) => {
          const mixed = shuffled.map((f) => ({
            ...f,
            rows: [...f.rows].sort((a, b) => keys[a.rowNumber % 8]! - keys[b.rowNumber % 8]!),
          }));
          const again = await previewBundle(mixed, {});
          expect(again.totals).toEqual(first.totals);
          expect(again.digest).toBe(first.digest);
          expect(again.files.map((f) => f.kind)).toEqual(shuffled.map((f) => f.kind));
          expect(new Set(rowsToStore(again).flatMap((s) => s.rows.map((r) => JSON.stringify(r))))).toEqual(
            new Set(rowsToStore(first).flatMap((s) => s.rows.map((r) => JSON.stringify(r)))),
          );
        },
      ),
      { numRuns: 25 },
    );
  });

  it("refuses what hangs on a refused row, and says on which", async () => {
    const files = await Promise.all([
      parsedOf(
        "antennas",
        lines(
          "Hop,End,Antenna,Mount height (m),Diameter (m),Polarisation,Band (GHz)",
          "MW-1,near,A1,42,0.6,V,18",
        ),
        { fileName: "antennas.csv" },
      ),
      parsedOf("hops", lines("Hop,Protection scheme,Band (GHz),Near site", "MW-1,9+9,18,KAR-1"), {
        fileName: "hops.csv",
      }),
    ]);
    const preview = await previewBundle(files as ParsedFile[], {
      sites: new Map([["KAR-1", {} as SiteRow]]),
    });
    expect(preview.files[0]!.rows[0]!.problems[0]).toMatchObject({
      rule: "reference-refused",
      message: 'Hop "MW-1" is refused itself (hops.csv row 2).',
    });
    expect(rowsToStore(preview)).toEqual([]);
  });

  it("keeps a standing row to refer to when its new version is refused", async () => {
    const existing: ExistingRows = {
      hops: new Map([
        [
          "MW-1",
          { code: "MW-1", scheme: "1+0", bandGhz: 18, nearSiteCode: "KAR-1", weight: 1, ...USUAL_PROCEDURES },
        ],
      ]),
      sites: new Map([["KAR-1", {} as SiteRow]]),
    };
    const files = await Promise.all([
      parsedOf("hops", lines("Hop,Protection scheme", "MW-1,9+9")),
      parsedOf("gates", lines("Hop,Gate,State", "MW-1,survey,met")),
    ]);
    const preview = await previewBundle(files as ParsedFile[], existing);
    expect(preview.files.map((f) => f.rows[0]!.fate)).toEqual(["refused", "new"]);
  });

  it("checks an antenna's site against the hop as this import leaves it", async () => {
    const existing: ExistingRows = {
      hops: new Map([
        [
          "MW-1",
          { code: "MW-1", scheme: "1+0", bandGhz: 18, nearSiteCode: "OLD", weight: 1, ...USUAL_PROCEDURES },
        ],
      ]),
      sites: new Map([
        ["OLD", {} as SiteRow],
        ["NEW", {} as SiteRow],
      ]),
    };
    const files = await Promise.all([
      parsedOf("ends", lines("Hop,End,Site", "MW-1,near,NEW")),
      parsedOf("hops", lines("Hop,Near site", "MW-1,NEW")),
    ]);
    const preview = await previewBundle(files as ParsedFile[], existing);
    expect(preview.files.map((f) => f.rows[0]!.fate)).toEqual(["new", "changed"]);
  });

  it("refuses a key that stands in two files, in both", async () => {
    const header = "Site,Name,Elevation (m),Time zone,Structure,Structure height (m)";
    const row = "KAR-1,Ridge,612,UTC,lattice,54";
    const files = await Promise.all([
      parsedOf("sites", lines(header, row), { fileName: "north.csv" }),
      parsedOf("sites", lines(header, row), { fileName: "south.csv" }),
    ]);
    const preview = await previewBundle(files as ParsedFile[], {});
    expect(preview.files.map((f) => f.rows[0]!.problems.map((p) => p.message))).toEqual([
      ['Site "KAR-1" stands also in south.csv row 2.'],
      ['Site "KAR-1" stands also in north.csv row 2.'],
    ]);
  });

  it("gives another digest when anything would be stored differently", async () => {
    const files = await parseAll();
    const a = await previewBundle(files, {});
    const site = {
      code: "KAR-1",
      name: "Ridge",
      elevationM: 600,
      zone: "Europe/Zurich",
      structure: "lattice",
      structureHeightM: 54,
      terrain: "II",
      accessWeekdays: [1, 2, 3, 4, 5],
      accessFromMin: 420,
      accessToMin: 1080,
      noticeDays: 0,
      allowsTwoCrews: false,
    } as SiteRow;
    const b = await previewBundle(files, { sites: new Map([["KAR-1", site]]) });
    const c = await previewBundle(files, { sites: new Map([["KAR-1", { ...site, elevationM: 601 }]]) });
    expect(new Set([a.digest, b.digest, c.digest]).size).toBe(3);
    expect(b.files[0]!.rows[0]!.changes).toEqual([
      { key: "elevationM", label: "Elevation", from: "600", to: "612" },
    ]);
  });

  it("takes 10,000 hops with their sites in one import", async () => {
    const n = 10_000;
    const sites = Array.from({ length: n }, (_, i) => `S-${i},Site ${i},100,UTC,lattice,40`);
    const hops = Array.from({ length: n }, (_, i) => `MW-${i},1+0,18,S-${i},S-${(i + 1) % n}`);
    const files = await Promise.all([
      parsedOf("hops", lines("Hop,Protection scheme,Band (GHz),Near site,Far site", ...hops)),
      parsedOf("sites", lines("Site,Name,Elevation (m),Time zone,Structure,Structure height (m)", ...sites)),
    ]);
    const stages = new Set<string>();
    const preview = await previewBundle(
      files as ParsedFile[],
      {},
      { onProgress: ({ stage }) => void stages.add(stage) },
    );
    expect(preview.totals).toEqual({ new: 2 * n, changed: 0, same: 0, refused: 0, notInFile: 0 });
    expect([...stages]).toEqual(["preview"]);
  });
});
