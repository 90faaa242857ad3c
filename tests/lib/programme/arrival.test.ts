import { expect, test } from "vitest";
import { onSiteFromMin } from "@/lib/programme";

test("a crew is on site a set-up before its work, whole minutes early; without a place or an estimate nothing is said", () => {
  // Work at 08:30 after 62.4 minutes of set-up: 63 whole ones, so at 07:27.
  expect(onSiteFromMin(8 * 60 + 30, 62.4)).toBe(7 * 60 + 27);
  expect(onSiteFromMin(10, 30)).toBe(-20);
  expect(onSiteFromMin(null, 30)).toBeNull();
  expect(onSiteFromMin(510, null)).toBeNull();
});
