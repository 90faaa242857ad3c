/** Wind chill and heat index against the charts of the US National Weather Service. */
import { describe, expect, it } from "vitest";
import { heatIndexF, windChillC, windChillF } from "@/lib/weather";

describe("wind chill chart", () => {
  const SOURCE = "NWS wind chill chart, stored copy (V)";
  const rows = [
    { tempF: 40, windMph: 5, chart: 36, formula: 36.472 },
    { tempF: 30, windMph: 15, chart: 19, formula: 19.027 },
    { tempF: 25, windMph: 10, chart: 15, formula: 15.051 },
    { tempF: 20, windMph: 20, chart: 4, formula: 4.243 },
    { tempF: 10, windMph: 10, chart: -4, formula: -3.54 },
    { tempF: 0, windMph: 15, chart: -19, formula: -19.398 },
    { tempF: 0, windMph: 60, chart: -33, formula: -33.09 },
    { tempF: -20, windMph: 30, chart: -53, formula: -53.028 },
    { tempF: -45, windMph: 60, chart: -98, formula: -98.096 },
  ];
  it.each(rows)("$tempF degF, $windMph mph: $chart", (row) => {
    const chill = windChillF(row.tempF, row.windMph);
    expect(Math.round(chill), SOURCE).toBe(row.chart);
    expect(Math.abs(chill - row.formula), "NWS formula, recomputed (R)").toBeLessThanOrEqual(1e-3);
  });
});

describe("wind chill, metric", () => {
  const rows = [
    { source: "worked example", mark: "V", tempC: 2, windKmH: 7, expected: -0.08, tolerance: 0.01 },
    { source: "formula", mark: "R", tempC: -10, windKmH: 30, expected: -19.52, tolerance: 0.01 },
    { source: "formula", mark: "R", tempC: -20, windKmH: 40, expected: -34.14, tolerance: 0.01 },
    { source: "formula", mark: "R", tempC: -5, windKmH: 20, expected: -11.55, tolerance: 0.01 },
    { source: "formula", mark: "R", tempC: 0, windKmH: 10, expected: -3.32, tolerance: 0.01 },
    { source: "formula", mark: "R", tempC: -30, windKmH: 20, expected: -43.1, tolerance: 0.01 },
    { source: "formula", mark: "R", tempC: -40, windKmH: 60, expected: -64.17, tolerance: 0.01 },
  ];
  it.each(rows)("$tempC degC, $windKmH km/h: $expected", (row) => {
    const chill = windChillC(row.tempC, row.windKmH / 3.6);
    expect(Math.abs(chill - row.expected), `${row.source} (${row.mark})`).toBeLessThanOrEqual(row.tolerance);
  });

  it("is the air temperature outside its range (limits M)", () => {
    expect(windChillC(10.1, 20)).toBe(10.1);
    expect(windChillC(-5, 4.8 / 3.6)).toBe(-5);
    expect(windChillF(51, 30)).toBe(51);
    expect(windChillF(20, 3)).toBe(20);
  });
});

describe("heat index chart", () => {
  const SOURCE = "NWS heat index chart, two stored copies (V)";
  const rows = [
    { tempF: 80, humidityPct: 50, chart: 81, regression: 80.803, tolerance: 0 },
    { tempF: 84, humidityPct: 60, chart: 88, regression: 87.524, tolerance: 0 },
    { tempF: 86, humidityPct: 90, chart: 105, regression: 105.394, tolerance: 0 },
    { tempF: 88, humidityPct: 75, chart: 103, regression: 103.113, tolerance: 0 },
    { tempF: 90, humidityPct: 50, chart: 95, regression: 94.597, tolerance: 0 },
    { tempF: 90, humidityPct: 60, chart: 100, regression: 99.678, tolerance: 0 },
    { tempF: 90, humidityPct: 80, chart: 113, regression: 113.33, tolerance: 0 },
    { tempF: 90, humidityPct: 90, chart: 122, regression: 121.901, tolerance: 0 },
    { tempF: 94, humidityPct: 60, chart: 110, regression: 110.169, tolerance: 0 },
    { tempF: 96, humidityPct: 50, chart: 108, regression: 107.637, tolerance: 0 },
    { tempF: 100, humidityPct: 40, chart: 109, regression: 109.256, tolerance: 0 },
    { tempF: 100, humidityPct: 60, chart: 129, regression: 129.489, tolerance: 0 },
    { tempF: 110, humidityPct: 40, chart: 136, regression: 135.657, tolerance: 0 },
    // the chart and its own regression differ here
    { tempF: 90, humidityPct: 45, chart: 93, regression: 92.493, tolerance: 1 },
    { tempF: 90, humidityPct: 70, chart: 105, regression: 105.922, tolerance: 1 },
  ];
  it.each(rows)("$tempF degF, $humidityPct %: $chart", (row) => {
    const index = heatIndexF(row.tempF, row.humidityPct);
    expect(Math.abs(index - row.regression), "Rothfusz SR 90-23, recomputed (R)").toBeLessThanOrEqual(1e-3);
    expect(Math.abs(Math.round(index) - row.chart), SOURCE).toBeLessThanOrEqual(row.tolerance);
  });

  const branches = [
    { branch: "dry", tempF: 95, humidityPct: 10, expected: 89.45 },
    { branch: "dry", tempF: 100, humidityPct: 5, expected: 92.504 },
    { branch: "humid", tempF: 85, humidityPct: 90, expected: 101.781 },
    { branch: "humid", tempF: 80, humidityPct: 95, expected: 87.798 },
    { branch: "under 80", tempF: 75, humidityPct: 50, expected: 74.55 },
    { branch: "under 80", tempF: 70, humidityPct: 40, expected: 68.58 },
    { branch: "under 80", tempF: 80, humidityPct: 40, expected: 79.58 },
  ];
  it.each(branches)("$branch branch at $tempF degF, $humidityPct %: $expected", (row) => {
    const index = heatIndexF(row.tempF, row.humidityPct);
    expect(Math.abs(index - row.expected), "WPC page, branches recomputed (R)").toBeLessThanOrEqual(1e-3);
  });
});
