import { describe, expect, test } from "vitest";
import { brokenSince } from "@/lib/schedule/newlyBroken";
import type { BrokenRule } from "@/lib/schedule/types";

const late = (visit: number, day: number, ready: string): BrokenRule => ({
  rule: "shift",
  visit,
  crew: 0,
  day,
  message: `v${visit}, day ${day}: can start at ${ready}`,
});
const longDay = (over: number): BrokenRule => ({
  rule: "shift",
  crew: 1,
  day: 3,
  over,
  message: `over by ${over}`,
});
const short = (day: number, over: number): BrokenRule => ({
  rule: "kit",
  day,
  other: 0,
  over,
  message: `day ${day} short by ${over}`,
});
const none = new Set<number>();
const newOnes = (before: BrokenRule[], after: BrokenRule[], moved: ReadonlySet<number> = none) =>
  brokenSince(before, after, moved).broken.map((b) => b.message);

describe("what a change breaks", () => {
  test("is not what the same visit broke on the same day, though by other minutes", () => {
    expect(newOnes([late(0, 1, "07:40")], [late(0, 1, "07:51"), late(0, 2, "07:51")])).toEqual([
      "v0, day 2: can start at 07:51",
    ]);
  });

  test("is every other sentence about a visit that is moved itself", () => {
    const before = [late(0, 1, "07:40")];
    expect(newOnes(before, [late(0, 1, "07:51")], new Set([0]))).toHaveLength(1);
    expect(newOnes(before, before, new Set([0]))).toEqual([]);
  });

  test("is a shared limit that is passed by more than before, not by less", () => {
    expect(newOnes([longDay(9)], [longDay(30)])).toEqual(["over by 30"]);
    expect(newOnes([longDay(30)], [longDay(9)])).toEqual([]);
    expect(brokenSince([longDay(30)], [longDay(9)], none).brokenBefore).toHaveLength(1);
  });

  test("is a scarce item that is shorter than before, on whichever day that shows", () => {
    expect(newOnes([short(5, 2)], [short(7, 2)])).toEqual([]);
    expect(newOnes([short(5, 2)], [short(7, 3)])).toEqual(["day 7 short by 3"]);
  });
});
