import { describe, expect, it } from "vitest";
import { DEFAULT_POLICY } from "@/lib/takeoff";
import { checkHop } from "@/lib/takeoff/checkHop";
import { type HopOptions, makeEnd, makeHop, makeSite } from "../../helpers/hop";

const A = makeSite();
const B = makeSite({ id: "SITE-B" });
const check = (options: HopOptions = {}, a = A, b = B) =>
  checkHop(makeHop(options), new Map([A, B, a, b].map((s) => [s.id, s])), DEFAULT_POLICY);
const bad = (...args: Parameters<typeof check>) =>
  check(...args)
    .filter((c) => c.state !== "pass")
    .map((c) => `${c.state} ${c.rule}`);
const farWith = (over: object) => ({
  far: { odus: makeEnd({ side: "far", half: "low" }).odus.map((o) => ({ ...o, ...over })) },
});

describe("checkHop", () => {
  it("passes a hop in order and shows its length", () => {
    expect(bad()).toEqual([]);
    expect(check()).toContainEqual(
      expect.objectContaining({ rule: "hop-length", state: "pass", figure: 11.12, unit: "km" }),
    );
  });

  it("fails when both ends transmit in the same half", () => {
    expect(bad(farWith({ half: "high" }))).toEqual(["fail half-clash"]);
  });

  it("fails when the ends differ in band, sub-band, duplex spacing or polarisation", () => {
    expect(bad(farWith({ bandGhz: 18 }))).toEqual(["fail band-mismatch"]);
    expect(bad(farWith({ subBand: "B" }))).toEqual(["fail sub-band-mismatch"]);
    expect(bad(farWith({ duplexSpacingMhz: 490 }))).toEqual(["fail duplex-mismatch"]);
    expect(bad(farWith({ polarisation: "H" }))).toEqual(["fail polarisation-mismatch"]);
  });

  it("takes both polarisations on both ends for agreement, in any order", () => {
    const hop = makeHop({ scheme: "2+0 dual-polar" });
    const turned = { ...hop, far: { ...hop.far, odus: [...hop.far.odus].reverse() } };
    const checks = checkHop(turned, new Map([A, B].map((s) => [s.id, s])), DEFAULT_POLICY);
    expect(checks.filter((c) => c.state !== "pass")).toEqual([]);
  });

  it("fails when the two ends are of two schemes", () => {
    const far = makeEnd({ scheme: "1+1 hot standby", side: "far", half: "low" });
    expect(bad({ far: { odus: far.odus } })).toEqual(["fail two-schemes"]);
  });

  it("fails a hop of more than 150 km or less than 50 m: a sign or an order is wrong", () => {
    const southern = { ...B, position: { latDeg: -50.1, lonDeg: 10 } };
    const beside = { ...B, position: { latDeg: 50.0001, lonDeg: 10 } };
    expect(bad({}, A, southern)).toEqual(["fail hop-length"]);
    expect(bad({}, A, beside)).toEqual(["fail hop-length"]);
  });

  it("warns where a coordinate is missing, and leaves unknown sites to the ends", () => {
    expect(bad({}, A, { ...B, position: undefined })).toEqual(["warn hop-length"]);
    expect(bad({ far: { siteId: "NOWHERE" } })).toEqual([]);
  });

  it("fails when both ends are on one site", () => {
    expect(bad({ far: { siteId: "SITE-A" } })).toEqual(["fail same-site", "fail hop-length"]);
  });

  it("has nothing to compare on an end without ODUs", () => {
    expect(bad({ far: { odus: [] } })).toEqual([]);
  });
});
