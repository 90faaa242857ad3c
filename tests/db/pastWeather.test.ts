/** What past years say is kept with the database: the same windows, until anything they rest on changes. */
import { beforeAll, beforeEach, expect, it } from "vitest";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { loadKeptPast, saveKeptPast } from "@/db/queries/pastWeather";
import { loadProgrammeInput } from "@/db/queries/programme";
import { type PreparedProgramme, prepareProgramme } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;
const wanted = { today: TODAY, dayCount: 28, frozenDays: 0 };

let db: Db;

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
}, 300_000);

beforeEach(() => {
  db.$client.exec("DELETE FROM past_weather");
});

const windowsOf = ({ problem }: PreparedProgramme) =>
  problem.windows.map((w) => [w.id, [...w.masks], [...w.stretch], [...w.riskMinPerH]]);

it("reads the same windows from what an earlier plan kept", () => {
  const input = loadProgrammeInput(db, wanted);
  const anew = prepareProgramme(input);
  saveKeptPast(db, input, anew.windows.past);
  const asked: string[] = [];
  const stored = loadKeptPast(db, input);
  const kept = {
    get: (key: string) => {
      const year = stored.get(key);
      if (year) asked.push(key);
      return year;
    },
  };
  const again = prepareProgramme(input, { keptPast: kept });
  expect(asked.length).toBe(anew.windows.past.size);
  expect(windowsOf(again)).toEqual(windowsOf(anew));
});

it("gives nothing under other limits, and forgets what the last plan did not use", () => {
  const input = loadProgrammeInput(db, wanted);
  const { past } = prepareProgramme(input).windows;
  saveKeptPast(db, input, past);
  const [key, year] = [...past][0]!;
  expect(loadKeptPast(db, input).get(key)).toEqual(year);
  const { limits } = input.weatherPolicy;
  const weatherPolicy = {
    ...input.weatherPolicy,
    limits: { ...limits, climb: { ...limits.climb, windMaxMs: 1 } },
  };
  expect(loadKeptPast(db, { ...input, weatherPolicy }).get(key)).toBeUndefined();
  const [other] = [...past.keys()].slice(1);
  saveKeptPast(db, input, new Map([[other!, past.get(other!)!]]));
  expect(loadKeptPast(db, input).get(key)).toBeUndefined();
  expect(loadKeptPast(db, input).get(other!)).toEqual(past.get(other!));
});

it("knows a history that was corrected by its stamp", () => {
  const before = loadProgrammeInput(db, wanted).weather[0]!;
  db.$client
    .prepare(
      "UPDATE weather_block SET payload = (SELECT payload FROM weather_block WHERE place_code <> ? AND kind = 'history' LIMIT 1) WHERE place_code = ? AND kind = 'history'",
    )
    .run(before.code, before.code);
  const after = loadProgrammeInput(db, wanted).weather[0]!;
  expect(after.historyStamp).not.toBe(before.historyStamp);
});
