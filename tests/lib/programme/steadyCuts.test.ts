/** Cutting lists of later days stay as they were printed, unless moving a cut serves better. */
import { expect, test } from "vitest";
import { type CuttingPlan, cutDrums, type DrumOnHand, type ListedCut, type RunWanted } from "@/lib/drums";
import { keptCuts } from "@/lib/programme";
import { steadierCuts } from "@/lib/programme/steadyCuts";
import { Random } from "@/lib/random";
import { drum, kind, onDay, run, TODAY } from "../drums/make";

const POLICY = { sawAllowanceCm: 20, minUsefulCm: 1_500 };
const KINDS = [kind(30_500)];

const listOf = (plan: CuttingPlan): ListedCut[] =>
  plan.drums.flatMap((d) =>
    d.buy
      ? []
      : d.cuts.map(({ runId, fromMarkCm, lengthCm }) => ({ drumId: d.drum.id, runId, fromMarkCm, lengthCm })),
  );

/** The next list, after `listed` and with the drums as they are now. */
function nextList(
  runs: readonly RunWanted[],
  drums: readonly DrumOnHand[],
  listedCuts: readonly ListedCut[],
) {
  const kept = keptCuts(runs, drums, { today: TODAY, cutPolicy: POLICY, listedCuts }, () => undefined);
  const [fresh] = cutDrums(runs, drums, KINDS, POLICY, { today: TODAY, fixedCuts: kept.firm });
  const [steady] = cutDrums(runs, drums, KINDS, POLICY, { today: TODAY, fixedCuts: kept.all });
  return { fresh: fresh!, steady: steady!, chosen: steadierCuts(steady!, fresh!, POLICY) };
}

const moved = (was: readonly ListedCut[], plan: CuttingPlan) => {
  const now = new Map(listOf(plan).map((c) => [c.runId, c.drumId]));
  return was.filter((c) => now.has(c.runId) && now.get(c.runId) !== c.drumId).length;
};

test("after a cut of another length the cuts of later days keep their drums, at no cost that counts", () => {
  const sums = { fresh: 0, chosen: 0 };
  for (let seed = 0; seed < 60; seed++) {
    const random = new Random(`steady ${seed}`);
    const whole = (from: number, to: number) => from + Math.floor(random.next() * (to - from));
    const runs = Array.from({ length: 14 }, (_, i) =>
      run(`r${i}`, whole(1_800, 9_000), { neededOn: onDay(4 + whole(0, 30)) }),
    );
    const drums = ["a", "b", "c"].map((id) => drum(id, whole(9_000, 30_000)));
    const [first] = cutDrums(runs, drums, KINDS, POLICY, { today: TODAY });
    const cut = listOf(first!)[0];
    if (!cut) continue;
    // Somebody cuts the first run of a list, half a metre longer than it said.
    const left = drums.map((d) =>
      d.id === cut.drumId ? { ...d, remainingCm: d.remainingCm - cut.lengthCm - 70 } : d,
    );
    const open = runs.filter((r) => r.id !== cut.runId);
    const was = listOf(first!).filter((c) => c !== cut);
    const { fresh, chosen } = nextList(open, left, was);
    expect([chosen.uncut.length, chosen.late.length]).toEqual([fresh.uncut.length, fresh.late.length]);
    expect(chosen.newDrumPriceMinor).toBeLessThanOrEqual(fresh.newDrumPriceMinor!);
    expect(chosen.newDrumPriceLowerBoundMinor).toBe(fresh.newDrumPriceLowerBoundMinor);
    expect(chosen.scrapCm - fresh.scrapCm).toBeLessThan(POLICY.minUsefulCm);
    sums.fresh += moved(was, fresh);
    sums.chosen += moved(was, chosen);
  }
  // Laid out anew every time, several cuts a list would change their drum.
  expect(sums.fresh).toBeGreaterThan(60);
  expect(sums.chosen).toBeLessThan(sums.fresh / 2);
});

test("a drum less to buy, or a run in time, is worth a cut on another drum", () => {
  const runs = [run("long", 9_000), run("short", 4_000)];
  // The list has the short run on the only drum that could give the long one.
  const listed = [{ drumId: "big", runId: "short", fromMarkCm: 40_000, lengthCm: 4_000 }];
  const drums = [drum("big", 10_000), drum("small", 5_000)];
  const { steady, chosen } = nextList(runs, drums, listed);
  expect(steady.newDrumCount).toBe(1);
  expect(chosen.newDrumCount).toBe(0);
  expect(new Map(listOf(chosen).map((c) => [c.runId, c.drumId]))).toEqual(
    new Map([
      ["long", "big"],
      ["short", "small"],
    ]),
  );
  // Without the small drum moving saves nothing: the short run stays where people have it.
  const alone = nextList(runs, drums.slice(0, 1), listed);
  expect(listOf(alone.chosen)).toEqual(listed);
});
