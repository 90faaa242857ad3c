/** Files into the database and out again: the same rows, all or nothing, only what the person saw. */

import { beforeAll, describe, expect, it } from "vitest";
import { importApplyJob, importPreviewJob } from "@/app/_server/importJobs";
import { refreshEstimates } from "@/app/_server/planning";
import { hourCounts, stateOfImport } from "@/app/(work)/import/importWords";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { loadActuals } from "@/db/queries/actuals";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadCrews } from "@/db/queries/crews";
import { hopsWithoutBothEnds, loadHops, loadPartHops, loadSite, loadSites } from "@/db/queries/design";
import { loadDrums } from "@/db/queries/drums";
import { existingRows, tableRows, weatherRows, weatherSeries } from "@/db/queries/existingRows";
import {
  addImportFile,
  createImport,
  type FileAnswers,
  fileLines,
  importById,
  importFiles,
  saveFileAnswers,
} from "@/db/queries/imports";
import { ledgerDifferences, loadLedger } from "@/db/queries/ledger";
import { loadLog } from "@/db/queries/log";
import { loadOrdersOnTheWay, saveOrder } from "@/db/queries/orderLines";
import { approveOrder, sendOrder } from "@/db/queries/orderSteps";
import { loadOrder } from "@/db/queries/orderViews";
import { loadPlaces } from "@/db/queries/places";
import { loadProgrammeInput, loadWeather } from "@/db/queries/programme";
import { writeSetting } from "@/db/queries/settings";
import { loadBalances, loadLots } from "@/db/queries/shelves";
import { storeRows } from "@/db/queries/storeRows";
import { loadPlaceForecasts } from "@/db/queries/weatherViews";
import { calibrate } from "@/lib/calibration";
import { KIND_NAMES, previewFiles, rowsToStore, writeCsv, writeWorkbook, writeXlsx } from "@/lib/exchange";
import type { CalendarDate } from "@/lib/time";
import { decodeSeries } from "@/lib/weather";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;
const NOW = Date.parse("2026-03-16T07:30:00Z");
const TABLES = KIND_NAMES.filter((k) => k !== "weather");
const CONTEXT = { importId: "t", by: "Test", now: NOW, today: TODAY };

let demo: Db;

function freshDatabase(): Db {
  const db = openDatabase(":memory:");
  migrateDatabase(db);
  writeSetting(db, "homeZone", "UTC");
  return db;
}

const text = (...lines: string[]) => new TextEncoder().encode(`${lines.join("\n")}\n`);
const tools = (db: Db, shouldStop = () => false) => ({ db, report: () => {}, shouldStop });

/** Uploads and previews. */
async function preview(
  db: Db,
  files: Record<string, Uint8Array>,
  answers: Record<string, FileAnswers> = {},
): Promise<string> {
  const id = crypto.randomUUID();
  createImport(db, { id, createdBy: "Test", createdAt: NOW });
  for (const [name, bytes] of Object.entries(files)) {
    const seq = addImportFile(db, id, name, bytes);
    if (answers[name]) saveFileAnswers(db, id, seq, answers[name]);
  }
  expect(await importPreviewJob({ importId: id }, tools(db))).not.toHaveProperty("problems");
  return id;
}

function apply(db: Db, importId: string) {
  const digest = importById(db, importId)!.summary.digest!;
  return importApplyJob({ importId, digest, by: "Test", userId: null }, tools(db));
}

async function bringIn(
  db: Db,
  files: Record<string, Uint8Array>,
  answers: Record<string, FileAnswers> = {},
): Promise<string> {
  const id = await preview(db, files, answers);
  expect(await apply(db, id)).toHaveProperty("stored");
  return id;
}

beforeAll(() => {
  process.env.BOTHENDS_NOW = "2026-03-16T07:30:00Z";
  demo = openDatabase(":memory:");
  migrateDatabase(demo);
  loadDemo(demo, TODAY);
  return () => {
    delete process.env.BOTHENDS_NOW;
  };
}, 300_000);

describe("export and import of the demonstration change nothing", () => {
  it.each(TABLES)("%s, as CSV and as a workbook", async (kind) => {
    const rows = tableRows(demo)[kind] as never[];
    expect(rows.length).toBeGreaterThan(0);
    const files = { "out.csv": writeCsv(kind, rows), "out.xlsx": await writeXlsx(kind, rows) };
    for (const [fileName, source] of Object.entries(files)) {
      const { bundle } = await previewFiles([{ fileName, source, kind }], existingRows(demo));
      expect(bundle.problems).toEqual([]);
      expect(bundle.files[0]!.rows.flatMap((r) => r.problems)).toEqual([]);
      expect(bundle.totals, fileName).toEqual({
        new: 0,
        changed: 0,
        same: rows.length,
        refused: 0,
        notInFile: 0,
      });
      expect(rowsToStore(bundle)).toEqual([]);
    }
  });

  it("weather, past hours and forecast", async () => {
    const before = loadWeather(demo);
    const past = weatherSeries(demo, "history");
    const [first] = past;
    const id = await preview(demo, {
      "past.csv": writeCsv("weather", weatherRows(past.filter((s) => s.placeId === first!.placeId))),
    });
    const [table] = importById(demo, id)!.summary.tables!;
    expect(table!.weather).toMatchObject({
      answers: { kind: "history" },
      problems: [],
      refusedRows: 0,
      places: [{ newHours: 0, changedHours: 0 }],
    });
    expect(await apply(demo, id)).toMatchObject({ stored: { weatherSeries: 0, counts: {} } });
    expect(loadWeather(demo)).toEqual(before);
  });
});

