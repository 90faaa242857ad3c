import { describe, expect, it } from "vitest";
import { atHeight, DEFAULT_NORMS, hoursAgainstHeight } from "@/lib/hours";
import { CREW_OF_FOUR, endWork, standbyWork } from "./work";

describe("hoursAgainstHeight", () => {
  it("rises with the height, and not in a straight line", () => {
    const heights = [20, 40, 60, 80, 100];
    const curve = hoursAgainstHeight(endWork(), DEFAULT_NORMS, CREW_OF_FOUR, heights);
    // The worked example of docs/methods/hours.md.
    expect(curve[1]).toMatchObject({ heightM: 40, durationMin: 383, ascents: 2 });
    expect(curve[3]).toMatchObject({ heightM: 80, durationMin: 460, ascents: 2 });
    expect(curve[4]).toMatchObject({ heightM: 100, durationMin: 577, ascents: 3 });
    for (let k = 1; k < curve.length; k++) {
      expect(curve[k]!.durationMin).toBeGreaterThan(curve[k - 1]!.durationMin);
      expect(curve[k]!.ascents).toBeGreaterThanOrEqual(curve[k - 1]!.ascents);
    }
    const steps = curve.slice(1).map((p, k) => p.durationMin - curve[k]!.durationMin);
    expect(Math.max(...steps)).toBeGreaterThan(2 * Math.min(...steps));
  });

  it("lengthens every run by the added height, with its ties", () => {
    const before = standbyWork();
    const after = atHeight(before, 50);
    expect(after.drivers.maxMountHeightM).toBe(50);
    expect(after.drivers.outdoorM).toBe(before.drivers.outdoorM + 20);
    expect(after.drivers.cableM).toBe(before.drivers.cableM + 20);
    expect(after.drivers.tieCount).toBeCloseTo((before.drivers.tieCount * 116) / 96, 9);
    expect(atHeight(before, 0).drivers.outdoorM).toBe(before.drivers.outdoorM - 80);
  });
});
