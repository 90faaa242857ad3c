/** What stands in the form of a hop while it is filled in. */
import { describe, expect, test } from "vitest";
import {
  emptied,
  emptyHop,
  equippedAsNear,
  filledHop,
  partsOut,
  partsToSend,
  withAnother,
  withHopCell,
  withOut,
  without,
  withPartCell,
} from "@/app/(work)/add/hop/draft";

const NO_ROWS = { ends: [], antennas: [], radios: [], gates: [] };

describe("a new hop", () => {
  test("has an antenna and a radio at each end, and the site that it was begun from", () => {
    const draft = emptyHop("VM101");
    expect(draft.cells).toEqual({ nearSiteCode: "VM101" });
    expect(draft.parts.map((p) => p.at)).toEqual([
      "near.ends.0",
      "near.antennas.1",
      "near.radios.1",
      "far.ends.0",
      "far.antennas.1",
      "far.radios.1",
    ]);
  });

  test("hands its band on to what has no other, and to what is added", () => {
    let draft = withHopCell(emptyHop(), "bandGhz", "18");
    draft = withPartCell(draft, "far.radios.1", "bandGhz", "23");
    draft = withHopCell(draft, "bandGhz", "15");
    draft = withAnother(draft, "antennas", "near");
    const band = (at: string) => draft.parts.find((p) => p.at === at)?.cells.bandGhz;
    expect(band("near.antennas.1")).toBe("15");
    expect(band("far.radios.1")).toBe("23");
    expect(band("near.antennas.2")).toBe("15");
  });

  test("equips its far end as the near one, with the other half, and leaves there what hangs on the site", () => {
    let draft = withPartCell(emptyHop(), "near.radios.1", "half", "high");
    draft = withPartCell(draft, "near.antennas.1", "mountHeightM", "42");
    draft = withPartCell(draft, "near.antennas.1", "diameterM", "0.6");
    draft = withPartCell(draft, "far.antennas.1", "mountHeightM", "31");
    draft = withPartCell(draft, "far.radios.1", "verticalM", "35");
    draft = withPartCell(withAnother(draft, "radios", "near"), "near.radios.2", "half", "low");
    draft = withAnother(draft, "antennas", "far");
    draft = equippedAsNear(draft);
    const far = draft.parts.filter((p) => p.side === "far");
    expect(far.map((p) => p.at)).toEqual(["far.ends.0", "far.antennas.1", "far.radios.1", "far.radios.2"]);
    expect(far.map((p) => p.cells)).toMatchObject([
      { side: "far" },
      { side: "far", label: "A1", diameterM: "0.6", mountHeightM: "31" },
      { side: "far", label: "R1", antennaLabel: "A1", half: "low", verticalM: "35" },
      { side: "far", label: "R2", antennaLabel: "A1", half: "high" },
    ]);
    expect(draft.parts.find((p) => p.at === "near.radios.1")?.cells.half).toBe("high");
    expect(equippedAsNear(draft).parts.filter((p) => p.side === "far")).toEqual(far);
  });

  test("names what is added freely, also after something was taken out", () => {
    let draft = withAnother(withAnother(emptyHop(), "radios", "near"), "radios", "near");
    draft = without(draft, "near.radios.2");
    draft = withAnother(draft, "radios", "near");
    const radios = draft.parts.filter((p) => p.kind === "radios" && p.side === "near");
    expect(radios.map((p) => p.cells.label)).toEqual(["R1", "R3", "R4"]);
    expect(new Set(radios.map((p) => p.at)).size).toBe(3);
    // One antenna: there is nothing to choose.
    expect(radios.map((p) => p.cells.antennaLabel)).toEqual(["A1", "A1", "A1"]);
  });

  test("sends no row for an end that has neither a site nor anything typed", () => {
    const sent = partsToSend(withPartCell(emptyHop("VM101"), "far.ends.0", "worstSupplyV", " "));
    expect(sent.filter((p) => p.kind === "ends").map((p) => p.at)).toEqual(["near.ends.0"]);
    expect(sent[0]?.cells).toEqual({ side: "near" });
    const typed = partsToSend(withPartCell(emptyHop(), "far.ends.0", "worstSupplyV", "42"));
    expect(typed.filter((p) => p.kind === "ends").map((p) => p.at)).toEqual(["far.ends.0"]);
  });
});

describe("a hop that stands", () => {
  test("keeps the band of its rows when its own changes: each was entered for itself", () => {
    const draft = filledHop(
      { bandGhz: "18" },
      { ...NO_ROWS, antennas: [{ side: "near", label: "A1", bandGhz: "18" }] },
    );
    const changed = withHopCell(draft, "bandGhz", "23");
    expect(changed.parts.find((p) => p.kind === "antennas")).toMatchObject({
      isStanding: true,
      cells: { bandGhz: "18" },
    });
  });

  test("has the fields of an end also where no row of it stands", () => {
    const draft = filledHop({}, { ...NO_ROWS, ends: [{ side: "near", worstSupplyV: "42" }] });
    expect(draft.parts.map((p) => [p.at, p.isStanding])).toEqual([
      ["near.ends.1", true],
      ["far.ends.0", false],
    ]);
  });
});

describe("what stands in a form", () => {
  const start = filledHop(
    { code: "H", promisedOn: "2026-12-01" },
    { ...NO_ROWS, ends: [{ side: "near", entryHeightM: "3" }], radios: [{ side: "near", label: "R1" }] },
  );

  test("is sent as taken out when it is marked so, and as before when it is kept after all", () => {
    const marked = withOut(start, "near.radios.1", true);
    expect(partsOut(marked)).toEqual([
      { kind: "radios", at: "near.radios.1", cells: { side: "near", label: "R1" } },
    ]);
    expect(partsToSend(marked).some((p) => p.kind === "radios")).toBe(false);
    const kept = withOut(marked, "near.radios.1", false);
    expect(partsOut(kept)).toEqual([]);
    expect(partsToSend(kept).some((p) => p.kind === "radios")).toBe(true);
  });

  test("names the values that saving would empty", () => {
    expect(emptied(start, start)).toEqual([]);
    const draft = withPartCell(withHopCell(start, "promisedOn", " "), "near.ends.0", "entryHeightM", "");
    const now = draft.parts.some((p) => p.at === "near.ends.1")
      ? withPartCell(draft, "near.ends.1", "entryHeightM", "")
      : draft;
    expect(emptied(start, now).map(({ key, was }) => [key, was])).toEqual([
      ["promisedOn", "2026-12-01"],
      ["entryHeightM", "3"],
    ]);
  });
});