describe("a fresh database filled from the demonstration's exports", () => {
  let copy: Db;

  beforeAll(async () => {
    copy = freshDatabase();
    const rows = tableRows(demo);
    const forecast = weatherSeries(demo, "forecast");
    const past = weatherSeries(demo, "history");
    const said = {
      source: past[0]!.source,
      isMadeUp: true,
      withoutThunder: "unknown" as const,
      confirmed: [],
    };
    await bringIn(
      copy,
      {
        "programme.xlsx": await writeWorkbook(TABLES.map((kind) => ({ kind, rows: rows[kind] }))),
        "past.csv": writeCsv("weather", weatherRows(past)),
        "forecast.csv": writeCsv("weather", weatherRows(forecast)),
      },
      {
        "past.csv": { "": { weather: { kind: "history", ...said } } },
        "forecast.csv": {
          "": {
            weather: {
              kind: "forecast",
              ...said,
              source: forecast[0]!.source,
              issuedAtMillis: forecast[0]!.issuedAtMillis,
            },
          },
        },
      },
    );
  }, 120_000);

  it("has equal actual hours, and calibrates alike once its estimates are made", () => {
    expect(tableRows(copy)["actual hours"]).toEqual(tableRows(demo)["actual hours"]);
    refreshEstimates(copy, loadProgrammeInput(copy, { today: TODAY, dayCount: 1, frozenDays: 0 }));
    const learned = (db: Db) => calibrate(loadActuals(db, TODAY)).calibration;
    expect(learned(copy).crews).toEqual(learned(demo).crews);
    expect(learned(copy).parts).toEqual(learned(demo).parts);
  }, 60_000);

  it("has equal sites, hops, items, places and crews", () => {
    expect(loadSites(copy)).toEqual(loadSites(demo));
    expect(loadHops(copy)).toEqual(loadHops(demo));
    expect(loadPartHops(copy)).toEqual(loadPartHops(demo));
    expect(loadCatalogue(copy)).toEqual(loadCatalogue(demo));
    expect(loadPlaces(copy)).toEqual(loadPlaces(demo));
    const crews = (db: Db) => loadCrews(db).map((c) => ({ ...c, vehiclePlace: undefined }));
    expect(crews(copy)).toEqual(crews(demo));
  });

  it("has equal balances, drums, lots in stock and orders on the way, and a whole ledger", () => {
    // Faulty pieces go with their story or not at all: what is on hold or in repair is in no stock file.
    const aside = new Set(
      loadPlaces(demo)
        .filter((p) => p.kind === "hold" || p.kind === "repair")
        .map((p) => p.code),
    );
    expect(aside.size).toBeGreaterThan(0);
    expect(loadBalances(copy)).toEqual(loadBalances(demo).filter((b) => !aside.has(b.placeCode)));
    expect(loadDrums(copy)).toEqual(loadDrums(demo));
    const inStock = new Set(loadBalances(demo).map((b) => b.lotCode));
    expect(loadLots(copy)).toEqual(loadLots(demo).filter((l) => inStock.has(l.code)));
    const orders = (db: Db) =>
      loadOrdersOnTheWay(db).map(({ quantityC, receivedC, state: _, ...o }) => ({
        ...o,
        openC: quantityC - receivedC,
      }));
    expect(orders(copy)).toEqual(orders(demo));
    expect(ledgerDifferences(copy)).toEqual([]);
  });

  it("has equal weather", () => {
    expect(loadWeather(copy)).toEqual(loadWeather(demo));
  });

  it("and a second import of the same does nothing", async () => {
    const rows = tableRows(demo);
    const moved = loadLedger(copy, { limit: 100_000 }).length;
    const id = await preview(copy, {
      "programme.xlsx": await writeWorkbook(TABLES.map((kind) => ({ kind, rows: rows[kind] }))),
    });
    expect(importById(copy, id)!.summary.totals).toMatchObject({ new: 0, changed: 0, refused: 0 });
    expect(await apply(copy, id)).toMatchObject({ stored: { counts: {} } });
    expect(loadLedger(copy, { limit: 100_000 }).length).toBe(moved);
  });

  it("whatever the order of the files", async () => {
    const other = freshDatabase();
    const rows = tableRows(demo);
    const backwards = [...TABLES].reverse();
    await bringIn(
      other,
      Object.fromEntries(backwards.map((kind) => [`${kind}.csv`, writeCsv(kind, rows[kind] as never[])])),
      Object.fromEntries(backwards.map((kind) => [`${kind}.csv`, { "": { kind } }])),
    );
    expect(tableRows(other)).toEqual(tableRows(copy));
  });
});

