import { describe, expect, it } from "vitest";
import { heightAt, measureRoute } from "@/lib/takeoff/route";
import { makeRoute } from "../../helpers/hop";

describe("measureRoute", () => {
  it("adds up outdoors and indoors and finds foot and bends", () => {
    expect(measureRoute(makeRoute(28, 8, 6))).toEqual({
      routeM: 42,
      outdoorM: 36,
      indoorM: 6,
      verticalM: 28,
      bridgeM: 8,
      longestVerticalM: 28,
      bendsAtM: [28, 36],
      footAtM: 28,
    });
  });

  it("joins verticals that follow each other into one hanging stretch", () => {
    const route = measureRoute([
      { kind: "vertical", lengthM: 10, bendAtEnd: false },
      { kind: "vertical", lengthM: 12, bendAtEnd: true },
      { kind: "tray", lengthM: 3, bendAtEnd: false },
      { kind: "vertical", lengthM: 5, bendAtEnd: false },
    ]);
    expect(route.longestVerticalM).toBe(22);
    expect(route.footAtM).toBeUndefined();
    expect(route.outdoorM).toBe(30);
  });

  it("has no foot where a bridge comes before any vertical, and measures an empty route as nothing", () => {
    expect(measureRoute([{ kind: "bridge", lengthM: 5, bendAtEnd: false }]).footAtM).toBeUndefined();
    expect(measureRoute([]).routeM).toBe(0);
  });
});

describe("heightAt", () => {
  it("goes down on verticals only", () => {
    const route = makeRoute(28, 8, 6);
    expect(heightAt(route, 30, 0)).toBe(30);
    expect(heightAt(route, 30, 10)).toBe(20);
    expect(heightAt(route, 30, 32)).toBe(2);
    expect(heightAt(route, 30, 1000)).toBe(2);
  });
});
