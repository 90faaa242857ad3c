import { describe, expect, it } from "vitest";
import { DEFAULT_POLICY } from "@/lib/takeoff";
import { fixRun } from "@/lib/takeoff/fixing";

const RUN = { outdoorM: 36, indoorM: 6, earthingPoints: 3, wraps: 4 };

describe("fixRun", () => {
  it("ties by the metre, at the drip loop, at earthing points and at wraps", () => {
    const fixing = fixRun(RUN, DEFAULT_POLICY);
    expect(fixing.tiesOutdoors).toBe(36 + 4 + 6 + 8);
    expect(fixing.tiesIndoors).toBe(6);
    expect(fixing.ties).toEqual({ onRoute: 36, atDripLoop: 4, atEarthingPoints: 6, atWraps: 8, indoors: 6 });
    expect(fixing.hangers).toBe(0);
    expect(fixing.outdoorReason).toBe(
      "36.0 on 36.0 m + 4 at the drip loop + 6 at earthing points + 8 at wraps",
    );
  });

  it("with hangers keeps ties only at the named places", () => {
    const fixing = fixRun(RUN, { ...DEFAULT_POLICY, tiesOrHangers: "hangers", hangerSpacingM: 0.8 });
    expect(fixing.hangers).toBe(45);
    expect(fixing.tiesOutdoors).toBe(18);
    expect(fixing.ties.onRoute).toBe(0);
    expect(fixing.outdoorReason).toBe("4 at the drip loop + 6 at earthing points + 8 at wraps");
  });

  it("rounds hangers up per run", () => {
    const policy = { ...DEFAULT_POLICY, tiesOrHangers: "hangers" as const, hangerSpacingM: 1 };
    expect(fixRun({ ...RUN, outdoorM: 36.1 }, policy).hangers).toBe(37);
  });
});
