import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LinkEnd, type RouteSegment, SCHEMES } from "@/lib/site";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, DEFAULT_RULES, type EndTakeoff, takeOff } from "@/lib/takeoff";
import { makeHop, makeOdu, makeRoute, makeTakeoffContext } from "../../helpers/hop";

const context = makeTakeoffContext();
const near = (hop = makeHop(), ctx = context) => takeOff(hop, ctx).near;
const line = (end: EndTakeoff, ruleId: string) => end.lines.find((l) => l.ruleId === ruleId)!;
const exactByRule = (end: EndTakeoff) => new Map(end.lines.map((l) => [l.ruleId, l.exact]));
const byCode = (a: { itemCode: string; ruleId: string }, b: typeof a) =>
  `${a.itemCode}${a.ruleId}` < `${b.itemCode}${b.ruleId}` ? -1 : 1;

/** The worked example of docs/methods/takeoff.md: 1+1 hot standby, 15 GHz, 0.6 m, horizontal, at 30 m. */
describe("the worked example", () => {
  const hop = makeHop({ scheme: "1+1 hot standby", polarisation: "H" });
  const { near: end, checks } = takeOff(hop, context);

  it("cuts two runs of 47.0 m of the lightest cable that passes", () => {
    expect(end.runs.map((r) => [r.oduLabel, r.role, r.cableCode, r.cutM])).toEqual([
      ["R1", "main", "IFC-06", 47],
      ["R2", "standby", "IFC-06", 47],
    ]);
    expect(line(end, "count:IF cable").reason).toContain("R1 47.0 m = 42.0 route + 5.0 surplus");
    expect(end.runs[0]!.lossDbAtHigh).toBeCloseTo(10.53, 2);
    expect(end.runs[0]!.voltageAtOduV).toBeCloseTo(41.44, 2);
  });

  it("earths each run at 1.0, 27.7 and 35.7 m", () => {
    expect(end.runs[0]!.earthingPoints.map((p) => [p.kind, p.distanceM, p.heightM, p.movedM])).toEqual([
      ["near ODU", 1, 29, 0],
      ["structure foot", 27.7, 2.3, 0.3],
      ["entry", 35.7, 2, 0],
    ]);
    expect(line(end, "earthing-kits").quantity).toBe(6);
  });

  it("asks for 4.2 connectors, 114 ties outdoors, 13 indoors, 4.4 m of lead", () => {
    expect(line(end, "connectors").exact).toBeCloseTo(4.2, 9);
    expect(line(end, "ties-outdoor").quantity).toBe(114);
    expect(line(end, "ties-outdoor").exact).toBeCloseTo(113.4, 9);
    expect(line(end, "ties-indoor").quantity).toBe(13);
    expect(line(end, "odu-leads").exact).toBeCloseTo(4.4, 9);
  });

  it("wraps eight places with 17.98 m of self-amalgamating and 68.27 m of PVC tape", () => {
    expect(line(end, "tape-self-amalgamating").exact * 9).toBeCloseTo(17.98, 2);
    expect(line(end, "tape-pvc").exact * 20).toBeCloseTo(68.27, 2);
    expect(line(end, "tape-self-amalgamating").reason).toContain("11.7 m at width ratio 0.5");
  });

  it("changes the coupler's polarisation part and keeps the removed one", () => {
    expect(end.extraTasks).toEqual(["change polarisation part"]);
    expect(end.drivers.polarisationChanges).toBe(1);
  });

  it("fails nothing", () => {
    const notPassed = [...end.checks, ...checks].filter((c) => c.state !== "pass");
    expect(notPassed.map((c) => `${c.state} ${c.rule}`)).toEqual(["warn polarisation-part"]);
  });
});