const HEAD = "Site,Name,Latitude,Longitude,Elevation (m),Time zone,Structure,Structure height (m),Terrain";
const site = (code: string, name: string) => `${code},${name},47.1,8.2,400,UTC,lattice,40,II`;
const SITES = text(HEAD, site("S1", "One"), site("S2", "Two"));

describe("all or nothing, and only what was seen", () => {
  it("leaves nothing behind when one row cannot be stored", async () => {
    const db = freshDatabase();
    const rows = tableRows(demo);
    const before = tableRows(db);
    const { bundle } = await previewFiles(
      [
        {
          fileName: "p.xlsx",
          source: await writeWorkbook(TABLES.map((kind) => ({ kind, rows: rows[kind] }))),
        },
      ],
      {},
    );
    const kinds = rowsToStore(bundle).map((k) =>
      k.kind === "weather places" ? { ...k, rows: [{ ...k.rows[0], name: null } as never] } : k,
    );
    expect(() => storeRows(db, kinds, CONTEXT)).toThrow(/NOT NULL/);
    expect(tableRows(db)).toEqual(before);
  });

  it("stops when the data changed since the preview, and previews again", async () => {
    const db = freshDatabase();
    const id = await preview(db, { "sites.csv": SITES });
    const seen = importById(db, id)!.summary.digest!;
    await bringIn(db, { "other.csv": text(HEAD, site("S2", "Zwei")) });
    const answer = await importApplyJob({ importId: id, digest: seen, by: "Test", userId: null }, tools(db));
    expect(answer).toMatchObject({ problems: [{ rule: "data-changed" }] });
    expect(loadSite(db, "S1")).toBeUndefined();
    expect(importById(db, id)!.summary.totals).toMatchObject({ new: 1, changed: 1 });
    expect(await apply(db, id)).toHaveProperty("stored");
    expect(loadSite(db, "S2")!.name).toBe("Two");
  });

  it("applies an import once", async () => {
    const db = freshDatabase();
    const id = await bringIn(db, { "sites.csv": SITES });
    expect(await apply(db, id)).toMatchObject({ problems: [{ rule: "import-not-open" }] });
    expect(loadLog(db, 10, id)).toMatchObject([{ action: "import", userName: "Test" }]);
  });

  it("ends at once when no file holds a table: there is nothing to say yes to", async () => {
    const id = await preview(demo, { "a.csv": new Uint8Array(), "sites.csv": text("Site,Name") });
    const head = importById(demo, id)!;
    expect(head.state).toBe("discarded");
    expect(head.summary.problems?.map((p) => [p.fileName, p.rule])).toEqual([
      ["a.csv", "file-empty"],
      ["sites.csv", "file-header-only"],
    ]);
    expect(importFiles(demo, id).map((f) => f.sizeBytes)).toEqual([0, 0]);
    expect(stateOfImport(head).word).toBe("Nothing to bring in");
    // What a person may still answer about stays open.
    const other = importById(demo, await preview(demo, { "list.csv": text("Colour,Value", "red,1") }))!;
    expect(other.state).toBe("previewed");
    expect(stateOfImport(other).word).toBe("Waits for an answer");
    const both = importById(
      demo,
      await preview(demo, {
        "a.csv": new Uint8Array(),
        "places.csv": text("Place,Name,Kind", "WH-Z,Z,warehouse"),
      }),
    )!;
    expect(stateOfImport(both).word).toBe("Waits for your yes");
  });

  it("keeps nothing of a preview that was stopped", async () => {
    const db = freshDatabase();
    const id = crypto.randomUUID();
    createImport(db, { id, createdBy: "Test", createdAt: NOW });
    addImportFile(db, id, "sites.csv", SITES);
    expect(
      await importPreviewJob(
        { importId: id },
        tools(db, () => true),
      ),
    ).toEqual({ stopped: true });
    expect(importById(db, id)!.state).toBe("read");
  });
});

