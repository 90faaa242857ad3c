import { describe, expect, it } from "vitest";
import { SCHEMES } from "@/lib/site";
import { antennasFrom, countEnd, SCHEME_COUNTS } from "@/lib/takeoff/counts";
import { makeEnd } from "../../helpers/hop";

describe("countEnd", () => {
  it.each([
    ["1+0", 1, 1, 0, 0, 1],
    ["1+1 hot standby", 1, 2, 1, 0, 3],
    ["1+1 space diversity", 2, 2, 0, 0, 2],
    ["2+0 dual-polar", 1, 2, 0, 1, 3],
    ["2+0 two channels", 1, 2, 1, 0, 3],
  ] as const)(
    "%s: %i antennas, %i ODUs, %i couplers, %i orthomode couplings, %i flanges",
    (scheme, antennas, odus, couplers, orthomode, flanges) => {
      expect(countEnd(scheme, makeEnd({ scheme }))).toEqual({
        antennas,
        odus,
        runs: odus,
        couplers,
        orthomodeCouplings: orthomode,
        remoteOdus: 0,
        waveguideFlanges: flanges,
      });
    },
  );

  it("agrees with the scheme table on every scheme", () => {
    for (const scheme of SCHEMES) {
      const end = makeEnd({ scheme });
      expect([end.antennas.length, end.odus.length]).toEqual([
        SCHEME_COUNTS[scheme].antennas,
        SCHEME_COUNTS[scheme].odus,
      ]);
    }
  });

  it("adds a flange for each ODU that stands beside the antenna", () => {
    const end = makeEnd();
    const remote = { ...end, odus: end.odus.map((o) => ({ ...o, mounting: "remote" as const })) };
    expect(countEnd("1+0", remote)).toMatchObject({ remoteOdus: 1, waveguideFlanges: 2 });
  });

  it("counts what the design holds where it contradicts the scheme", () => {
    const end = makeEnd({ scheme: "1+1 hot standby" });
    expect(countEnd("1+0", end).odus).toBe(2);
    expect(countEnd("1+1 hot standby", { ...end, odus: [] }).couplers).toBe(1);
  });
});

describe("antennasFrom", () => {
  it("includes the diameter itself", () => {
    expect(antennasFrom([0.6, 1.2, 1.8, 2.4], 1.2)).toBe(3);
    expect(antennasFrom([0.6, 1.2, 1.8, 2.4], 2.4)).toBe(1);
  });
});
