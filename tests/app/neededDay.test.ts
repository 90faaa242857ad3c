import { expect, it } from "vitest";
import { neededDay } from "@/app/(work)/stock/neededDay";
import { calendarDate } from "@/lib/time";

it("is the day of the first kit, and the shelf's where no kit waits", () => {
  const neededOn = calendarDate("2026-03-16");
  const firstKitOn = calendarDate("2026-04-22");
  expect(neededDay({ neededOn, firstKitOn })).toBe(firstKitOn);
  expect(neededDay({ neededOn, firstKitOn: undefined })).toBe(neededOn);
});
