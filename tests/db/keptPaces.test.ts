/** What crews take for the yardstick is kept with the database: the same paces, until people or norms change. */
import { beforeAll, expect, test } from "vitest";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { crewFactors } from "@/db/queries/actuals";
import { loadCrews } from "@/db/queries/crews";
import { keptPaces } from "@/db/queries/keptPaces";
import { rulesInForce } from "@/db/queries/programme";
import { crewPaces, referenceCrew } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;

let db: Db;

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
}, 300_000);

/** Paces as the data are now, and the people whose minutes had to be worked out. */
function paces(from: ReturnType<typeof keptPaces> = { get: () => undefined, set: () => {} }) {
  const { norms, calibration } = rulesInForce(db);
  const crews = loadCrews(db);
  const fresh: string[] = [];
  const kept = {
    get: from.get,
    set: (people: string, minutes: readonly number[]) => {
      fresh.push(people);
      from.set(people, minutes);
    },
  };
  return { paces: crewPaces(crews, TODAY, norms, referenceCrew(crews, TODAY), calibration, kept), fresh };
}

const count = () => db.$client.prepare("SELECT count(*) FROM pace_minutes").pluck().get();

test("the page's factors are the same whether the minutes were kept or are worked out", () => {
  db.$client.exec("DELETE FROM pace_minutes");
  const anew = paces();
  expect(anew.fresh.length).toBeGreaterThan(2);
  const first = crewFactors(db, TODAY).paces;
  const crews = new Map(loadCrews(db).map((c) => [c.code, c.pace]));
  for (const [code, pace] of anew.paces) expect(first.get(code)).toBe(crews.get(code)! * pace);
  const again = paces(keptPaces(db, rulesInForce(db)));
  expect(again.fresh).toEqual([]);
  expect(again.paces).toEqual(anew.paces);
});

test("other people are worked out, and so is everybody under other norms or factors", () => {
  const rules = rulesInForce(db);
  const { norms, calibration } = rules;
  paces(keptPaces(db, rules));
  const before = count();
  const [people] = paces().fresh;
  expect(keptPaces(db, rules).get(people!)).toHaveLength(6);
  expect(keptPaces(db, rules).get("[]")).toBeUndefined();
  const slower = { ...norms, climbersAloft: norms.climbersAloft + 1 };
  expect(keptPaces(db, { norms: slower, calibration }).get(people!)).toBeUndefined();
  const longer = { ...calibration, work: { install: { factor: 1.2, actuals: 9 } } };
  expect(keptPaces(db, { norms, calibration: longer }).get(people!)).toBeUndefined();
  // A version without another figure, and practice, change nothing of it.
  const learning = { ...norms.learning, rate: 0.5 };
  expect(
    keptPaces(db, { norms: { ...norms, version: 99, learning }, calibration }).get(people!),
  ).toHaveLength(6);
  expect(count()).toBe(before);
});

test("what nobody asks for any more goes when there is too much of it", () => {
  const kept = keptPaces(db, rulesInForce(db));
  for (let i = 0; i < 1100; i++) kept.set(`people ${i}`, [i]);
  expect(count()).toBe(1000);
  expect(kept.get("people 1099")).toEqual([1099]);
  expect(kept.get("people 0")).toBeUndefined();
});

test("keeping them makes no view of other data stale", () => {
  const revisions = () => db.$client.prepare("SELECT name, revision FROM data_group ORDER BY name").all();
  const before = revisions();
  keptPaces(db, rulesInForce(db)).set("others", [1, 2]);
  expect(revisions()).toEqual(before);
});
