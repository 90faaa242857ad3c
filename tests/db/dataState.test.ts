/** What was reckoned from all rows is handed out again only while no row has changed. */
import { describe, expect, it } from "vitest";
import { DATA_GROUPS, remembered, UNCOUNTED_TABLES } from "@/db/dataState";
import { memoryDatabase } from "@/db/migrate";
import { writing } from "@/db/open";

const tablesOf = (db: ReturnType<typeof memoryDatabase>) =>
  db.$client
    .prepare("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[];

const revisionOf = (db: ReturnType<typeof memoryDatabase>) =>
  db.$client.prepare("SELECT SUM(revision) FROM data_group").pluck().get() as number;

const addPlace = (db: ReturnType<typeof memoryDatabase>, code: string) =>
  db.$client
    .prepare(
      "INSERT INTO weather_place (code, name, lat_deg, lon_deg, elevation_m) VALUES (?, 'Ridge', 1, 2, 3)",
    )
    .run(code);

describe("the number of the data", () => {
  it("rises with every insert, update and delete, and has three triggers on every counted table", () => {
    const db = memoryDatabase();
    const triggers = new Set(
      db.$client.prepare("SELECT name FROM sqlite_master WHERE type = 'trigger'").pluck().all(),
    );
    const counted = tablesOf(db).filter((t) => !UNCOUNTED_TABLES.has(t));
    expect(counted.length).toBeGreaterThan(25);
    for (const table of counted) {
      for (const write of ["insert", "update", "delete"])
        expect(triggers).toContain(`data_state_${table}_${write}`);
    }
    const seen = [revisionOf(db)];
    addPlace(db, "W1");
    seen.push(revisionOf(db));
    db.$client.prepare("UPDATE weather_place SET name = 'Crest'").run();
    seen.push(revisionOf(db));
    db.$client.prepare("DELETE FROM weather_place").run();
    seen.push(revisionOf(db));
    expect(seen.map((n) => n - seen[0]!)).toEqual([0, 1, 2, 3]);
  });

  it("has every table in one group or among those that do not count, and names none that is not there", () => {
    const tables = tablesOf(memoryDatabase()).sort();
    const named = [...Object.values(DATA_GROUPS).flat(), ...UNCOUNTED_TABLES].sort();
    expect(named).toEqual(tables);
  });
});

describe("a remembered view", () => {
  const codes = (db: ReturnType<typeof memoryDatabase>) => {
    let made = 0;
    const read = (key = "places") =>
      remembered(db, key, ["weather"], () => {
        made++;
        return db.$client.prepare("SELECT code FROM weather_place ORDER BY code").pluck().all();
      });
    return { read, made: () => made };
  };

  it("is made once for each key until a row changes", () => {
    const db = memoryDatabase();
    const view = codes(db);
    expect(view.read()).toEqual([]);
    expect(view.read()).toBe(view.read());
    expect(view.made()).toBe(1);
    view.read("other");
    expect(view.made()).toBe(2);
    addPlace(db, "W1");
    expect(view.read()).toEqual(["W1"]);
    expect(view.made()).toBe(3);
  });

  it("stays while only other groups change", () => {
    const db = memoryDatabase();
    const view = codes(db);
    view.read();
    db.$client.prepare("INSERT INTO setting (key, value) VALUES ('note', '1')").run();
    view.read();
    expect(view.made()).toBe(1);
  });

  it("does not keep what a transaction saw that was rolled back", () => {
    const db = memoryDatabase();
    const view = codes(db);
    expect(() =>
      writing(db, () => {
        addPlace(db, "W1");
        expect(view.read()).toEqual(["W1"]);
        throw new Error("no");
      }),
    ).toThrow("no");
    expect(view.read()).toEqual([]);
    addPlace(db, "W2");
    expect(view.read()).toEqual(["W2"]);
  });

  it("is not another connection's", () => {
    const [one, other] = [memoryDatabase(), memoryDatabase()];
    addPlace(one, "W1");
    addPlace(other, "W9");
    expect(codes(one).read()).toEqual(["W1"]);
    expect(codes(other).read()).toEqual(["W9"]);
  });
});
