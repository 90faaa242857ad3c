/** The weeks of a plan's list: a visit stands in each week that it touches, its work in one. */
import { expect, test } from "vitest";
import { begunIn, weeksOf } from "@/app/(work)/plan/list/weeks";
import type { CalendarDate } from "@/lib/time";

const visit = (id: string, startOn: string, endOn: string) => ({
  id,
  startOn: startOn as CalendarDate,
  endOn: endOn as CalendarDate,
});
// 30 November 2026 is a Monday.
const visits = [
  visit("last week", "2026-11-24", "2026-11-25"),
  visit("over the weekend", "2026-11-27", "2026-11-30"),
  visit("this week", "2026-12-01", "2026-12-01"),
  visit("over three weeks", "2026-11-29", "2026-12-07"),
];

test("a visit that began in an earlier week stands in this one too, and in each between", () => {
  expect(weeksOf(visits).map(([monday, there]) => [monday, there.map((v) => v.id)])).toEqual([
    ["2026-11-23", ["last week", "over the weekend", "over three weeks"]],
    ["2026-11-30", ["over the weekend", "this week", "over three weeks"]],
    ["2026-12-07", ["over three weeks"]],
  ]);
});

test("the work of each visit is counted in one week", () => {
  const counted = weeksOf(visits).flatMap(([monday, there]) => begunIn(monday, there).map((v) => v.id));
  expect(counted.sort()).toEqual(visits.map((v) => v.id).sort());
});
