import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import type { WeatherOptions } from "@/lib/exchange/hourReader";
import { applyMatching, matchColumns, overrideMatching } from "@/lib/exchange/match";
import { readTable } from "@/lib/exchange/readTable";
import { readWeather, rowsOfBlock, shortestFloat32, unknownPlaces } from "@/lib/exchange/weather";
import { writeCsv } from "@/lib/exchange/write";
import { lines, tableOf, workbook } from "./files";

const HOUR = 3_600_000;
const T0 = Date.UTC(2026, 0, 1);
const HEADER =
  "Weather place,Hour starts (UTC),Wind (m/s),Gust (m/s),Rain (mm/h),Temperature (degC),Humidity (%),Thunder";

async function read(
  bytes: Uint8Array,
  options: WeatherOptions = {},
  fileName = "weather.csv",
  constants?: Record<string, string>,
) {
  const table = await tableOf(bytes, fileName);
  const proposed = matchColumns(table.header, "weather");
  const matched = applyMatching(table, "weather", constants ? { ...proposed, constants } : proposed);
  if (!matched.ok) throw new Error(JSON.stringify(matched.problems));
  return readWeather(matched.value, options);
}

describe("readWeather", () => {
  it("gives the hours of each place in time order, blanks as NaN", async () => {
    const reading = await read(
      lines(
        HEADER,
        "WX-2,2026-01-01T00:00Z,5,8,0,4.5,80,no",
        "WX-1,2026-01-01T02:00Z,3,,0.2,-1,,yes",
        "WX-1,2026-01-01T00:00Z,2.5,4,0,1,90,",
      ),
    );
    expect(reading.problems).toEqual([]);
    expect(reading.blocks.map((b) => b.placeCode)).toEqual(["WX-2", "WX-1"]);
    const wx1 = reading.blocks[1]!;
    expect([...wx1.timeMillis]).toEqual([T0, T0 + 2 * HOUR]);
    expect([...wx1.windMs]).toEqual([2.5, 3]);
    expect([...wx1.gustMs]).toEqual([4, Number.NaN]);
    expect([...wx1.thunder]).toEqual([Number.NaN, 1]);
  });

  it("converts units that the header states, and says so", async () => {
    const reading = await read(
      lines(
        "Weather place,time,Wind (km/h),Gust (kn),Rain (in/h),Temp (°F)",
        "WX-1,2026-01-01T00:00Z,36,10,1,50",
      ),
    );
    const [b] = reading.blocks;
    expect(b!.windMs[0]).toBeCloseTo(10, 5);
    expect(b!.gustMs[0]).toBeCloseTo(5.1444, 4);
    expect(b!.rainMmH[0]).toBeCloseTo(25.4, 5);
    expect(b!.tempC[0]).toBeCloseTo(10, 5);
    expect(reading.notices).toEqual([
      '"Wind (km/h)" is converted from km/h to m/s: x 0.277778.',
      '"Gust (kn)" is converted from kn to m/s: x 0.514444.',
      '"Rain (in/h)" is converted from in/h to mm/h: x 25.4.',
      '"Temp (°F)" is converted from degF to degC: x 0.555556 - 17.7778.',
    ]);
    const mph = await read(lines("Weather place,time,Wind mph", "WX-1,2026-01-01T00:00Z,10"));
    expect(mph.blocks[0]!.windMs[0]).toBeCloseTo(4.4704, 5);
  });

  it("refuses what cannot be weather, with the row, and keeps the rest", async () => {
    const reading = await read(
      lines(
        HEADER,
        "WX-1,2026-01-01T00:00Z,-2,8,0,4,80,no",
        "WX-1,2026-01-01T01:00Z,5,strong,0,4,80,no",
        "WX-1,2026-01-01T02:30Z,5,8,0,4,80,no",
        "WX-1,yesterday,5,8,0,4,80,no",
        ",2026-01-01T05:00Z,5,8,0,4,80,no",
        "WX-1,2026-01-01T06:00Z,5,8,0,4,80,no,7",
        "WX-1,2026-01-01T07:00Z,5,8,0,4,80,no",
      ),
    );
    expect(reading.problems.map((p) => [p.row, p.rule])).toEqual([
      [2, "outside-limits"],
      [3, "not-a-number"],
      [4, "not-a-full-hour"],
      [5, "not-a-time"],
      [6, "required"],
      [7, "more-cells-than-header"],
    ]);
    expect(reading).toMatchObject({ rowCount: 7, refusedRows: 6 });
    expect([...reading.blocks[0]!.timeMillis]).toEqual([T0 + 7 * HOUR]);
  });

  it("keeps places apart around a faulty row, and takes a place that was given for all rows", async () => {
    const reading = await read(
      lines(
        HEADER,
        "WX-1,2026-01-01T00:00Z,1,,,,,",
        ",2026-01-01T01:00Z,2,,,,,",
        "WX-1,2026-01-01T02:00Z,3,,,,,",
        "WX-2,2026-01-01T02:00Z,4,,,,,",
        "WX-1,2026-01-01T03:00Z,5,,,,,",
      ),
    );
    expect(reading.blocks.map((b) => [b.placeCode, ...b.windMs])).toEqual([
      ["WX-1", 1, 3, 5],
      ["WX-2", 4],
    ]);
    const constant = await read(
      lines("time,Wind (m/s)", "2026-01-01T00:00Z,1", "2026-01-01T01:00Z,2"),
      {},
      "w.csv",
      {
        placeCode: "WX-7",
        rainMmH: "0",
      },
    );
    expect(constant.blocks.map((b) => [b.placeCode, ...b.windMs, ...b.rainMmH])).toEqual([
      ["WX-7", 1, 2, 0, 0],
    ]);
  });

  it("refuses an hour that stands twice in all its rows and names the others", async () => {
    const reading = await read(
      lines(
        HEADER,
        "WX-1,2026-01-01T00:00Z,5,,,,,",
        "WX-1,2026-01-01T01:00Z,6,,,,,",
        "WX-1,2026-01-01 00:00,7,,,,,",
      ),
    );
    expect(reading.problems.map((p) => [p.row, p.rule])).toEqual([
      [2, "duplicate-key"],
      [4, "duplicate-key"],
    ]);
    expect(reading.problems[0]!.message).toBe("WX-1 has the hour 2026-01-01T00:00Z also in row 4.");
    expect([...reading.blocks[0]!.windMs]).toEqual([6]);
  });

  it("takes local hours of a zone, date and time apart, end stamps and codes for missing values", async () => {
    const reading = await read(
      lines("Date,Time,Wind (m/s)", "2026-07-01,01:00,5", "2026-07-01,24:00,-9900"),
      { zone: "Europe/Zurich", isStampedAtEnd: true, missingCodes: [-9900] },
      "weather.csv",
      { placeCode: "WX-1" },
    );
    expect(reading.problems).toEqual([]);
    expect(reading.blocks[0]!.placeCode).toBe("WX-1");
    expect([...reading.blocks[0]!.timeMillis]).toEqual([Date.UTC(2026, 5, 30, 22), Date.UTC(2026, 6, 1, 21)]);
    expect([...reading.blocks[0]!.windMs]).toEqual([5, Number.NaN]);
    expect(reading.notices).toContain(
      "Hours are named by their end in this file: each was moved back by one hour.",
    );
  });

  it("asks for the zone of hours that carry no offset, and takes the answer", async () => {
    const one = lines("Weather place,time,Wind (m/s)", "WX-1,2026-01-01 13:00,5", "WX-1,2026-01-01T14:00Z,6");
    const two = lines("Weather place,Date,Time,Wind (m/s)", "WX-1,2026-01-01,13:00,5");
    const asked = await read(one);
    expect(asked.problems.map((p) => [p.row, p.rule])).toEqual([[2, "hour-without-zone"]]);
    expect(asked.questions).toMatchObject([{ option: "zone", value: "2026-01-01 13:00" }]);
    expect((await read(two)).questions).toMatchObject([{ option: "zone", value: "2026-01-01 13:00" }]);
    for (const file of [one, two]) {
      const told = await read(file, { zone: "UTC" });
      expect(told.problems).toEqual([]);
      expect(told.blocks[0]!.timeMillis[0]).toBe(T0 + 13 * HOUR);
    }
  });

  it("finds the hour that a clock change repeats and asks for UTC", async () => {
    const reading = await read(
      lines(
        HEADER,
        "WX-1,2026-10-25 01:00,1,,,,,",
        "WX-1,2026-10-25 02:00,2,,,,,",
        "WX-1,2026-10-25 02:00,3,,,,,",
        "WX-1,2026-10-25 03:00,4,,,,,",
      ),
      { zone: "Europe/Zurich" },
    );
    expect(reading.problems.map((p) => p.row)).toEqual([3, 4]);
    expect(reading.problems[0]!.remedy).toMatch(/UTC/);
    expect([...reading.blocks[0]!.windMs]).toEqual([1, 4]);
  });

  it("refuses a row whose date or time is blank", async () => {
    const reading = await read(
      lines("Weather place,Date,Time,Wind (m/s)", "WX-1,2026-07-01,,5", "WX-1,,01:00,5"),
    );
    expect(reading.problems.map((p) => [p.row, p.rule])).toEqual([
      [2, "required"],
      [3, "required"],
    ]);
  });

  it("reads decimal commas and asks about a doubtful one", async () => {
    const comma = await read(
      lines("Weather place;time;Wind (m/s)", "WX-1;2026-01-01T00:00Z;5,25", "WX-1;2026-01-01T01:00Z;5,125"),
    );
    expect([...comma.blocks[0]!.windMs]).toEqual([5.25, 5.125]);
    const doubtful = await read(lines("Weather place;time;Wind (m/s)", "WX-1;2026-01-01T00:00Z;5.125"));
    expect(doubtful.questions).toMatchObject([{ option: "decimalMark", value: "5.125" }]);
  });

  it("reads spreadsheet dates with their time, exact to the hour", async () => {
    const bytes = await workbook((wb) => {
      const ws = wb.addWorksheet("Weather");
      ws.addRow(["Weather place", "Hour starts (UTC)", "Wind (m/s)"]);
      for (let h = 0; h < 48; h++) ws.addRow(["WX-1", h % 2 ? new Date(T0 + h * HOUR) : 46023 + h / 24, h]);
    });
    const reading = await read(bytes, {}, "t.xlsx");
    expect(reading.problems).toEqual([]);
    expect([...reading.blocks[0]!.timeMillis]).toEqual(Array.from({ length: 48 }, (_, h) => T0 + h * HOUR));
  });

  it("reports 52,000 rows in chunks, and its export reads back the same", async () => {
    const n = 52_000;
    const row = (h: number) => ({
      placeCode: "WX-1",
      startsAtMillis: T0 + h * HOUR,
      windMs: (h % 200) / 10,
      ...(h % 7 === 0 ? {} : { gustMs: (h % 300) / 10 }),
      tempC: ((h % 400) - 150) / 10,
      thunder: h % 500 === 0,
    });
    const bytes = writeCsv(
      "weather",
      Array.from({ length: n }, (_, h) => row(h)),
    );
    const table = await tableOf(bytes);
    const matched = applyMatching(table, "weather", matchColumns(table.header, "weather"));
    if (!matched.ok) throw new Error("unexpected refusal");
    const seen: number[] = [];
    const reading = await readWeather(
      matched.value,
      {},
      { chunkRows: 10_000, onProgress: ({ done }) => void seen.push(done) },
    );
    expect(seen).toEqual([10_000, 20_000, 30_000, 40_000, 50_000, 52_000]);
    expect(reading.problems).toEqual([]);
    expect(reading.blocks[0]!.timeMillis).toHaveLength(n);
    const again = writeCsv("weather", rowsOfBlock(reading.blocks[0]!));
    expect(Buffer.compare(Buffer.from(again), Buffer.from(bytes))).toBe(0);
  });

  it("lists the first 500 problems and counts the rest", async () => {
    const reading = await read(
      lines(HEADER, ...Array.from({ length: 700 }, (_, i) => `WX-1,never ${i},1,,,,,`)),
    );
    expect(reading.problems).toHaveLength(500);
    expect(reading.refusedRows).toBe(700);
  });
});

