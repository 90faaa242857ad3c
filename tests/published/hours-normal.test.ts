/** Normal quantiles and their inverse against the table. */
import { expect, it } from "vitest";
import { normalCdf, normalQuantile } from "@/lib/hours";

const SOURCE = "standard normal quantiles (table from memory, recomputed)";
const rows = [
  { p: 0.75, z: 0.67449 },
  { p: 0.8, z: 0.841621 },
  { p: 0.9, z: 1.281552 },
  { p: 0.95, z: 1.644854 },
  { p: 0.975, z: 1.959964 },
  { p: 0.98, z: 2.053749 },
  { p: 0.99, z: 2.326348 },
  { p: 0.995, z: 2.575829 },
  { p: 0.999, z: 3.090232 },
];

it.each(rows)("quantile of $p is $z", ({ p, z }) => {
  expect(Math.abs(normalQuantile(p) - z), `${SOURCE} (M)`).toBeLessThanOrEqual(1e-5);
  expect(Math.abs(normalQuantile(1 - p) + z), `${SOURCE} (M)`).toBeLessThanOrEqual(1e-5);
  expect(Math.abs(normalCdf(z) - p), `${SOURCE} (M)`).toBeLessThanOrEqual(1e-6);
});

it("refuses probabilities outside 0..1", () => {
  for (const p of [0, 1, -0.1, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError);
});
