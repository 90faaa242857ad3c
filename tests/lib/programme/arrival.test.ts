import { expect, test } from "vitest";
import { onSiteFromMin, setupDueMin } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";

test("a crew is on site a set-up before its work, whole minutes early; without a place or an estimate nothing is said", () => {
  // Work at 08:30 after 62.4 minutes of set-up: 63 whole ones, so at 07:27.
  expect(onSiteFromMin(8 * 60 + 30, 62.4)).toBe(7 * 60 + 27);
  expect(onSiteFromMin(10, 30)).toBe(-20);
  expect(onSiteFromMin(null, 30)).toBeNull();
  expect(onSiteFromMin(510, null)).toBeNull();
});

test("a crew that goes on at the same site has set up as far as the visits before it asked for", () => {
  const MON = "2026-03-16" as CalendarDate;
  const TUE = "2026-03-17" as CalendarDate;
  const visit = (visitId: string, siteCode: string, startMin: number, on = MON, endOn = on) => ({
    ...{ visitId, siteCode, startMin },
    startOn: on,
    endOn,
  });
  const [install, alignment, revisit] = [
    visit("install", "S1", 540),
    visit("alignment", "S1", 834),
    visit("revisit", "S1", 900),
  ];
  const setups = new Map([
    ["install", 28],
    ["alignment", 46],
    ["revisit", 40],
    ["next day", 28],
    ["away", 20],
  ]);
  const due = (v: typeof install, of: (typeof install)[]) =>
    setupDueMin(v, of, (o) => setups.get(o.visitId) ?? null);
  const day = [revisit, install, alignment];
  expect(day.map((v) => due(v, day))).toEqual([0, 28, 18]);
  // Whoever was elsewhere in between sets up anew; so does whoever comes on another day.
  const away = visit("away", "S2", 870);
  expect(due(revisit, [...day, away])).toBe(40);
  expect(due(visit("next day", "S1", 540, TUE), day)).toBe(28);
  // A visit that goes on over night sets up on its last day, too.
  expect(due(visit("next day", "S1", 700, TUE), [visit("install", "S1", 540, MON, TUE)])).toBe(0);
  expect(setupDueMin(install, day, () => null)).toBeNull();
});
