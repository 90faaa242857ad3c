import { describe, expect, it } from "vitest";
import { makeWords } from "@/app/_ui/language/words";
import { weatherOnTop } from "@/app/(work)/plan/weatherOnTop";
import type { CalendarDate } from "@/lib/time";

const said = (startOn: string | null, endOn: string | null, riskMin: number, until: string | null) => {
  const on = (day: string | null) => day as CalendarDate | null;
  const visit = { startOn: on(startOn), endOn: on(endOn), riskMin };
  return weatherOnTop({ visit, forecastUntil: on(until) }, makeWords("en", {})).replaceAll(
    /[\u00a0\u202f]/g,
    " ",
  );
};

describe("what past weather adds to a visit", () => {
  it("is said for the days inside the forecast and for those after it", () => {
    expect(said("2026-03-25", "2026-03-27", 0, "2026-03-26")).toBe(
      "none up to Thu 26 Mar, inside the forecast; none after it, by past years",
    );
    expect(said("2026-03-25", "2026-03-27", 90, "2026-03-26")).toMatch(
      /^none up to Thu 26 Mar, inside the forecast; 1.5 h after it, by past years$/,
    );
  });

  it("is said once where all of it lies on one side", () => {
    expect(said("2026-03-25", "2026-03-25", 0, "2026-03-25")).toBe("none: inside the forecast");
    expect(said("2026-04-25", "2026-04-26", 90, null)).toMatch(/^1.5 h, by past years$/);
    expect(said("2026-04-25", "2026-04-26", 0, null)).toBe("none");
    expect(said(null, null, 0, null)).toBe("–");
  });
});
