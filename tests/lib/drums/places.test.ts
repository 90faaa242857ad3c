import fc from "fast-check";
import loadHighs from "highs";
import { describe, expect, it } from "vitest";
import {
  cutDrums,
  type DaysOver,
  type DrumKind,
  type DrumOnHand,
  highsSolver,
  type RunWanted,
  validateCutting,
} from "@/lib/drums";
import { Random } from "@/lib/random";
import { addDays, arrivalDay, arrivesOn, FIVE_DAYS } from "@/lib/time";
import { drum, kind, onDay, PLAIN, run, TODAY } from "./make";

const solver = highsSolver(await loadHighs());

/** East and west two days apart; nothing is sent from the north. */
const daysOver: DaysOver = (from) => (from === "north" ? undefined : 2);

const cut = (runs: RunWanted[], drums: DrumOnHand[], kinds: DrumKind[] = []) =>
  cutDrums(runs, drums, kinds, PLAIN, { today: TODAY, daysOver })[0]!;

const drumOf = (plan: ReturnType<typeof cut>, runId: string) =>
  plan.drums.find((d) => d.cuts.some((c) => c.runId === runId));

describe("drums at several warehouses", () => {
  const west = drum("west", 50_000, { placeId: "WEST", isNew: true });
  const east = drum("east", 6_000, { placeId: "EAST" });

  it("opens a full drum at the kit's warehouse before it cuts a remnant elsewhere", () => {
    const soon = run("r", 5_000, { placeId: "WEST", neededOn: TODAY });
    const later = run("r", 5_000, { placeId: "WEST" });
    for (const wanted of [soon, later]) {
      const plan = cut([wanted], [west, east]);
      expect(drumOf(plan, "r")!.drum.id).toBe("west");
      expect(plan.late).toEqual([]);
    }
    // Where no place is named, the remnant goes first, as ever.
    expect(drumOf(cut([run("r", 5_000)], [west, east]), "r")!.drum.id).toBe("east");
  });

  it("cuts elsewhere when the piece still comes over, early enough, and buys nothing for it", () => {
    const plan = cut([run("r", 5_000, { placeId: "WEST", neededOn: onDay(18) })], [east], [kind(30_000)]);
    const [only] = drumOf(plan, "r")!.cuts;
    expect(only).toMatchObject({ cutOn: onDay(16), arriveOn: onDay(18), wantedAt: "WEST" });
    expect(plan.newDrumCount).toBe(0);
    expect(plan.late).toEqual([]);
  });

  it("sends on working days only, as any transfer leaves and arrives", () => {
    // Two working days before Monday 9 March is the Thursday: a coil that is cut on Friday is not there on Sunday.
    const plan = cut([run("r", 5_000, { placeId: "WEST", neededOn: onDay(7) })], [east]);
    expect(drumOf(plan, "r")!.cuts).toMatchObject([{ cutOn: onDay(3), arriveOn: onDay(7) }]);
    expect(plan.late).toEqual([]);
    const friday = { ...east, availableOn: onDay(4) };
    const late = cut([run("r", 5_000, { placeId: "WEST", neededOn: onDay(7) })], [friday]);
    expect(drumOf(late, "r")!.cuts).toMatchObject([{ cutOn: onDay(4), arriveOn: onDay(8) }]);
    expect(late.late).toMatchObject([{ availableOn: onDay(8) }]);
    // By the same days as a proposed transfer of pieces.
    expect(arrivesOn(onDay(4), 2)).toBe(onDay(8));
    const week = { firstWeekday: 5, workdays: FIVE_DAYS };
    expect(addDays(onDay(4), arrivalDay(0, 2, week).arrives)).toBe(onDay(8));
  });

  it("buys when a piece would come over too late and a purchase comes in time", () => {
    const wanted = run("r", 5_000, { placeId: "WEST", neededOn: onDay(1) });
    const plan = cut([wanted], [east], [kind(30_000, { leadTimeDays: 1 })]);
    expect(drumOf(plan, "r")!.buy).toBeDefined();
    // Where everything is late the soonest goes on, and says when it is there.
    const late = cut([wanted], [east], [kind(30_000, { leadTimeDays: 14 })]);
    expect(drumOf(late, "r")!.drum.id).toBe("east");
    expect(late.late).toMatchObject([{ availableOn: onDay(2) }]);
  });

  it("counts a drum on order at the warehouse that it comes to", () => {
    const coming = { ...drum("o", 50_000), placeId: "on order", comesTo: "WEST", availableOn: onDay(5) };
    const wanted = (placeId: string) => run("r", 5_000, { placeId, neededOn: onDay(5) });
    expect(cut([wanted("WEST")], [coming]).late).toEqual([]);
    // It comes on a Saturday: what goes on leaves on Monday.
    expect(cut([wanted("EAST")], [coming]).late).toMatchObject([{ availableOn: onDay(9) }]);
  });

  it("has a drum to buy delivered where most of its runs are wanted, and sends the others on in time", () => {
    const wanted = (id: string, placeId: string, day: number) =>
      run(id, 5_000, { placeId, neededOn: onDay(day), endId: id });
    const kinds = [kind(30_000, { leadTimeDays: 14 })];
    const plan = cut([wanted("a", "EAST", 20), wanted("b", "WEST", 20), wanted("c", "WEST", 21)], [], kinds);
    expect(plan.newDrums).toMatchObject([{ count: 1, kind: { lengthCm: 30_000, comesTo: "WEST" } }]);
    const cutOf = (id: string) => drumOf(plan, id)!.cuts.find((c) => c.runId === id);
    // Needed on a Sunday: there on Friday.
    expect(cutOf("a")).toMatchObject({ cutOn: onDay(16), arriveOn: onDay(18) });
    expect(cutOf("b")!.arriveOn).toBeUndefined();
    // Needed on the day the drum comes, neither can wait for the way: a drum for each.
    const urgent = [wanted("a", "EAST", 14), wanted("b", "WEST", 14)];
    const two = cut(urgent, [], kinds);
    expect(two.newDrums.map((row) => row.kind.comesTo)).toEqual(["EAST", "WEST"]);
    expect(two.late).toEqual([]);
    expect(validateCutting(two, urgent, [], PLAIN, { kinds, daysOver })).toEqual([]);
    // A drum that came without a word of its way would be found out.
    const [first] = plan.drums;
    const silent = { ...plan, drums: [{ ...first!, drum: { ...first!.drum, comesTo: "EAST" } }] };
    expect(
      validateCutting(
        silent,
        [wanted("a", "EAST", 20), wanted("b", "WEST", 20), wanted("c", "WEST", 21)],
        [],
        PLAIN,
        {
          kinds,
          daysOver,
        },
      ).map((p) => p.rule),
    ).toContain("comes-over");
  });

  it("leaves a run uncut where nothing is sent that way and nothing can be bought, and says so", () => {
    const plan = cut([run("r", 5_000, { placeId: "WEST" })], [drum("n", 50_000, { placeId: "north" })]);
    expect(plan.uncut[0]!.reason).toContain(
      "stands at another warehouse, from which nothing is sent to WEST",
    );
  });

  it("passes the judge with the quick and the exact method; the exact one is no later and costs no more", () => {
    const worlds = fc.record({
      runs: fc.array(
        fc.record({
          lengthCm: fc.integer({ min: 20, max: 160 }).map((n) => n * 100),
          day: fc.integer({ min: 0, max: 25 }),
          placeId: fc.constantFrom("WEST", "EAST", "north"),
        }),
        { minLength: 1, maxLength: 20 },
      ),
      drums: fc.array(
        fc.record({
          remainingCm: fc.integer({ min: 20, max: 300 }).map((n) => n * 100),
          placeId: fc.constantFrom("WEST", "EAST", "north"),
        }),
        { maxLength: 6 },
      ),
    });
    fc.assert(
      fc.property(worlds, (world) => {
        const runs = world.runs.map((r, i) =>
          run(`r${i}`, r.lengthCm, { neededOn: onDay(r.day), placeId: r.placeId }),
        );
        const drums = world.drums.map((d, i) => drum(`d${i}`, d.remainingCm, { placeId: d.placeId }));
        const kinds = [kind(30_000), kind(10_000, { priceMinor: 22_000, leadTimeDays: 5 })];
        const make = (isExact: boolean) => {
          let left = 300;
          return cutDrums(runs, drums, kinds, PLAIN, {
            today: TODAY,
            daysOver,
            random: new Random(7),
            effort: 20_000,
            exact: isExact ? { solver, startTime: () => () => left-- <= 0 } : undefined,
          });
        };
        const [quick, exact] = [make(false), make(true)];
        for (const [i, plan] of exact.entries()) {
          for (const made of [plan, quick[i]!])
            expect(validateCutting(made, runs, drums, PLAIN, { kinds, daysOver })).toEqual([]);
          expect(plan.late.length).toBeLessThanOrEqual(quick[i]!.late.length);
          expect(plan.uncut.length).toBeLessThanOrEqual(quick[i]!.uncut.length);
          if (plan.late.length === quick[i]!.late.length)
            expect(plan.newDrumPriceMinor!).toBeLessThanOrEqual(quick[i]!.newDrumPriceMinor!);
          expect(plan.newDrumPriceMinor!).toBeGreaterThanOrEqual(plan.newDrumPriceLowerBoundMinor!);
        }
      }),
      { numRuns: 60, seed: 31 },
    );
  }, 60_000);
});
