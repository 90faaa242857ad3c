import { describe, expect, it } from "vitest";
import { MATCHED_ON, parseCatalogueItem, parseGate, parseHop, parseSite, SCHEMES } from "@/lib/site";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { makeHop, makeSite } from "../../helpers/hop";

interface Refused {
  path: string;
  rule: string;
  message: string;
  remedy: string;
}
const problems = (result: { ok: boolean; problems?: readonly Refused[] }) => result.problems ?? [];
const found = (result: Parameters<typeof problems>[0]) =>
  problems(result)
    .map((p) => `${p.path} ${p.rule}`)
    .sort();
const json = (value: unknown) => JSON.parse(JSON.stringify(value));

describe("parseSite", () => {
  it("reads a site back as it is, with and without coordinates", () => {
    expect(parseSite(json(makeSite()))).toEqual({ ok: true, value: makeSite() });
    expect(parseSite(json(makeSite({ position: undefined, hasEarthingBar: undefined }))).ok).toBe(true);
  });

  it("reports everything at once", () => {
    const raw = {
      ...makeSite(),
      zone: "Mars/Olympus",
      structure: "tree",
      structureHeightM: 0,
      position: { latDeg: 91, lonDeg: 10 },
      access: { ...makeSite().access, weekdays: [8], fromMin: 600, toMin: 600 },
    };
    expect(found(parseSite(raw))).toEqual([
      "access.toMin access-order",
      "access.weekdays[0] out-of-range",
      "position.latDeg out-of-range",
      "structure not-allowed",
      "structureHeightM out-of-range",
      "zone unknown-zone",
    ]);
  });

  it("says which time zone names it takes", () => {
    const [problem] = problems(parseSite({ ...makeSite(), zone: "Mars/Olympus" }));
    expect(problem?.remedy).toContain("Europe/Berlin");
  });
});

describe("parseHop", () => {
  it("reads a hop of every scheme back as it is", () => {
    for (const scheme of SCHEMES) {
      const hop = makeHop({ scheme });
      expect(parseHop(json(hop))).toEqual({ ok: true, value: hop });
    }
  });

  it("takes a promise date and refuses one that does not exist", () => {
    expect(parseHop({ ...makeHop(), promisedOn: "2026-02-28" }).ok).toBe(true);
    expect(found(parseHop({ ...makeHop(), promisedOn: "2026-02-30" }))).toEqual(["promisedOn not-a-date"]);
  });

  it("reports problems of both ends and of the gates at once", () => {
    const hop = json(makeHop({ scheme: "1+1 hot standby" }));
    hop.near.odus[1].label = "R1";
    hop.near.odus[1].antennaLabel = "A9";
    hop.near.odus[0].bandGhz = "15";
    hop.far.side = "near";
    hop.far.antennas[0].mountHeightM = -1;
    hop.far.odus[0].route[0].lengthM = 0;
    hop.gates = [{ hopId: "OTHER", kind: "survey", owner: "", state: "dated" }];
    expect(found(parseHop(hop))).toEqual([
      "far.antennas[0].mountHeightM out-of-range",
      "far.odus[0].route[0].lengthM out-of-range",
      "far.side wrong-place",
      "gates[0].dueOn gate-needs-date",
      "gates[0].hopId wrong-place",
      "near.odus[0].bandGhz wrong-type",
      "near.odus[1].antennaLabel unknown-antenna",
      "near.odus[1].label duplicate-label",
    ]);
  });

  it("refuses a hop whose ends are one", () => {
    const hop = json(makeHop());
    hop.far.siteId = hop.near.siteId;
    hop.far.id = hop.near.id;
    expect(found(parseHop(hop))).toEqual(["far.id duplicate-end", "far.siteId same-site"]);
  });

  it("does not lose a misspelt field", () => {
    const hop = json(makeHop());
    hop.near.cabelCode = "IFC-06";
    expect(found(parseHop(hop))).toEqual(["near.cabelCode unknown-field"]);
  });

  it("leaves contradictions of the design to the take-off, and an empty route too", () => {
    const hop = json(makeHop());
    hop.far.odus[0].half = "high";
    hop.near.odus[0].route = [];
    expect(parseHop(hop).ok).toBe(true);
  });

  it("copes with any shape", () => {
    for (const raw of [
      undefined,
      null,
      7,
      "hop",
      [],
      { near: 3, far: [], gates: {} },
      { near: { odus: [null] } },
    ]) {
      const result = parseHop(raw);
      expect(result.ok).toBe(false);
      for (const p of problems(result)) expect(p.message && p.remedy).toBeTruthy();
    }
  });
});

describe("parseGate", () => {
  it("reads a gate, and wants a date of a dated one", () => {
    const gate = { hopId: "H1", side: "near", kind: "survey", owner: "site owner", state: "met" };
    expect(parseGate(gate).ok).toBe(true);
    expect(parseGate({ ...gate, state: "dated", dueOn: "2026-03-01" }).ok).toBe(true);
    expect(found(parseGate({ ...gate, state: "dated" }))).toEqual(["dueOn gate-needs-date"]);
    expect(found(parseGate({ ...gate, kind: "luck" }))).toEqual(["kind not-allowed"]);
  });
});

describe("parseCatalogueItem", () => {
  const item = (code: string) => json(DEFAULT_CATALOGUE.find((i) => i.code === code));

  it("refuses a radio without all four parts of its identity", () => {
    const radio = item("ODU-15-420A-HI");
    delete radio.attributes.subBand;
    delete radio.attributes.half;
    expect(found(parseCatalogueItem(radio))).toEqual([
      "attributes.half identity-incomplete",
      "attributes.subBand identity-incomplete",
    ]);
  });

  it("refuses any item without what it is looked up by", () => {
    for (const [category, attributes] of Object.entries(MATCHED_ON)) {
      const raw = { ...item("TIE-UV"), category, attributes: {} };
      expect(found(parseCatalogueItem(raw)), category).toEqual(
        attributes.map((a) => `attributes.${a} identity-incomplete`).sort(),
      );
    }
  });

  it("counts IF cable in metres", () => {
    expect(found(parseCatalogueItem({ ...item("IFC-06"), unit: "roll" }))).toEqual(["unit cable-unit"]);
  });

  it("does not lose a misspelt attribute", () => {
    const cable = item("IFC-06");
    cable.attributes.loopOhmPer100m = 3;
    expect(found(parseCatalogueItem(cable))).toEqual(["attributes.loopOhmPer100m unknown-field"]);
  });

  it("refuses amounts that cannot be", () => {
    const raw = { ...item("TIE-UV"), priceMinor: 1.5, orderMultiple: 0, currency: "EURO" };
    expect(found(parseCatalogueItem(raw)).map((p) => p.split(" ")[0])).toEqual([
      "currency",
      "orderMultiple",
      "priceMinor",
    ]);
  });
});