describe("what a row becomes", () => {
  let db: Db;
  const STOCK_HEAD = "Item,Place,Owner,Lot,Expires on,Drum,Drum received (m),Drum remaining (m),Quantity";

  beforeAll(async () => {
    db = freshDatabase();
    const { items, places } = tableRows(demo);
    await bringIn(db, {
      "items.csv": writeCsv("items", items),
      "places.csv": writeCsv("places", places),
      "sites.csv": SITES,
    });
  });

  const cable = () => loadCatalogue(db).find((i) => i.category === "IF cable")!.code;
  const piece = () => loadCatalogue(db).find((i) => i.unit === "piece" && i.owner === "contractor")!.code;
  const warehouse = () => loadPlaces(db).find((p) => p.kind === "warehouse")!.code;

  it("stock: a receipt first, a count adjustment for a difference, never an edit; a site becomes a place", async () => {
    const rows = (quantity: number, leftM: number) =>
      text(
        STOCK_HEAD,
        `${piece()},${warehouse()},contractor,,,,,,${quantity}`,
        `${piece()},S1,contractor,LOT-1,2027-01-31,,,,4`,
        `${cable()},${warehouse()},contractor,,,D-1,500,${leftM},`,
      );
    await bringIn(db, { "stock.csv": rows(10, 320.5) });
    expect(loadPlaces(db).find((p) => p.code === "S1")).toMatchObject({ kind: "site", name: "One" });
    await bringIn(db, { "stock.csv": rows(7, 300) });
    const ledger = loadLedger(db, { limit: 10 }).map((m) => [
      m.kind,
      m.fromPlace,
      m.toPlace,
      m.quantityC,
      m.drumSerial,
    ]);
    expect(ledger).toEqual([
      ["count adjustment", warehouse(), null, 2050, "D-1"],
      ["count adjustment", warehouse(), null, 300, null],
      ["receipt", null, warehouse(), 32050, "D-1"],
      ["receipt", null, "S1", 400, null],
      ["receipt", null, warehouse(), 1000, null],
    ]);
    expect(loadDrums(db)).toMatchObject([{ serial: "D-1", receivedC: 50_000, remainingC: 30_000 }]);
    expect(loadLots(db)).toMatchObject([{ code: "LOT-1", expiresOn: "2027-01-31" }]);
    expect(ledgerDifferences(db)).toEqual([]);
  });

  it("stock that the ledger refuses is named, and nothing of the import is stored", async () => {
    const { length } = loadLedger(db, { limit: 100 });
    const id = await preview(db, {
      "sites.csv": text(HEAD, site("S9", "Nine")),
      "stock.csv": text(STOCK_HEAD, `${piece()},${warehouse()},contractor,LOT-1,2027-01-31,,,,1`),
    });
    db.$client.prepare("UPDATE lot SET item_code = ? WHERE code = 'LOT-1'").run(cable());
    expect(await apply(db, id)).toMatchObject({
      problems: [{ rule: "belongs-to-another-item", value: "LOT-1" }],
    });
    db.$client.prepare("UPDATE lot SET item_code = ? WHERE code = 'LOT-1'").run(piece());
    expect(loadSite(db, "S9")).toBeUndefined();
    expect(loadLedger(db, { limit: 100 }).length).toBe(length);
    expect(importById(db, id)!.state).toBe("previewed");
  });

  it("an order goes to one place; the customer's material is a call-off", async () => {
    const customers = loadCatalogue(db).find((i) => i.owner === "customer")!.code;
    const id = await preview(db, {
      "orders.csv": text(
        "Order,Line,Item,Quantity,Due on,Place,Supplier",
        `PO-1,1,${piece()},5,2026-04-01,${warehouse()},Acorn`,
        `CO-1,1,${customers},2,2026-04-02,${warehouse()},`,
        `PO-2,1,${piece()},5,2026-04-01,${warehouse()},Acorn`,
        `PO-2,2,${piece()},5,2026-04-01,S1,Acorn`,
      ),
    });
    const lines = fileLines(db, id, 1)![""]!;
    expect(lines.map((l) => l.fate)).toEqual(["new", "new", "refused", "refused"]);
    expect(lines[3]!.problems).toMatchObject([{ rule: "disagrees", row: 5 }]);
    expect(await apply(db, id)).toHaveProperty("stored");
    expect(loadOrdersOnTheWay(db)).toMatchObject([
      { orderCode: "PO-1", kind: "purchase", state: "sent", quantityC: 500 },
      { orderCode: "CO-1", kind: "call-off", state: "sent", quantityC: 200 },
    ]);
  });

  it("an order that nobody approved is not sent by a file", async () => {
    saveOrder(db, {
      code: "PO-7",
      kind: "purchase",
      supplier: "Acorn",
      state: "proposed",
      placeCode: warehouse(),
      createdAt: NOW,
      createdBy: "Test",
      lines: [{ itemCode: piece(), quantityC: 500, dueOn: TODAY }],
    });
    const id = await preview(db, {
      "orders.csv": text(
        "Order,Line,Item,Quantity,Due on,Place,Supplier",
        `PO-7,1,${piece()},5,2026-04-01,${warehouse()},Acorn`,
      ),
    });
    expect(await apply(db, id)).toMatchObject({ problems: [{ rule: "order-not-approved", value: "PO-7" }] });
    expect(loadOrdersOnTheWay(db).filter((o) => o.orderCode === "PO-7")).toEqual([]);
  });

  it("what was approved here stays as it was approved: a file may move its day, and the order's log says so", async () => {
    const by = { name: "Anna", at: NOW };
    saveOrder(db, {
      code: "PO-8",
      kind: "purchase",
      supplier: "Acorn",
      state: "proposed",
      placeCode: warehouse(),
      createdAt: NOW,
      createdBy: "Test",
      lines: [{ itemCode: piece(), quantityC: 100, dueOn: TODAY }],
    });
    expect(approveOrder(db, "PO-8", { ...by, role: "administrator" })).toHaveProperty("ok", true);
    const file = (...rows: string[]) => ({
      "po8.csv": text("Order,Line,Item,Quantity,Due on,Place,Supplier", ...rows),
    });
    const row = (line: number, quantity: number, day: string) =>
      `PO-8,${line},${piece()},${quantity},${day},${warehouse()},Acorn`;
    const early = await preview(db, file(row(1, 1, "2026-04-01")));
    expect(await apply(db, early)).toMatchObject({ problems: [{ rule: "order-not-sent", value: "PO-8" }] });
    expect(sendOrder(db, "PO-8", TODAY, by)).toHaveProperty("ok", true);
    const more = await preview(db, file(row(1, 9, "2026-03-16"), row(2, 5, "2026-03-16")));
    expect(importById(db, more)!.summary.totals).toMatchObject({ new: 0, changed: 0, refused: 2 });
    expect(fileLines(db, more, 1)![""]!.map((l) => l.problems?.[0]?.rule)).toEqual([
      "order-approved",
      "order-approved",
    ]);
    await apply(db, more);
    await bringIn(db, file(row(1, 1, "2026-04-03")));
    expect(loadOrder(db, "PO-8")!.lines).toMatchObject([
      { quantityC: 100, dueOn: "2026-04-03", promisedOn: TODAY },
    ]);
    const [moved] = loadLog(db, 1, "order PO-8");
    expect(moved).toMatchObject({
      action: "delivery day changed",
      userName: "Test",
      detail: { files: ["po8.csv"], lines: [{ lineNo: 1, before: { dueOn: TODAY } }] },
    });
  });

  it("an order that came from files may be brought in again, and its log names the file", async () => {
    const file = (quantity: number) => ({
      "po9.csv": text(
        "Order,Line,Item,Quantity,Due on,Place,Supplier",
        `PO-9,1,${piece()},${quantity},2026-04-01,${warehouse()},Acorn`,
      ),
    });
    await bringIn(db, file(5));
    await bringIn(db, file(6));
    expect(loadOrder(db, "PO-9")!.lines[0]!.quantityC).toBe(600);
    expect(loadLog(db, 5, "order PO-9").map((e) => e.action)).toEqual([
      "order changed",
      "order brought in by a file",
    ]);
  });

  it("a hop without its far site stays as a snag with all that its near end has, and closes later", async () => {
    const near = {
      "hops.csv": text("Hop,Protection scheme,Band (GHz),Near site,Far site", "H1,1+0,18,S1,"),
      "antennas.csv": text(
        "Hop,End,Antenna,Mount height (m),Dish diameter (m),Polarisations,Band (GHz)",
        "H1,near,A1,30,0.6,V,18",
      ),
    };
    const id = await bringIn(db, near);
    expect(importById(db, id)!.summary.totals).toMatchObject({ new: 2, refused: 0 });
    expect(hopsWithoutBothEnds(db)).toEqual(["H1"]);
    expect(loadPartHops(db)[0]).toMatchObject({ near: { siteId: "S1", antennas: [{ label: "A1" }] } });
    const again = await preview(db, near);
    expect(importById(db, again)!.summary.totals).toMatchObject({ new: 0, changed: 0, same: 2 });
    await bringIn(db, { "hops.csv": text("Hop,Far site", "H1,S2") });
    expect(hopsWithoutBothEnds(db)).toEqual([]);
    expect(loadHops(db)[0]).toMatchObject({
      near: { siteId: "S1", antennas: [{ label: "A1" }] },
      far: { siteId: "S2", antennas: [] },
    });
  });

  it("months of past hours in files of their own make one year; a forecast asks when it was issued", async () => {
    const hours = (day: string) =>
      text(
        "Weather place,Hour starts (UTC),Wind (m/s),Gust (m/s),Rain (mm/h),Temperature (degC)",
        `WX,${day} 00:00,4.5,7.5,0,8`,
        `WX,${day} 01:00,5.5,8.5,0.2,7`,
      );
    await bringIn(db, {
      "weather places.csv": text(
        "Weather place,Name,Latitude,Longitude,Elevation (m)",
        "WX,Ridge,47.1,8.2,540",
      ),
      "jan.csv": hours("2025-01-10"),
      "feb.csv": hours("2025-02-10"),
    });
    const [place] = loadWeather(db);
    expect(place!.history.length).toBe(1);
    expect([...decodeSeries(place!.history[0]!).windMs].filter((w) => !Number.isNaN(w))).toEqual([
      4.5, 5.5, 4.5, 5.5,
    ]);
    // The tiles count what the button brings in.
    const again = importById(
      db,
      await preview(db, { "feb.csv": hours("2025-02-10"), "mar.csv": hours("2025-03-10") }),
    );
    expect(hourCounts(again!.summary.tables!)).toEqual({ new: 2, changed: 0, same: 2 });
    const id = await preview(db, { "next.csv": hours("2026-03-17") });
    const [table] = importById(db, id)!.summary.tables!;
    expect(table!.weather).toMatchObject({
      answers: { kind: "forecast" },
      problems: [{ rule: "forecast-issue-missing" }],
    });
    expect(stateOfImport(importById(db, id)!).word).toBe("Waits for an answer");
    await apply(db, id);
    expect(loadWeather(db)[0]!.forecast).toBeUndefined();
  });

  it("the same issue of a forecast brought in again is the same; another issue or hour is new", async () => {
    const db = freshDatabase();
    const head =
      "Weather place,Hour starts (UTC),Member,Wind (m/s),Gust (m/s),Rain (mm/h),Temperature (degC)";
    const rows = (hour: number, wind = 4) =>
      ["", "1"].map((member) => `WZ,2026-03-17 ${String(hour).padStart(2, "0")}:00,${member},${wind},8,0,8`);
    const issued = (issuedAtMillis: number) => ({
      "f.csv": {
        "": {
          weather: {
            kind: "forecast" as const,
            source: "test",
            isMadeUp: true,
            issuedAtMillis,
            withoutThunder: "none" as const,
            confirmed: [],
          },
        },
      },
    });
    const file = { "f.csv": text(head, ...rows(6), ...rows(7)) };
    const standing = () => loadPlaceForecasts(db).find((p) => p.code === "WZ");
    const counts = (id: string) => hourCounts(importById(db, id)!.summary.tables!);
    await bringIn(db, {
      "weather places.csv": text(
        "Weather place,Name,Latitude,Longitude,Elevation (m)",
        "WZ,Ridge,47.1,8.2,540",
      ),
    });
    const first = await bringIn(db, file, issued(NOW));
    expect(counts(first)).toEqual({ new: 4, changed: 0, same: 0 });
    const stands = standing();

    const again = await preview(db, file, issued(NOW));
    expect(counts(again)).toEqual({ new: 0, changed: 0, same: 4 });
    expect(stateOfImport(importById(db, again)!)).toMatchObject({
      state: "met",
      word: "Nothing to bring in",
    });
    expect(await apply(db, again)).toMatchObject({ stored: { weatherSeries: 0 } });
    expect(standing()).toEqual(stands);
    expect(counts(await preview(db, file, issued(NOW - 3_600_000)))).toEqual({ new: 4, changed: 0, same: 0 });

    // The rest of an issue joins what stands of it.
    const rest = await bringIn(db, { "f.csv": text(head, ...rows(7, 5), ...rows(8)) }, issued(NOW));
    expect(counts(rest)).toEqual({ new: 2, changed: 2, same: 0 });
    const place = standing();
    expect([...place!.forecast!.windMs]).toEqual([4, 5, 4]);
    expect(place!.members.map((m) => [...m.windMs])).toEqual([[4, 5, 4]]);
    expect(
      db.$client.prepare("SELECT count(*) FROM weather_block WHERE place_code = 'WZ'").pluck().get(),
    ).toBe(2);
  });

  it("a gust under the mean wind is asked about before anything is stored", async () => {
    const file = {
      "w.csv": text(
        "Weather place,Hour starts (UTC),Wind (m/s),Gust (m/s),Rain (mm/h),Temperature (degC)",
        "WX,2025-01-10 00:00,5,8,0,8",
        "WX,2025-01-10 01:00,5,3,0,7",
      ),
    };
    await bringIn(db, {
      "weather places.csv": text(
        "Weather place,Name,Latitude,Longitude,Elevation (m)",
        "WX,Ridge,47.1,8.2,540",
      ),
    });
    const asked = importById(db, await preview(db, file))!;
    expect(asked.summary.tables![0]!.weather!.problems).toMatchObject([
      { path: "WX: gust", rule: "gust-under-wind", value: 1 },
    ]);
    expect(stateOfImport(asked).word).toBe("Waits for an answer");
    const { answers } = asked.summary.tables![0]!.weather!;
    const confirmed = { "w.csv": { "": { weather: { ...answers, confirmed: ["gust-under-wind"] } } } };
    await bringIn(db, file, confirmed);
    expect(loadWeather(db)[0]!.history).toHaveLength(1);
  });

  it("a weather place without hours takes over no site; its first hours are told before they do", async () => {
    const db = freshDatabase();
    const head = "Weather place,Name,Latitude,Longitude,Elevation (m)";
    const hours = (place: string) =>
      text(
        "Weather place,Hour starts (UTC),Wind (m/s),Gust (m/s),Rain (mm/h),Temperature (degC)",
        `${place},2025-01-10 00:00,4,8,0,8`,
      );
    await bringIn(db, {
      "sites.csv": SITES,
      "weather places.csv": text(head, "WX,Ridge,47.15,8.2,540"),
      "past.csv": hours("WX"),
    });
    const { position } = loadSites(db)[0]!;
    const near = text(head, `WN,New,${position!.latDeg},${position!.lonDeg},540`);
    const doubts = (id: string) => importById(db, id)!.summary.tables!.flatMap((t) => t.doubts ?? []);
    const places = await bringIn(db, { "weather places.csv": near });
    expect(doubts(places).map((d) => d.text)).toEqual([expect.stringContaining("It has no hours")]);
    expect(loadPlaceForecasts(db).map((p) => [p.code, p.hasHours])).toEqual([
      ["WN", false],
      ["WX", true],
    ]);
    const first = await bringIn(db, { "past.csv": hours("WN") });
    expect(doubts(first).map((d) => d.text)).toEqual([expect.stringContaining("It has no forecast")]);
    expect(doubts(await preview(db, { "past.csv": hours("WN") }))).toEqual([]);
  });

  it("an import of which every row is the same or refused has nothing to say yes to", async () => {
    const ok = "WX,Ridge,47.1,8.2,540";
    const head = "Weather place,Name,Latitude,Longitude,Elevation (m)";
    await bringIn(db, { "weather places.csv": text(head, ok) });
    const state = async (...rows: string[]) =>
      stateOfImport(importById(db, await preview(db, { "weather places.csv": text(head, ...rows) }))!);
    expect(await state(ok)).toEqual({ state: "met", word: "Nothing to bring in" });
    expect(await state(ok, "WY,Far,x,8.2,540")).toEqual({ state: "fail", word: "Nothing to bring in" });
    expect((await state(ok, "WY,Far,47,8.2,540")).word).toBe("Waits for your yes");
  });

  it("members of an ensemble come in beside the forecast; members of past hours are refused", async () => {
    const places = text("Weather place,Name,Latitude,Longitude,Elevation (m)", "WX,Ridge,47.1,8.2,540");
    const rows = (day: string, member?: number) =>
      ["06", "07"].map(
        (h) => `WX,${day}T${h}:00Z,${member === undefined ? "" : `${member},`}${3 + (member ?? 0)},6,0,8`,
      );
    const head = (hasMember: boolean) =>
      `Weather place,Hour starts (UTC),${hasMember ? "Member," : ""}Wind (m/s),Gust (m/s),Rain (mm/h),Temperature (degC)`;
    const issued = {
      "": {
        weather: {
          kind: "forecast" as const,
          source: "test",
          isMadeUp: true,
          issuedAtMillis: NOW - 3_600_000,
          withoutThunder: "none" as const,
          confirmed: [],
        },
      },
    };
    await bringIn(
      db,
      {
        "weather places.csv": places,
        "main.csv": text(head(false), ...rows("2026-03-17")),
        "members.csv": text(head(true), ...rows("2026-03-17", 1), ...rows("2026-03-17", 2)),
      },
      { "main.csv": issued, "members.csv": issued },
    );
    const [place] = loadPlaceForecasts(db);
    expect([...place!.forecast!.windMs]).toEqual([3, 3]);
    expect(place!.members.map((m) => [m.memberNo, ...m.windMs])).toEqual([
      [1, 4, 4],
      [2, 5, 5],
    ]);
    expect(weatherSeries(db, "forecast")).toHaveLength(1);
    // Written and read again, the members are the same; the file has a thunder column now, so nothing was assumed.
    const written = writeCsv("weather", weatherRows(weatherSeries(db, "members")));
    const copy = freshDatabase();
    await bringIn(
      copy,
      {
        "weather places.csv": places,
        "main.csv": text(head(false), ...rows("2026-03-17")),
        "out.csv": written,
      },
      { "main.csv": issued, "out.csv": issued },
    );
    expect(loadPlaceForecasts(copy)[0]!.members).toEqual(
      place!.members.map((m) => ({ ...m, source: "test" })),
    );

    const id = await preview(db, { "old.csv": text(head(true), ...rows("2026-02-01", 1)) });
    expect(importById(db, id)!.summary.tables![0]!.weather!.problems).toMatchObject([
      { rule: "member-of-the-past", path: "WX: Member" },
    ]);
  });

  it("ten thousand sites", async () => {
    const many = Array.from({ length: 10_000 }, (_, i) => site(`N${i}`, `Site ${i}`));
    const id = await bringIn(db, { "many.csv": text(HEAD, ...many, `N1,,x,8,400,UTC,lattice,40,II`) });
    const lines = fileLines(db, id, 1)![""]!;
    expect(lines.length).toBe(10_001);
    expect(lines.filter((l) => l.fate === "refused").map((l) => l.row)).toEqual([3, 10_002]);
    expect(loadSites(db).length).toBe(10_001);
  });
});

