import { describe, expect, it } from "vitest";
import { DEFAULT_DERATING, restFactor, restFor } from "@/lib/hours";

describe("rest for heat and cold", () => {
  it.each([
    { heatIndexC: 20, windChillC: 20, restMinPerH: 0, cause: undefined },
    { heatIndexC: 26.9, windChillC: 26, restMinPerH: 0, cause: undefined },
    { heatIndexC: 27, windChillC: 26, restMinPerH: 5, cause: "heat" },
    { heatIndexC: 34, windChillC: 30, restMinPerH: 15, cause: "heat" },
    { heatIndexC: 38, windChillC: 33, restMinPerH: 30, cause: "heat" },
    { heatIndexC: -4, windChillC: -10, restMinPerH: 0, cause: undefined },
    { heatIndexC: -4, windChillC: -10.1, restMinPerH: 5, cause: "cold" },
    { heatIndexC: -9, windChillC: -17, restMinPerH: 10, cause: "cold" },
  ])(
    "heat index $heatIndexC, wind chill $windChillC: $restMinPerH min/h",
    ({ restMinPerH, cause, ...felt }) => {
      const rest = restFor(felt.heatIndexC, felt.windChillC, DEFAULT_DERATING);
      expect(rest.restMinPerH).toBe(restMinPerH);
      expect(rest.cause).toBe(cause);
    },
  );

  it("a quarter of an hour of rest makes an hour's work last a third longer", () => {
    expect(restFactor(0)).toBe(1);
    expect(restFactor(15)).toBeCloseTo(4 / 3, 12);
    expect(restFactor(30)).toBe(2);
    expect(() => restFactor(60)).toThrow("restMinPerH must be in [0, 60)");
  });
});
