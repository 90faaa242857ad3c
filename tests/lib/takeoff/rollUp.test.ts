import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SCHEMES } from "@/lib/site";
import { DEFAULT_RULES, type HopTakeoff, rollUp, takeOff } from "@/lib/takeoff";
import { makeHop, makeSite, makeTakeoffContext } from "../../helpers/hop";

const sites = Array.from({ length: 12 }, (_, i) =>
  makeSite({ id: `S${i}`, position: { latDeg: 50 + i / 10, lonDeg: 10 } }),
);
const context = makeTakeoffContext({}, sites);
const hopBetween = (id: string, a: number, b: number, scheme: (typeof SCHEMES)[number] = "1+0") =>
  takeOff(makeHop({ id, scheme, near: { siteId: `S${a}` }, far: { siteId: `S${b}` } }), context);
const lineOf = (takeoffs: readonly HopTakeoff[], ruleId: string, rules = DEFAULT_RULES) =>
  rollUp(takeoffs, rules).lines.find((line) => line.ruleIds.includes(ruleId))!;

describe("rollUp", () => {
  it("rounds an order-level item once over all hops, and shows what sites would have made of it", () => {
    const connectors = lineOf([hopBetween("H1", 0, 1), hopBetween("H2", 2, 3)], "connectors");
    expect(connectors).toMatchObject({ quantity: 9, siteRounded: 12, endCount: 4, unit: "piece" });
    expect(connectors.exact).toBeCloseTo(8.4, 9);
    expect(connectors.reason).toBe("9 piece for 8.4 exact over 4 ends; rounded at every site it would be 12");
  });

  it("rounds a site-level item over all ends of a site together", () => {
    // Two ends on S0: 54 + 5 % = 56.7 ties each; apart 57 + 57, together 113.4 -> 114. The far ends: 57 each.
    const ties = lineOf([hopBetween("H1", 0, 1), hopBetween("H2", 0, 2)], "ties-outdoor");
    expect(ties.exact).toBeCloseTo(4 * 56.7, 9);
    expect(ties.quantity).toBe(114 + 57 + 57);
    const apart = lineOf([hopBetween("H1", 0, 1), hopBetween("H2", 2, 3)], "ties-outdoor");
    expect(apart.quantity).toBe(4 * 57);
  });

  it("adds lines of several rules on one item before it rounds", () => {
    const zinc = lineOf([hopBetween("H1", 0, 1)], "galvanising-points");
    expect(zinc.ruleIds).toEqual(["galvanising-leads", "galvanising-points"]);
    expect(zinc.exact).toBeCloseTo((2 * (3 + 1)) / 20, 9);
    expect(zinc.quantity).toBe(1);
  });

  it("goes by the current rule's level and step", () => {
    const takeoffs = [hopBetween("H1", 0, 1), hopBetween("H2", 2, 3)];
    const perEnd = DEFAULT_RULES.map((r) => (r.id === "connectors" ? { ...r, level: "end" as const } : r));
    expect(lineOf(takeoffs, "connectors", perEnd).quantity).toBe(12);
    const inTens = DEFAULT_RULES.map((r) => (r.id === "connectors" ? { ...r, step: 10 } : r));
    expect(lineOf(takeoffs, "connectors", inTens).quantity).toBe(10);
  });

  it("keeps what the customer owns apart from what the contractor owns", () => {
    const own = makeHop({ id: "H2", near: { siteId: "S2" }, far: { siteId: "S3" } });
    const odus = own.near.odus.map((o) => ({ ...o, owner: "contractor" as const }));
    const takeoffs = [hopBetween("H1", 0, 1), takeOff({ ...own, near: { ...own.near, odus } }, context)];
    const radios = rollUp(takeoffs, DEFAULT_RULES).lines.filter((l) => l.itemCode === "ODU-15-420A-HI");
    expect(radios.map((l) => [l.owner, l.quantity])).toEqual([
      ["contractor", 1],
      ["customer", 1],
    ]);
  });

  it("names the ends whose checks fail: both of a hop whose ends clash", () => {
    const clash = makeHop({ id: "H2", near: { siteId: "S2" }, far: { siteId: "S3" } });
    const odus = clash.far.odus.map((o) => ({ ...o, half: "high" as const }));
    const takeoffs = [hopBetween("H1", 0, 1), takeOff({ ...clash, far: { ...clash.far, odus } }, context)];
    expect(rollUp(takeoffs, DEFAULT_RULES).failingEndIds).toEqual(["H2/near", "H2/far"]);
  });

  it("is empty over no hops", () => {
    expect(rollUp([], DEFAULT_RULES)).toEqual({ lines: [], failingEndIds: [] });
  });

  it("adds exactly, rounds by less than one step, never needs more than site rounding, whatever the order", () => {
    const pair = fc.tuple(fc.nat(11), fc.nat(11), fc.constantFrom(...SCHEMES)).filter(([a, b]) => a !== b);
    fc.assert(
      fc.property(fc.array(pair, { minLength: 1, maxLength: 8 }), (pairs) => {
        const takeoffs = pairs.map(([a, b, scheme], i) => hopBetween(`H${i}`, a, b, scheme));
        const { lines } = rollUp(takeoffs, DEFAULT_RULES);
        const all = takeoffs.flatMap((t) => [...t.near.lines, ...t.far.lines]);
        for (const line of lines) {
          const own = all.filter((l) => l.itemCode === line.itemCode && l.owner === line.owner);
          expect(line.exact).toBeCloseTo(
            own.reduce((sum, l) => sum + l.exact, 0),
            6,
          );
          expect(line.quantity).toBeGreaterThanOrEqual(line.exact - 1e-6);
          expect(line.quantity).toBeLessThanOrEqual(line.siteRounded + 1e-6);
          if (own.every((l) => l.level === "order")) expect(line.quantity - line.exact).toBeLessThan(1);
        }
        expect(rollUp([...takeoffs].reverse(), DEFAULT_RULES).lines).toEqual(lines);
      }),
      { numRuns: 40 },
    );
  });
});