describe("actual hours from a file", () => {
  const HEADER = "Hop;End;Work;Worked on;Crew;Worked (h);Finished;Tasks";
  const hop = () => tableRows(demo)["actual hours"][0]!.hopCode;
  const fates = (db: Db, id: string) => fileLines(db, id, 1)?.[""]?.map((l) => [l.row, l.fate]);

  it("each row has its fate, hours become minutes, and what is stored is learned from", async () => {
    const open = demo.$client
      .prepare("SELECT hop_code FROM plan_visit WHERE kind = 'install' AND side = 'near' LIMIT 1")
      .pluck()
      .get() as string;
    const file = text(
      HEADER,
      `${open};near;install;2026-03-12;C2;3.5;no;fix-cable 30`,
      `${open};near;install;2026-03-13;C2;2.25;yes;"fix-cable 12; Connect 20"`.replaceAll(
        "Connect",
        "connect",
      ),
      `${open};far;install;2026-03-13;C9;2;yes;`,
      `${open};far;install;2026-03-13;C2;26;yes;`,
      `${open};far;install;2026-03-14;C2;2;yes;juggle 10`,
    );
    const id = await preview(demo, { "hours.csv": file });
    expect(fates(demo, id)).toEqual([
      [2, "new"],
      [3, "new"],
      [4, "refused"],
      [5, "refused"],
      [6, "refused"],
    ]);
    expect(await apply(demo, id)).toMatchObject({ stored: { counts: { "actual hours": 2 } } });
    const { visits, parts } = loadActuals(demo, TODAY);
    expect(visits.find((v) => v.visitId === `${open}/near/install`)).toMatchObject({
      crewCode: "C2",
      workedMin: 345,
      workedOn: "2026-03-13",
    });
    const timed = parts.filter((p) => p.visitId === `${open}/near/install`);
    expect(timed.map((p) => [p.part, p.workedMin])).toEqual(
      expect.arrayContaining([
        ["fix-cable", 42],
        ["connect", 20],
      ]),
    );
  });

  it("a day that was reported takes the file's hours; the same file again changes nothing", async () => {
    const before = tableRows(demo)["actual hours"].find((r) => r.hopCode === hop())!;
    const hours = before.workedMin / 60 + 1;
    const file = text(
      HEADER.replace(";Finished;Tasks", ""),
      [before.hopCode, before.side, before.work, before.workedOn, before.crewCode, hours].join(";"),
    );
    const first = await preview(demo, { "hours.csv": file });
    expect(fates(demo, first)).toEqual([[2, "changed"]]);
    expect(await apply(demo, first)).toHaveProperty("stored");
    const after = tableRows(demo)["actual hours"].find(
      (r) => r.hopCode === before.hopCode && r.side === before.side && r.workedOn === before.workedOn,
    )!;
    expect(after).toEqual({ ...before, workedMin: before.workedMin + 60 });
    expect(fates(demo, await preview(demo, { "hours.csv": file }))).toEqual([[2, "same"]]);
  });

  it("a row of a day to come is refused in the preview, and the good ones go in", async () => {
    const open = demo.$client
      .prepare("SELECT hop_code FROM plan_visit WHERE kind = 'install' AND side = 'near' LIMIT 1 OFFSET 1")
      .pluck()
      .get() as string;
    const id = await preview(demo, {
      "hours.csv": text(
        HEADER.replace(";Finished;Tasks", ""),
        `${open};near;install;2026-03-17;C2;3.5`,
        `${open};far;install;${TODAY};C2;2`,
      ),
    });
    expect(fates(demo, id)).toEqual([
      [2, "refused"],
      [3, "new"],
    ]);
    expect(importById(demo, id)!.summary.refused).toMatchObject([
      {
        ...{ fileName: "hours.csv", row: 2, column: "Worked on", rule: "future-day", value: "2026-03-17" },
        remedy: expect.stringContaining(TODAY),
      },
    ]);
    expect(await apply(demo, id)).toMatchObject({ stored: { counts: { "actual hours": 1 } } });
  });

  it("hours of a day to come that reach the store all the same are refused as a whole, with row, value and remedy", () => {
    const row = { ...tableRows(demo)["actual hours"][0]!, workedOn: "2026-03-17" as CalendarDate };
    const count = () => demo.$client.prepare("SELECT COUNT(*) FROM visit_report").pluck().get();
    const before = count();
    expect(storeRows(demo, [{ kind: "actual hours", rows: [row] }], CONTEXT)).toMatchObject({
      ok: false,
      problems: [{ rule: "future-report", value: "2026-03-17", remedy: expect.stringContaining(TODAY) }],
    });
    expect(count()).toBe(before);
  });
});