describe("takeOff", () => {
  it("gives the hours estimate its counts", () => {
    expect(near(makeHop({ scheme: "1+1 space diversity", diameterM: 1.2 })).drivers).toEqual({
      maxMountHeightM: 30,
      antennaCount: 2,
      largestDiameterM: 1.2,
      antennaAreaM2: expect.closeTo(2 * Math.PI * 0.36, 6),
      antennaMassKg: 80,
      heaviestLiftKg: 40,
      oduCount: 2,
      couplerCount: 0,
      orthomodeCount: 0,
      polarisationChanges: 0,
      runCount: 2,
      cableM: 86,
      outdoorM: 64,
      indoorM: 12,
      connectorCount: 4,
      earthingPointCount: 6,
      oduLeadCount: 2,
      wrapCount: 8,
      tieCount: 64 + 12 + 2 * 4 + 2 * 6 + 2 * 8,
      entryCount: 2,
      bridgeM: 16,
    });
  });

  it("weighs the end and takes its volume", () => {
    const end = near();
    expect(end.massKg).toBeGreaterThan(5.5 + 12);
    expect(end.volumeL).toBeGreaterThan(0);
  });

  it("orders the IDU's DC feed only where the end includes it", () => {
    const without = near(makeHop({ near: { includesIduPower: false } }));
    expect(without.lines.map((l) => l.ruleId)).not.toContain("idu-breaker");
    expect(line(near(), "idu-breaker").quantity).toBe(1);
  });

  it("takes struts from 1.2 m and none below", () => {
    expect(near().lines.map((l) => l.itemCode)).not.toContain("STRUT-12");
    expect(line(near(makeHop({ diameterM: 1.2 })), "struts-1200").quantity).toBe(1);
    const large = near(makeHop({ diameterM: 2.4 }));
    expect([line(large, "struts-1200").quantity, line(large, "struts-2400").quantity]).toEqual([1, 1]);
  });

  it("counts the surge arrestors' loss against the cable, and none where the rule is off", () => {
    const rules = DEFAULT_RULES.map((r) => (r.id === "arrestors" ? { ...r, enabled: false } : r));
    const bare = near(makeHop(), { ...context, rules });
    expect(near().runs[0]!.lossDbAtHigh! - bare.runs[0]!.lossDbAtHigh!).toBeCloseTo(0.2, 9);
  });

  it("re-runs connectors, kits and grips with a change of cable", () => {
    const thick = near(makeHop({ near: { cableCode: "IFC-13" } }));
    const codes = ["connectors", "earthing-kits", "grips", "glands"].map((id) => line(thick, id).itemCode);
    expect(codes).toEqual(["CON-13", "EK-13", "GRP-13", "GLD-13"]);
  });

  it("fits lugs to the lead that a thicker section asks for", () => {
    const end = near(makeHop(), { ...context, policy: { ...DEFAULT_POLICY, minEarthingSectionMm2: 20 } });
    expect([line(end, "odu-leads").itemCode, line(end, "odu-lugs").itemCode]).toEqual(["EL-25", "LUG-25"]);
  });

  it("puts a remote ODU on a pole mount, with a flexible waveguide", () => {
    const hop = makeHop();
    const odus = hop.near.odus.map((o) => ({ ...o, mounting: "remote" as const }));
    const end = near({ ...hop, near: { ...hop.near, odus } });
    expect(line(end, "flexible-waveguide").itemCode).toBe("FWG-15");
    expect(line(end, "pole-mounts-odu").quantity).toBe(1);
  });

  it("takes off an end in contradiction with itself all the same, and fails it", () => {
    const hop = makeHop({ near: { antennas: [], siteId: "NOWHERE" } });
    const { near: end } = takeOff(hop, context);
    expect(line(end, "count:IF cable").quantity).toBe(47);
    const fails = end.checks.filter((c) => c.state === "fail").map((c) => c.rule);
    expect(fails).toEqual(expect.arrayContaining(["unknown-site", "scheme-antennas", "unknown-antenna"]));
  });

  it("keeps every line of an end without a cable, and fails it", () => {
    const lost = near(makeHop({ near: { cableCode: "GONE" } }));
    expect(lost.lines.map((l) => l.ruleId).sort()).toEqual(
      near()
        .lines.map((l) => l.ruleId)
        .sort(),
    );
    expect(line(lost, "connectors")).toMatchObject({ itemCode: "MISSING:connector", exact: 2.1 });
    expect(line(lost, "tape-pvc")).toMatchObject({ itemCode: "MISSING:PVC tape", unit: "wrap", exact: 4 });
  });
});

/* ---- properties ---- */

const decimetres = (min: number, max: number) =>
  fc.integer({ min: min * 10, max: max * 10 }).map((d) => d / 10);
const anyHop = fc.record({
  scheme: fc.constantFrom(...SCHEMES),
  bandGhz: fc.constantFrom(7, 15, 18, 23),
  diameterM: fc.constantFrom(0.6, 1.2),
  polarisation: fc.constantFrom("V" as const, "H" as const),
  mountHeightM: fc.integer({ min: 12, max: 58 }),
});
const route = fc.record({
  verticalM: decimetres(1, 250),
  bridgeM: decimetres(2, 70),
  indoorM: decimetres(1, 40),
});

