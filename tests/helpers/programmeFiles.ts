/** A small fresh programme as the files that a contractor would bring in: one workbook and a CSV of weather. */
import {
  blockOfSeries,
  type KindName,
  type RowOf,
  rowFromItem,
  rowFromSite,
  rowsFromHops,
  rowsOfBlock,
  writeCsv,
  writeWorkbook,
} from "@/lib/exchange";
import { destination } from "@/lib/geo";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { type CalendarDate, instantAt } from "@/lib/time";
import { demoCrews } from "@/seed/crews";
import { ISLAND_CENTRE, makeHops, makeSites, ZONE } from "@/seed/vellmark";
import { makeWeather } from "@/seed/weather";

export interface ProgrammeFiles {
  workbook: Uint8Array;
  history: Uint8Array;
  forecast: Uint8Array;
  siteCodes: string[];
  hopCodes: string[];
  crewCodes: string[];
  /** Of this connector there is far too little, on purpose. */
  shortItem: string;
}

/** Three hops, two crews, one depot, ample stock but for one item, a calm forecast and a year of history. */
export async function programmeFiles(today: CalendarDate): Promise<ProgrammeFiles> {
  const random = new Random("fresh programme");
  const allSites = makeSites(random.fork("sites"), 40);
  const hops = makeHops(random.fork("hops"), allSites, DEFAULT_CATALOGUE, today, 3, 20).map((h) => ({
    ...h,
    gates: h.gates.map((g) => ({ ...g, state: "met" as const, dueOn: undefined })),
  }));
  const used = new Set(hops.flatMap((h) => [h.near.siteId, h.far.siteId]));
  const sites = allSites.filter((s) => used.has(s.id));
  const crews = demoCrews(today).slice(0, 2);
  const shortItem = "CON-06";
  const design = rowsFromHops(hops);
  const places: RowOf<"places">[] = [
    { code: "DEPOT", name: "Depot", kind: "warehouse", ...destination(ISLAND_CENTRE, 90, 5) },
  ];
  const stock = DEFAULT_CATALOGUE.map((i): RowOf<"stock"> => {
    const base = { itemCode: i.code, placeCode: "DEPOT", owner: i.owner };
    if (i.category === "IF cable") {
      const length = i.orderMultiple;
      return { ...base, drumSerial: `${i.code}-1`, receivedM: length, remainingM: length, quantity: length };
    }
    return { ...base, quantity: i.code === shortItem ? 12 : 400 };
  });
  const parts: { kind: KindName; rows: readonly unknown[] }[] = [
    { kind: "sites", rows: sites.map(rowFromSite) },
    { kind: "items", rows: DEFAULT_CATALOGUE.map((i) => rowFromItem(i)) },
    { kind: "hops", rows: design.hops },
    { kind: "ends", rows: design.ends },
    { kind: "antennas", rows: design.antennas },
    { kind: "radios", rows: design.radios },
    { kind: "gates", rows: design.gates },
    { kind: "places", rows: places },
    { kind: "stock", rows: stock },
    {
      kind: "crews",
      rows: crews.map(({ members: _, vehiclePlace: __, ...c }) => ({ ...c, depotPlace: "DEPOT" })),
    },
    {
      kind: "crew members",
      rows: crews.flatMap((c) => c.members.map((m) => ({ ...m, crewCode: c.code, leave: [] }))),
    },
    {
      kind: "weather places",
      rows: [{ code: "WX", name: "Harbour", ...destination(ISLAND_CENTRE, 0, 3), elevationM: 30 }],
    },
  ];
  const series = makeWeather(
    random.fork("weather"),
    [{ id: "WX", name: "Harbour", ...destination(ISLAND_CENTRE, 0, 3), elevationM: 30 }],
    {
      firstHistoryYear: Number(today.slice(0, 4)) - 1,
      years: 1,
      forecastDays: 10,
      nowMillis: instantAt(today, 0, ZONE),
      meanWindMs: 3,
    },
  );
  const csvOf = (kind: "history" | "forecast") =>
    writeCsv(
      "weather",
      series.filter((s) => s.kind === kind).flatMap((s) => rowsOfBlock(blockOfSeries("WX", s))),
    );
  return {
    workbook: await writeWorkbook(parts),
    history: csvOf("history"),
    forecast: csvOf("forecast"),
    siteCodes: sites.map((s) => s.code),
    hopCodes: hops.map((h) => h.code),
    crewCodes: crews.map((c) => c.code),
    shortItem,
  };
}
