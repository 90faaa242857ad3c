/** Counts that the trade states outright: connectors over an order, earthing points by spacing. */
import { describe, expect, it } from "vitest";
import { DEFAULT_POLICY, earthRun, rollUp, takeOff } from "@/lib/takeoff";
import { makeHop, makeSite, makeTakeoffContext } from "../helpers/hop";

describe("connectors over an order (common practice: 2 per run, 5 % termination loss)", () => {
  it("40 runs on 40 sites need 84, where rounding at every site would give 120", () => {
    const sites = Array.from({ length: 40 }, (_, i) =>
      makeSite({ id: `S${i}`, position: { latDeg: 50 + i / 10, lonDeg: 10 } }),
    );
    const context = makeTakeoffContext({}, sites);
    const takeoffs = Array.from({ length: 20 }, (_, i) =>
      takeOff(
        makeHop({ id: `H${i}`, near: { siteId: `S${2 * i}` }, far: { siteId: `S${2 * i + 1}` } }),
        context,
      ),
    );
    const need = rollUp(takeoffs, context.rules).lines.find((line) => line.ruleIds.includes("connectors"))!;
    expect(need.exact).toBeCloseTo(84, 9);
    expect(need.quantity).toBe(84);
    expect(need.siteRounded).toBe(120);
  });
});

const SPACING_SOURCE =
  "another policy's count, 61 m (200 ft) from memory: kits = 2 + entry + max(0, ceil(L/61) - 1), values R";
const SPACING = [
  { gapM: 61, intermediate: 0 },
  { gapM: 61.01, intermediate: 1 },
  { gapM: 122, intermediate: 1 },
  { gapM: 123, intermediate: 2 },
] as const;

describe("intermediate earthing points", () => {
  for (const { gapM, intermediate } of SPACING) {
    it(`${SPACING_SOURCE}: a gap of ${gapM} m has ${intermediate}`, () => {
      // The gap lies between the point near the ODU and the one at the foot; nothing bends in between.
      const policy = { ...DEFAULT_POLICY, maxEarthingSpacingM: 61, bendClearanceM: 0.3 };
      const footM = policy.nearOduM + gapM;
      const { points } = earthRun(
        [
          { kind: "vertical", lengthM: footM, bendAtEnd: false },
          { kind: "bridge", lengthM: 5, bendAtEnd: false },
        ],
        footM + 3,
        policy,
      );
      expect(points.filter((p) => p.kind === "intermediate").length, SPACING_SOURCE).toBe(intermediate);
    });
  }
});
