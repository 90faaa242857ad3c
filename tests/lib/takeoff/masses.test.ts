import { describe, expect, it } from "vitest";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, type TakeoffLine } from "@/lib/takeoff";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { antennaKgFromMemory, checkHoist, liftsOf, loadOf } from "@/lib/takeoff/masses";
import { makeEnd } from "../../helpers/hop";

describe("antennaKgFromMemory", () => {
  it("gives the known masses and grows between and beyond them", () => {
    expect([0.6, 1.2, 1.8, 2.4].map(antennaKgFromMemory)).toEqual([12, 40, 90, 160]);
    const masses = [0.2, 0.3, 0.5, 0.6, 0.9, 1.5, 2.1, 2.4, 3].map(antennaKgFromMemory);
    expect(masses).toEqual([...masses].sort((a, b) => a - b));
  });
});

describe("liftsOf", () => {
  const odus = new Map([
    ["R1", 5.5],
    ["R2", 5.5],
  ]);

  it("hoists a small antenna and its ODU as one", () => {
    expect(liftsOf(makeEnd(), [], () => 12, odus)).toEqual([{ what: "A1 with R1", massKg: 17.5 }]);
  });

  it("hoists them apart above 0.6 m, on a coupling, or with the ODU beside the antenna", () => {
    expect(liftsOf(makeEnd({ diameterM: 1.2 }), [], () => 40, odus)).toHaveLength(2);
    expect(liftsOf(makeEnd({ scheme: "1+1 hot standby" }), [4], () => 12, odus).map((l) => l.what)).toEqual([
      "coupling",
      "A1",
      "R1",
      "R2",
    ]);
    const twoOnOne = makeEnd({ scheme: "1+1 hot standby" });
    expect(liftsOf(twoOnOne, [], () => 12, odus).map((l) => l.what)).toEqual(["A1", "R1", "R2"]);
    const end = makeEnd();
    const remote = { ...end, odus: end.odus.map((o) => ({ ...o, mounting: "remote" as const })) };
    expect(liftsOf(remote, [], () => 12, odus)).toHaveLength(2);
  });
});

describe("checkHoist", () => {
  it("warns from above the hand hoist limit", () => {
    const check = (massKg: number) => checkHoist([{ what: "A1", massKg }], "near", DEFAULT_POLICY)[0];
    expect(check(50)).toMatchObject({ state: "pass", figure: 50, limit: 50, unit: "kg" });
    expect(check(90)).toMatchObject({ state: "warn", rule: "hand-hoist" });
    expect(checkHoist([], "near", DEFAULT_POLICY)).toEqual([]);
  });
});

describe("loadOf", () => {
  it("weighs pieces by the piece and cable by the metre", () => {
    const lines = [
      { itemCode: "ANT-15-06", quantity: 2 },
      { itemCode: "IFC-06", quantity: 47 },
      { itemCode: "MISSING:lug", quantity: 4 },
    ] as TakeoffLine[];
    expect(loadOf(lines, indexCatalogue(DEFAULT_CATALOGUE))).toEqual({
      massKg: 24 + 47 * 0.06,
      volumeL: 300 + 47 * 0.3,
    });
  });
});
