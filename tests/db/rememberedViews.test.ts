/** Each remembered view is reckoned anew when a group of tables changes that its statements read. */
import { beforeAll, expect, it } from "vitest";
import { DATA_GROUPS } from "@/db/dataState";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { loadKitRows } from "@/db/queries/kitRows";
import { type PlanHead, planInForce } from "@/db/queries/plans";
import { loadBoard } from "@/db/queries/planViews";
import { loadCrewWeeks, loadProgrammeState } from "@/db/queries/progress";
import { loadPlaceForecasts, loadSiteWork } from "@/db/queries/weatherViews";
import type { CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;
const GROUPS = Object.keys(DATA_GROUPS) as (keyof typeof DATA_GROUPS)[];

let db: Db;
let plan: PlanHead;

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
  plan = planInForce(db)!;
}, 300_000);

const change = (group: string) =>
  db.$client.prepare("UPDATE data_group SET revision = revision + 1 WHERE name = ?").run(group);

/** Groups of the tables that stand behind FROM and JOIN in what `read` asks the database. */
function groupsRead(read: () => unknown): Set<string> {
  const asked: string[] = [];
  const { prepare } = db.$client;
  db.$client.prepare = ((sql: string) => {
    asked.push(sql);
    return prepare.call(db.$client, sql);
  }) as typeof prepare;
  try {
    read();
  } finally {
    db.$client.prepare = prepare;
  }
  const reads = (table: string) =>
    asked.some((sql) => new RegExp(`(from|join)\\s+"?${table}\\b`, "i").test(sql));
  return new Set(GROUPS.filter((group) => DATA_GROUPS[group].some(reads)));
}

const views: Record<string, () => unknown> = {
  board: () => loadBoard(db, plan, TODAY),
  "programme state": () => loadProgrammeState(db, TODAY),
  "crew weeks": () => loadCrewWeeks(db, plan),
  kits: () => loadKitRows(db, plan.id),
  "place forecasts": () => loadPlaceForecasts(db),
  "site work": () => loadSiteWork(db),
};

it.each(Object.entries(views))("%s", (_, read) => {
  for (const group of GROUPS) change(group);
  const groups = groupsRead(read);
  expect(groups.size).toBeGreaterThan(0);
  for (const group of GROUPS) {
    const before = read();
    expect(read()).toBe(before);
    change(group);
    if (groups.has(group)) expect(read(), group).not.toBe(before);
    else expect(read(), group).toBe(before);
  }
});
