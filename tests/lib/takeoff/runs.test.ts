import { describe, expect, it } from "vitest";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY } from "@/lib/takeoff";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { planRuns } from "@/lib/takeoff/runs";
import { type EndOptions, makeEnd, makeOdu, makeRoute } from "../../helpers/hop";

const index = indexCatalogue(DEFAULT_CATALOGUE);
const radio = index.byCode.get("ODU-15-420A-HI")!;
const plan = (options: EndOptions = {}, catalogue = index) => {
  const end = makeEnd(options);
  return planRuns(end, new Map(end.odus.map((o) => [o.label, radio])), catalogue, 0.2, DEFAULT_POLICY);
};

describe("planRuns", () => {
  it("plans one piece per ODU, with its own length", () => {
    const { runs, lines } = plan({ scheme: "1+1 space diversity" });
    expect(runs.map((r) => [r.plan.id, r.plan.role, r.plan.cutM])).toEqual([
      ["HOP-1/near/R1", "main", 47],
      ["HOP-1/near/R2", "standby", 39],
    ]);
    expect(lines).toEqual([
      expect.objectContaining({
        itemCode: "IFC-06",
        unit: "m",
        exact: 86,
        quantity: 86,
        level: "run",
        reason: "86.0 m: R1 47.0 m = 42.0 route + 5.0 surplus; R2 39.0 m = 34.0 route + 5.0 surplus",
      }),
    ]);
  });

  it("gives each run its feed figures and earthing points", () => {
    const [run] = plan().runs;
    expect(run!.plan.lossDbAtHigh).toBeGreaterThan(run!.plan.lossDbAtLow!);
    expect(run!.plan.voltageAtOduV).toBeGreaterThan(38);
    expect(run!.plan.earthingPoints).toHaveLength(3);
    expect(run!.plan.bends).toBe(2);
  });

  it("keeps the metres when no cable can be named", () => {
    const { runs, lines, checks, cable } = plan({ cableCode: "GONE" });
    expect(cable).toBeUndefined();
    expect(lines[0]).toMatchObject({ itemCode: "MISSING:IF cable", quantity: 47, unit: "m" });
    expect(runs[0]!.plan.cableCode).toBe("MISSING:IF cable");
    expect(checks.map((c) => `${c.state} ${c.rule}`)).toContain("fail no-catalogue-item");
  });

  it("fails a cable item without its diameter, since nothing can be matched to it", () => {
    const bare = DEFAULT_CATALOGUE.map((i) =>
      i.code === "IFC-06" ? { ...i, attributes: { ...i.attributes, cableDiameterMm: undefined } } : i,
    );
    const { checks } = plan({ cableCode: "IFC-06" }, indexCatalogue(bare));
    expect(checks).toContainEqual(expect.objectContaining({ rule: "item-lacks-attribute", state: "fail" }));
  });

  it("says that a point was moved off a bend", () => {
    expect(plan().checks).toContainEqual(
      expect.objectContaining({ rule: "earthing-moved", state: "pass", figure: 0.3, unit: "m" }),
    );
  });

  it("warns where no clear place is left for a point", () => {
    const odus = [makeOdu({ route: [{ kind: "vertical", lengthM: 0.2, bendAtEnd: true }] })];
    expect(plan({ odus }).checks).toContainEqual(
      expect.objectContaining({ rule: "earthing-near-bend", state: "warn", where: "R1" }),
    );
  });

  it("has no line without ODUs", () => {
    expect(plan({ odus: [] }).lines).toEqual([]);
  });

  it("names the longest run as the one that decides the type", () => {
    const odus = [makeOdu(), makeOdu({ label: "R2", role: "standby", route: makeRoute(120) })];
    expect(plan({ odus }).cable?.code).toBe("IFC-08");
  });
});