describe("for any hop", () => {
  it("no quantity is negative, not finite or below what is needed exactly", () => {
    fc.assert(
      fc.property(anyHop, (options) => {
        const { near: n, far } = takeOff(makeHop(options), context);
        for (const l of [...n.lines, ...far.lines]) {
          expect(Number.isFinite(l.exact) && l.exact > 0, l.ruleId).toBe(true);
          expect(l.quantity, l.ruleId).toBeGreaterThanOrEqual(l.exact - 1e-6);
          expect(l.reason, l.ruleId).toMatch(/\d/);
        }
      }),
    );
  });

  it("a longer segment never takes less of anything", () => {
    const withRoute = (r: { verticalM: number; bridgeM: number; indoorM: number }) =>
      exactByRule(
        near(makeHop({ near: { odus: [makeOdu({ route: makeRoute(r.verticalM, r.bridgeM, r.indoorM) })] } })),
      );
    fc.assert(
      fc.property(
        route,
        fc.constantFrom("verticalM" as const, "bridgeM" as const, "indoorM" as const),
        decimetres(0, 80),
        (r, segment, moreM) => {
          const before = withRoute(r);
          const after = withRoute({ ...r, [segment]: r[segment] + moreM });
          for (const [ruleId, exact] of before) {
            expect(after.get(ruleId) ?? 0, ruleId).toBeGreaterThanOrEqual(exact - 1e-9);
          }
        },
      ),
    );
  });

  it("one more ODU never takes less of anything, whatever its route", () => {
    fc.assert(
      fc.property(anyHop, route, (options, r) => {
        const hop = makeHop(options);
        const [template] = hop.near.odus;
        const more = {
          ...template!,
          label: "R9",
          route: makeRoute(r.verticalM, r.bridgeM, r.indoorM),
        };
        const before = exactByRule(near(hop));
        const after = exactByRule(near({ ...hop, near: { ...hop.near, odus: [...hop.near.odus, more] } }));
        for (const [ruleId, exact] of before) {
          expect(after.get(ruleId) ?? 0, ruleId).toBeGreaterThanOrEqual(exact - 1e-9);
        }
      }),
    );
  });

  it("the order in which things were brought in changes nothing", () => {
    const turned = (end: LinkEnd): LinkEnd => ({
      ...end,
      antennas: [...end.antennas].reverse(),
      odus: [...end.odus].reverse(),
    });
    const other = {
      ...context,
      catalogue: [...DEFAULT_CATALOGUE].reverse(),
      rules: [...DEFAULT_RULES].reverse(),
    };
    fc.assert(
      fc.property(anyHop, (options) => {
        const hop = makeHop(options);
        const one = takeOff(hop, context);
        const two = takeOff({ ...hop, near: turned(hop.near), far: turned(hop.far) }, other);
        for (const side of ["near", "far"] as const) {
          expect([...two[side].lines].sort(byCode)).toEqual([...one[side].lines].sort(byCode));
          expect(two[side].runs).toEqual(one[side].runs);
          expect(two[side].drivers).toEqual(one[side].drivers);
          expect(two[side].massKg).toBeCloseTo(one[side].massKg, 6);
        }
        expect(two.checks).toEqual(one.checks);
      }),
    );
  });

  it("a thinner catalogue never makes a line vanish: it says MISSING, and the end fails", () => {
    const kept = fc.subarray([...DEFAULT_CATALOGUE], { minLength: 0 });
    fc.assert(
      fc.property(anyHop, kept, (options, catalogue) => {
        const hop = makeHop(options);
        const full = near(hop);
        const thin = near(hop, { ...context, catalogue });
        const rulesOf = (end: EndTakeoff) => new Set(end.lines.map((l) => l.ruleId));
        expect([...rulesOf(full)].filter((id) => !rulesOf(thin).has(id))).toEqual([]);
        if (thin.lines.some((l) => l.itemCode.startsWith("MISSING:"))) {
          expect(thin.checks.some((c) => c.state === "fail")).toBe(true);
        }
      }),
    );
  });

  it("the input stays as it was, and the same input gives the same take-off", () => {
    const hop = makeHop({ scheme: "2+0 dual-polar" });
    const frozen = JSON.stringify(hop);
    expect(takeOff(hop, context)).toEqual(takeOff(hop, context));
    expect(JSON.stringify(hop)).toBe(frozen);
  });
});

describe("a route of any shape", () => {
  it("is taken off without an exception", () => {
    const segment: fc.Arbitrary<RouteSegment> = fc.record({
      kind: fc.constantFrom("vertical" as const, "bridge" as const, "tray" as const, "indoor" as const),
      lengthM: decimetres(0.1, 400),
      bendAtEnd: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(segment, { maxLength: 8 }), (any) => {
        const end = near(makeHop({ near: { odus: [makeOdu({ route: any })] } }));
        const routeM = any.reduce((sum, s) => sum + s.lengthM, 0);
        expect(end.runs[0]!.cutM).toBeGreaterThanOrEqual(routeM + 5 - 1e-6);
        expect(end.runs[0]!.cutM).toBeLessThan(routeM + 5.5 + 1e-6);
      }),
    );
  });
});
