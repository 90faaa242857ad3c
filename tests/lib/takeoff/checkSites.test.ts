import { describe, expect, it } from "vitest";
import { checkSites } from "@/lib/takeoff";
import { makeHop, makeSite } from "../../helpers/hop";

const sites = ["SITE-A", "SITE-B", "SITE-C"].map((id) => makeSite({ id }));
const first = makeHop({ id: "H1" }); // A high, B low
/** From B on to C. */
const onward = (flip: boolean) => {
  const hop = makeHop({ id: "H2" });
  const half = (h: "high" | "low") => ({ odus: hop.near.odus.map((o) => ({ ...o, half: h })) });
  return makeHop({
    id: "H2",
    near: { siteId: "SITE-B", ...half(flip ? "high" : "low") },
    far: { siteId: "SITE-C", ...half(flip ? "low" : "high") },
  });
};

describe("checkSites", () => {
  it("passes a chain that keeps each site in one half", () => {
    expect(checkSites([first, onward(false)], sites)).toEqual([]);
  });

  it("warns where one site mixes halves in one band, and names the hops", () => {
    const checks = checkSites([first, onward(true)], sites);
    expect(checks).toEqual([
      expect.objectContaining({
        rule: "mixed-halves",
        state: "warn",
        where: "SITE-B",
        siteId: "SITE-B",
        hopIds: ["H1", "H2"],
      }),
    ]);
    expect(checks[0]!.message).toContain("high on H2, low on H1");
  });

  it("does not mind two halves in two bands", () => {
    const other = makeHop({ id: "H2", bandGhz: 18, near: { siteId: "SITE-B" }, far: { siteId: "SITE-C" } });
    expect(checkSites([first, other], sites)).toEqual([]);
  });

  it("finds the same whatever the order", () => {
    const one = checkSites([first, onward(true)], sites);
    expect(checkSites([onward(true), first], [...sites].reverse())).toEqual(one);
  });

  it("fails what is entered twice: hops, ends, site codes; and a hop with two schemes", () => {
    const again = { ...makeHop({ id: "H9" }), code: "H1" };
    expect(checkSites([first, again], sites).map((c) => c.rule)).toEqual(["duplicate-hop"]);
    const other = { ...makeHop({ id: "H9", scheme: "2+0 dual-polar" }), code: "H1" };
    const [twoSchemes] = checkSites([first, other], sites);
    expect(twoSchemes).toMatchObject({ rule: "two-schemes", state: "fail", hopIds: ["H1", "H9"] });
    const sameEnd = makeHop({ id: "H9", near: { id: "H1/near" } });
    expect(checkSites([first, sameEnd], sites).map((c) => [c.rule, c.where])).toEqual([
      ["duplicate-end", "H1/near"],
    ]);
    const twice = [...sites, makeSite({ id: "OTHER", code: "SITE-A" })];
    expect(checkSites([first], twice).map((c) => [c.rule, c.where])).toEqual([["duplicate-site", "SITE-A"]]);
  });
});
