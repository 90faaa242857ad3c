import { expect, test } from "vitest";
import { logDetail } from "@/app/(work)/rules/logDetail";

const instant = (at: number) => new Date(at).toISOString().slice(0, 16);

test("an entry of the log is said in words: fields apart, times by the clock, units beside figures", () => {
  expect(
    logDetail(
      {
        visitIds: ["A", "B"],
        startMin: 531,
        endMin: 1016,
        workedMin: 90,
        windMaxMs: 9.9,
        isLooser: true,
        by: null,
      },
      instant,
    ).shown,
  ).toBe("visit ids A; B, start 08:51, end 16:56, worked 90 min, wind max 9.9 m/s, is looser yes, by none");
  expect(logDetail({ at: 1773646200000, "VH-01": 2, lengthC: 2350 }, instant).shown).toBe(
    "at 2026-03-16T07:30, VH-01 2, length 23.5",
  );
});

test("of what is long the rest is set apart at a gap, and a text stays as it is", () => {
  expect(logDetail("as delivered", instant)).toEqual({ shown: "as delivered" });
  const words = Array.from({ length: 90 }, (_, i) => `word${i}`);
  const { shown, rest } = logDetail({ note: words.join(" ") }, instant);
  expect(shown.length).toBeLessThanOrEqual(400);
  expect(`${shown} ${rest}`).toBe(`note ${words.join(" ")}`);
  expect(logDetail({ note: "x".repeat(900) }, instant).shown).toHaveLength(400);
});
