/** The catalogue and rules a new company starts with: complete, consistent, and good for every scheme and band. */
import { describe, expect, it } from "vitest";
import { ITEM_CATEGORIES, parseCatalogueItem, SCHEMES } from "@/lib/site";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, DEFAULT_RULES, takeOff } from "@/lib/takeoff";
import { makeHop, makeTakeoffContext } from "../../helpers/hop";

const cables = DEFAULT_CATALOGUE.filter((i) => i.category === "IF cable");

describe("the default catalogue", () => {
  it("passes its own border check, item by item", () => {
    const refused = DEFAULT_CATALOGUE.map(parseCatalogueItem).flatMap((r) => (r.ok ? [] : r.problems));
    expect(refused).toEqual([]);
  });

  it("has every code once and an item in every category", () => {
    expect(new Set(DEFAULT_CATALOGUE.map((i) => i.code)).size).toBe(DEFAULT_CATALOGUE.length);
    const empty = ITEM_CATEGORIES.filter((c) => !DEFAULT_CATALOGUE.some((i) => i.category === c));
    expect(empty).toEqual([]);
  });

  it("has cables of rising diameter, rising mass and falling loss and resistance", () => {
    expect(cables.length).toBeGreaterThanOrEqual(3);
    const sorted = [...cables].sort((a, b) => a.attributes.cableDiameterMm! - b.attributes.cableDiameterMm!);
    const lossAt350 = sorted.map((c) => c.attributes.k1! * Math.sqrt(350) + c.attributes.k2! * 350);
    const ohm = sorted.map((c) => c.attributes.loopOhmPer100M!);
    const mass = sorted.map((c) => c.attributes.massKgPerM!);
    expect(lossAt350).toEqual([...lossAt350].sort((a, b) => b - a));
    expect(ohm).toEqual([...ohm].sort((a, b) => b - a));
    expect(mass).toEqual([...mass].sort((a, b) => a - b));
  });

  it("has connector, earthing kit, grip, hanger and gland for every cable", () => {
    for (const category of ["connector", "earthing kit", "hoisting grip", "cable hanger", "gland"] as const) {
      const diameters = DEFAULT_CATALOGUE.filter((i) => i.category === category).map(
        (i) => i.attributes.cableDiameterMm,
      );
      expect(diameters.sort(), category).toEqual(cables.map((c) => c.attributes.cableDiameterMm).sort());
    }
  });

  it("has both halves of every radio variant", () => {
    const radios = DEFAULT_CATALOGUE.filter((i) => i.category === "ODU");
    const variant = (i: (typeof radios)[number]) =>
      `${i.attributes.bandGhz}/${i.attributes.subBand}/${i.attributes.duplexSpacingMhz}`;
    for (const radio of radios) {
      const halves = radios.filter((r) => variant(r) === variant(radio)).map((r) => r.attributes.half);
      expect(halves.sort(), variant(radio)).toEqual(["high", "low"]);
    }
  });
});

describe("the default rules", () => {
  it("have an id each and a marked source", () => {
    expect(new Set(DEFAULT_RULES.map((r) => r.id)).size).toBe(DEFAULT_RULES.length);
    for (const rule of DEFAULT_RULES) expect(rule.source, rule.id).toMatch(/^(common practice|from memory)$/);
  });

  it("cover what the trade takes to an end, tied or on hangers", () => {
    const categories = new Set(DEFAULT_RULES.map((r) => r.category));
    const counted = ["ODU", "antenna", "hybrid coupler", "orthomode coupling", "IF cable"];
    expect(ITEM_CATEGORIES.filter((c) => !categories.has(c) && !counted.includes(c))).toEqual([]);
  });

  it("take off every scheme on every band and diameter of the catalogue without a failure or a missing item", () => {
    const antennas = DEFAULT_CATALOGUE.filter((i) => i.category === "antenna").map((i) => i.attributes);
    for (const tiesOrHangers of ["ties", "hangers"] as const) {
      const context = makeTakeoffContext({ policy: { ...DEFAULT_POLICY, tiesOrHangers } });
      for (const scheme of SCHEMES) {
        for (const { bandGhz, diameterM } of antennas) {
          const { near, far, checks } = takeOff(makeHop({ scheme, bandGhz, diameterM }), context);
          const bad = [...near.checks, ...far.checks, ...checks].filter(
            (c) => c.state !== "pass" && c.rule !== "hand-hoist",
          );
          expect(bad, `${scheme} ${bandGhz} GHz ${diameterM} m`).toEqual([]);
          expect([...near.lines, ...far.lines].filter((l) => l.itemCode.startsWith("MISSING"))).toEqual([]);
        }
      }
    }
  });
});
