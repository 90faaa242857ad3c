import { describe, expect, it } from "vitest";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY } from "@/lib/takeoff";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { findEquipment } from "@/lib/takeoff/equipment";
import { type EndOptions, makeEnd } from "../../helpers/hop";

const find = (options: EndOptions = {}, catalogue = DEFAULT_CATALOGUE) =>
  findEquipment(options.scheme ?? "1+0", makeEnd(options), indexCatalogue(catalogue), DEFAULT_POLICY);
const codes = (options: EndOptions) => find(options).lines.map((l) => `${l.quantity} ${l.itemCode}`);

describe("findEquipment", () => {
  it("counts radios, antennas and couplings by scheme", () => {
    expect(codes({ scheme: "1+0" })).toEqual(["1 ODU-15-420A-HI", "1 ANT-15-06"]);
    expect(codes({ scheme: "1+1 hot standby" })).toEqual(["2 ODU-15-420A-HI", "1 ANT-15-06", "1 CPL-15-EQ"]);
    expect(codes({ scheme: "1+1 space diversity" })).toEqual(["2 ODU-15-420A-HI", "2 ANT-15-06"]);
    expect(codes({ scheme: "2+0 dual-polar" })).toEqual(["2 ODU-15-420A-HI", "1 ANT-15-06", "1 OMT-15"]);
  });

  it("takes the coupler that the link budget counts on", () => {
    expect(codes({ scheme: "1+1 hot standby", couplerSplit: "unequal" })).toContain("1 CPL-15-UN");
    const loss = find({ scheme: "1+1 hot standby", couplerSplit: "unequal" }).checks.find(
      (c) => c.rule === "coupler-loss",
    );
    expect(loss?.message).toBe("CPL-15-UN, unequal split: main port 1.6 dB, standby port 6.5 dB.");
  });

  it("adds the task, the check and the removed part where the factory polarisation differs", () => {
    const horizontal = find({ scheme: "1+1 hot standby", polarisation: "H" });
    expect(horizontal.extraTasks).toEqual(["change polarisation part"]);
    expect(horizontal.polarisationChanges).toBe(1);
    expect(horizontal.partsToBuy).toBe(0); // the part comes in the box
    expect(horizontal.checks.map((c) => c.rule)).toContain("polarisation-part");
    const vertical = find({ scheme: "1+1 hot standby", polarisation: "V" });
    expect(vertical.extraTasks).toEqual([]);
    expect(vertical.polarisationChanges).toBe(0);
  });

  it("asks for a part to buy only where the catalogue says that it is not in the box", () => {
    const bare = DEFAULT_CATALOGUE.map((item) =>
      item.category === "hybrid coupler"
        ? { ...item, attributes: { ...item.attributes, polarisationPartInBox: false } }
        : item,
    );
    expect(find({ scheme: "1+1 hot standby", polarisation: "H" }, bare).partsToBuy).toBe(1);
  });

  it("keeps what customer and contractor own on lines of their own", () => {
    const end = makeEnd({ scheme: "1+1 hot standby" });
    const mixed = {
      ...end,
      odus: end.odus.map((o, i) => ({
        ...o,
        owner: i === 0 ? ("customer" as const) : ("contractor" as const),
      })),
    };
    const { lines } = findEquipment(
      "1+1 hot standby",
      mixed,
      indexCatalogue(DEFAULT_CATALOGUE),
      DEFAULT_POLICY,
    );
    expect(lines.filter((l) => l.ruleId === "count:ODU").map((l) => [l.owner, l.quantity])).toEqual([
      ["customer", 1],
      ["contractor", 1],
    ]);
  });

  it("keeps a line for what the catalogue lacks, and fails", () => {
    const { lines, checks } = find({ diameterM: 3.7 });
    expect(lines.map((l) => l.itemCode)).toContain("MISSING:antenna");
    expect(checks).toContainEqual(
      expect.objectContaining({ rule: "no-catalogue-item", state: "fail", where: "A1" }),
    );
  });
});
