import { describe, expect, it } from "vitest";
import { MATCHED_ON } from "@/lib/site";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { findItem, indexCatalogue, wanted } from "@/lib/takeoff/catalogue";

const index = indexCatalogue(DEFAULT_CATALOGUE);
const RADIO = { bandGhz: 15, subBand: "A", duplexSpacingMhz: 420, half: "high" } as const;

describe("findItem", () => {
  it("finds a radio by all four parts of its identity, and by nothing less", () => {
    expect(findItem(index, "ODU", RADIO).item?.code).toBe("ODU-15-420A-HI");
    for (const other of [{ bandGhz: 13 }, { subBand: "Z" }, { duplexSpacingMhz: 421 }]) {
      expect(findItem(index, "ODU", { ...RADIO, ...other }).item).toBeUndefined();
    }
    expect(findItem(index, "ODU", { ...RADIO, half: "low" }).item?.code).toBe("ODU-15-420A-LO");
    expect(findItem(index, "ODU", { ...RADIO, half: undefined }).item).toBeUndefined();
  });

  it("matches what fits the cable by its diameter", () => {
    expect(findItem(index, "connector", { cableDiameterMm: 10.3 }).item?.code).toBe("CON-10");
    expect(findItem(index, "connector", {}).item).toBeUndefined();
  });

  it("takes the thinnest earthing lead that is not below the section", () => {
    expect(findItem(index, "earthing lead", { crossSectionMm2: 16 }).item?.code).toBe("EL-16");
    expect(findItem(index, "earthing lead", { crossSectionMm2: 17 }).item?.code).toBe("EL-25");
    expect(findItem(index, "earthing lead", { crossSectionMm2: 50 }).item).toBeUndefined();
  });

  it("tells of several that fit, and takes the first by code however they came in", () => {
    const connector = index.byCode.get("CON-06")!;
    const twins = [
      { ...connector, code: "CON-B" },
      { ...connector, code: "CON-A" },
    ];
    for (const catalogue of [twins, [...twins].reverse()]) {
      const found = findItem(indexCatalogue(catalogue), "connector", { cableDiameterMm: 6 });
      expect(found.item?.code).toBe("CON-A");
      expect(found.fitting).toEqual(["CON-A", "CON-B"]);
    }
  });

  it("keeps the index of a catalogue", () => {
    expect(indexCatalogue(DEFAULT_CATALOGUE)).toBe(index);
  });
});

describe("wanted", () => {
  it("names the attributes that were looked for", () => {
    expect(wanted("connector", { cableDiameterMm: 7 })).toBe("connector with cable diameter 7 mm");
    expect(wanted("lug", {})).toBe("lug with cross section unknown");
    expect(wanted("IDU", {})).toBe("IDU");
  });

  it("looks radios up by four attributes", () => {
    expect(MATCHED_ON.ODU).toHaveLength(4);
  });
});