describe("unknownPlaces", () => {
  it("names each place that nobody knows with the nearest known one", async () => {
    const reading = await read(
      lines(HEADER, "WX-01,2026-01-01T00:00Z,5,,,,,", "WX-2,2026-01-01T00:00Z,5,,,,,"),
    );
    const problems = unknownPlaces(reading, ["WX-1", "WX-2"]);
    expect(problems).toMatchObject([{ value: "WX-01", rule: "reference-unknown" }]);
    expect(problems[0]!.remedy).toContain('"WX-1"');
  });
});

describe("shortestFloat32", () => {
  it("is the shortest decimal of the same 32-bit number", () => {
    expect(shortestFloat32(Math.fround(5.2))).toBe(5.2);
    expect(shortestFloat32(Math.fround(-17.75))).toBe(-17.75);
    for (let i = 0; i < 2000; i++) {
      const x = Math.fround(Math.sin(i) * 10 ** ((i % 9) - 4));
      expect(Math.fround(shortestFloat32(x))).toBe(x);
    }
  });
});

const FILE = path.join(process.env.BENCH_DATA ?? "../shared/data", "weather-hourly", "sand-point-tmy3.csv");

describe("a published typical year as its source wrote it (Sand Point, TMY3)", () => {
  if (!existsSync(FILE)) {
    it("was not run: no weather-hourly data (set BENCH_DATA)", () => {
      console.warn(`not run: ${path.basename(FILE)} is absent; set BENCH_DATA to the benchmark data`);
      expect(existsSync(FILE)).toBe(false);
    });
    return;
  }

  it("is read with its comment line, local end stamps and codes for missing values", async () => {
    const table = await readTable("sand-point.csv", new Uint8Array(readFileSync(FILE)), { headerRow: 2 });
    if (!table.ok) throw new Error(JSON.stringify(table.problems));
    const { header } = table.value;
    const proposed = matchColumns(header, "weather");
    expect(proposed.columns.map((c) => c.key)).toEqual(["tempC", "humidityPct", "windMs"]);
    expect(proposed.unmatched.map((u) => u.suggestion?.key)).toEqual(["date", "time", undefined, undefined]);
    const chosen = overrideMatching(proposed, header, [
      { index: 0, key: "date" },
      { index: 1, key: "time" },
      { index: 6, key: "rainMmH" },
    ]);
    const matched = applyMatching(table.value, "weather", { ...chosen, constants: { placeCode: "703165" } });
    if (!matched.ok) throw new Error(JSON.stringify(matched.problems));
    const reading = await readWeather(matched.value, {
      zone: "Etc/GMT+9",
      isStampedAtEnd: true,
      missingCodes: [-9900],
    });
    // Two hours claim more rain than any hour on record: faults of the source, refused by row.
    expect(reading.problems.map((p) => [p.row, p.rule, p.value])).toEqual([
      [2765, "outside-limits", "508"],
      [2813, "outside-limits", "753"],
    ]);
    const [block] = reading.blocks;
    expect(block!.timeMillis).toHaveLength(8758);
    expect(block!.timeMillis).toContain(Date.UTC(1997, 0, 1, 9)); // 01:00 on 1 January 1997, stamped at its end
    // Added up over the other rows of the file with another program: wind 44428.7 m/s, 8011 hours without rain figures.
    expect(block!.windMs.reduce((sum, w) => sum + w, 0)).toBeCloseTo(44_428.7, 1);
    expect(block!.rainMmH.filter((r) => Number.isNaN(r))).toHaveLength(8011);
    expect(block!.rainMmH.every((r) => !(r < 0))).toBe(true);
  });
});
