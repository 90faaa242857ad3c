import { describe, expect, it } from "vitest";
import type { CatalogueItem, ItemAttributes } from "@/lib/site";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY } from "@/lib/takeoff";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { cableLossDb, carries, feedRun, hasLimits } from "@/lib/takeoff/runFeed";
import { makeOdu } from "../../helpers/hop";

const { byCode } = indexCatalogue(DEFAULT_CATALOGUE);
const radio = byCode.get("ODU-15-420A-HI")!;
const cable = byCode.get("IFC-06")!;
const with_ = (item: CatalogueItem, attributes: ItemAttributes): CatalogueItem => ({
  ...item,
  attributes: { ...item.attributes, ...attributes },
});
const feed = (cutM: number, of = cable, to: CatalogueItem | undefined = radio, supplyV = 43.2) =>
  feedRun({ odu: makeOdu(), radio: to, cutM }, of, supplyV, 0.2, DEFAULT_POLICY);

describe("feedRun", () => {
  it("passes a short run and gives its figures", () => {
    const result = feed(47);
    expect(result.checks.map((c) => [c.rule, c.state])).toEqual([
      ["cable-loss", "pass"],
      ["dc-feed", "pass"],
    ]);
    expect(result.lossDbAtHigh).toBeCloseTo(cableLossDb(1.1, 0.004, 350, 47) + 0.2, 9);
    expect(result.lossDbAtLow).toBeLessThan(result.lossDbAtHigh!);
    expect(result.voltageAtOduV).toBeGreaterThan(38);
  });

  it("fails with the figure against the limit when the loss is too high", () => {
    const check = feed(150).checks[0]!;
    expect(check).toMatchObject({ rule: "cable-loss", state: "fail", limit: 25, unit: "dB" });
    expect(check.figure).toBeGreaterThan(25);
  });

  it("fails when the ODU gets less than its least voltage", () => {
    const hungry = with_(radio, { powerW: 90 });
    expect(feed(100, cable, hungry).checks[1]).toMatchObject({ rule: "dc-feed", state: "fail", unit: "V" });
  });

  it("fails with its own reason when the cable cannot carry the power at all", () => {
    const result = feed(300, cable, with_(radio, { powerW: 200 }));
    expect(result.voltageAtOduV).toBeUndefined();
    expect(result.checks[1]).toMatchObject({ rule: "dc-feed", state: "fail", unit: "V2" });
    expect(result.checks[1]?.message).toContain("No solution: 4 R P");
  });

  it("names item and attribute where data are missing, instead of guessing", () => {
    const [loss, dc] = feed(47, with_(cable, { k2: undefined, loopOhmPer100M: undefined }), undefined).checks;
    expect(loss).toMatchObject({ rule: "cable-loss-data", state: "fail" });
    expect(loss?.message).toContain("IFC-06: loss k2");
    expect(dc).toMatchObject({ rule: "dc-feed-data", state: "fail" });
    expect(dc?.message).toContain("IFC-06: loop resistance");
    // Without a catalogue item for the radio the ODU's own data are missing too.
    const noRadio = feedRun({ odu: makeOdu(), cutM: 47 }, cable, 43.2, 0, DEFAULT_POLICY).checks;
    expect(noRadio.map((c) => c.message).join()).toContain("ODU: power");
  });
});

describe("carries", () => {
  it("agrees with feedRun's verdict over lengths, loads and supplies", () => {
    for (const cutM of [10, 60, 110, 113, 130, 150, 400]) {
      for (const powerW of [20, 42, 90, 200]) {
        for (const supplyV of [39, 43.2, 54]) {
          const to = with_(radio, { powerW });
          const says = carries(cable, { odu: makeOdu(), radio: to, cutM }, supplyV, 0.2, DEFAULT_POLICY);
          const checks = feed(cutM, cable, to, supplyV).checks;
          expect(says, `${cutM} m, ${powerW} W, ${supplyV} V`).toBe(checks.every((c) => c.state === "pass"));
        }
      }
    }
  });

  it("never lets a type pass whose data are missing", () => {
    const run = { odu: makeOdu(), radio, cutM: 10 };
    for (const missing of [{ k1: undefined }, { k2: undefined }, { loopOhmPer100M: undefined }]) {
      expect(carries(with_(cable, missing), run, 48, 0, DEFAULT_POLICY)).toBe(false);
    }
  });
});

describe("hasLimits", () => {
  it("asks for every figure that the choice needs", () => {
    expect(hasLimits(radio)).toBe(true);
    expect(hasLimits(undefined)).toBe(false);
    for (const missing of ["ifLowMhz", "ifHighMhz", "maxIfLossDb", "powerW", "minVoltageV"] as const) {
      expect(hasLimits(with_(radio, { [missing]: undefined })), missing).toBe(false);
    }
  });
});
