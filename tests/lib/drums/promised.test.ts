import { expect, it } from "vitest";
import {
  type CutPolicy,
  cutDrums,
  type ListedCut,
  marksNow,
  promisedCuts,
  type RunWanted,
} from "@/lib/drums";
import { drum, onDay, run, TODAY } from "./make";

const POLICY: CutPolicy = { sawAllowanceCm: 20, minUsefulCm: 1_500 };

const listed = (runId: string, fromMarkCm: number, lengthCm: number, drumId = "a"): ListedCut => ({
  runId,
  drumId,
  fromMarkCm,
  lengthCm,
});

/** Kept are the cuts of today and tomorrow. */
const soon = (_: RunWanted, cutOn: string) => cutOn <= onDay(1);

it("moves marks by what another cut took more, and drops what does not fit", () => {
  const cuts = [listed("r3", 8_040, 3_000), listed("r1", 3_020, 4_000), listed("r2", 7_040, 980)];
  expect(marksNow(cuts, { fromCm: 3_020, receivedCm: 12_000 }, 20).map((c) => c.isCm)).toEqual([
    3_020, 7_040, 8_040,
  ]);
  expect(marksNow(cuts, { fromCm: 4_020, receivedCm: 12_000 }, 20)).toEqual([
    { runId: "r1", wasCm: 3_020, isCm: 4_020 },
    { runId: "r2", wasCm: 7_040, isCm: 8_040 },
    { runId: "r3", wasCm: 8_040, isCm: undefined },
  ]);
});

it("leaves today's and tomorrow's cuts on their drum in their order, where planning anew would rearrange them", () => {
  // Two drums alike but for their lengths: anew, both runs would go to the shorter one.
  const drums = [drum("a", 20_000), drum("b", 9_000)];
  const runs = [
    run("r1", 4_000, { neededOn: TODAY }),
    run("r2", 3_000, { neededOn: onDay(1) }),
    run("r3", 2_000, { neededOn: onDay(9) }),
  ];
  const list = [listed("r2", 30_000, 3_000), listed("r1", 33_020, 4_000), listed("r3", 37_040, 2_000)];
  const plan = (fixed: boolean) =>
    cutDrums(runs, drums, [], POLICY, {
      today: TODAY,
      fixedCuts: fixed ? promisedCuts(list, runs, drums, POLICY, { today: TODAY }, soon) : [],
    })[0]!;
  const on = (p: ReturnType<typeof plan>, id: string) =>
    p.drums.find((d) => d.drum.id === id)!.cuts.map((c) => c.runId);
  expect(on(plan(false), "b")).toEqual(["r1", "r2"]);
  expect(on(plan(true), "a")).toEqual(["r1", "r2"]);
  expect(on(plan(true), "b")).toEqual(["r3"]);
});

it("lets a cut go that does not fit, whose drum is gone, or that is late where another drum is not", () => {
  const runs = [
    run("r1", 4_000, { neededOn: TODAY, placeId: "WEST" }),
    run("r2", 3_000, { neededOn: TODAY }),
  ];
  const keep = (drums: Parameters<typeof promisedCuts>[2], ids = ["a", "a"]) =>
    promisedCuts(
      [listed("r1", 0, 4_000, ids[0]), listed("r2", 4_020, 3_000, ids[1])],
      runs,
      drums,
      POLICY,
      { today: TODAY, daysOver: () => 1 },
      soon,
    ).map((c) => c.runId);
  const west = drum("a", 20_000, { placeId: "WEST" });
  expect(keep([west])).toEqual(["r1", "r2"]);
  expect(keep([{ ...west, remainingCm: 5_000 }])).toEqual(["r1"]);
  expect(keep([{ ...west, id: "other" }])).toEqual([]);
  // The drum was brought to the east: with nothing better the cut stays, late; with a drum in the west it goes there.
  const east = { ...west, placeId: "EAST" };
  expect(keep([east])).toEqual(["r1", "r2"]);
  expect(keep([east, drum("b", 20_000, { placeId: "WEST" })])).toEqual(["r2"]);
});
