import { describe, expect, it } from "vitest";
import type { Scheme } from "@/lib/site";
import { DEFAULT_POLICY } from "@/lib/takeoff";
import { checkEnd, mountHeightOf } from "@/lib/takeoff/checks";
import { type EndOptions, makeAntenna, makeEnd, makeOdu, makeRoute, makeSite } from "../../helpers/hop";

const check = (
  options: EndOptions & { scheme?: Scheme } = {},
  site: Parameters<typeof checkEnd>[2] = makeSite(),
  policy = {},
) =>
  checkEnd({ scheme: options.scheme ?? "1+0", bandGhz: 15 }, makeEnd(options), site, {
    ...DEFAULT_POLICY,
    ...policy,
  });
const bad = (...args: Parameters<typeof check>) =>
  check(...args)
    .filter((c) => c.state !== "pass")
    .map((c) => `${c.state} ${c.rule} ${c.where}`);

describe("an end in order", () => {
  it.each(["1+0", "1+1 hot standby", "1+1 space diversity", "2+0 dual-polar", "2+0 two channels"] as const)(
    "%s raises nothing",
    (scheme) => {
      expect(bad({ scheme })).toEqual([]);
    },
  );
});

describe("the site", () => {
  it("must be known", () => {
    const end = checkEnd({ scheme: "1+0", bandGhz: 15 }, makeEnd(), undefined, DEFAULT_POLICY);
    expect(end).toContainEqual(expect.objectContaining({ rule: "unknown-site", state: "fail" }));
  });

  it("needs an earthing bar; not surveyed is a warning", () => {
    expect(bad({}, makeSite({ hasEarthingBar: false }))).toEqual(["fail earthing-bar near"]);
    expect(bad({}, makeSite({ hasEarthingBar: undefined }))).toEqual(["warn earthing-bar near"]);
  });
});

describe("heights", () => {
  it("fail a mount above the structure, with figure and limit", () => {
    const checks = check({ mountHeightM: 61 });
    expect(checks).toContainEqual(
      expect.objectContaining({
        rule: "mount-above-structure",
        state: "fail",
        where: "A1",
        figure: 61,
        limit: 60,
        unit: "m",
      }),
    );
    expect(bad({ mountHeightM: 60 })).toEqual([]);
  });

  it("fail a vertical shorter than mount height less entry height", () => {
    const odus = [makeOdu({ route: makeRoute(25) })];
    expect(bad({ odus })).toEqual(["fail vertical-short R1"]); // 30 m to 4 m (assumed) needs 26 m
    expect(bad({ odus, entryHeightM: 5 })).toEqual([]);
    const given = check({ odus: [makeOdu({ route: makeRoute(26) })], entryHeightM: 2 });
    expect(given).toContainEqual(
      expect.objectContaining({ rule: "vertical-short", figure: 26, limit: 28, unit: "m" }),
    );
  });

  it("hold a roof's run against its entry height only where that is given", () => {
    const roof = makeSite({ structure: "roof" });
    const odus = [makeOdu({ route: makeRoute(10) })];
    expect(bad({ odus }, roof)).toEqual([]);
    expect(bad({ odus, entryHeightM: 15 }, roof)).toEqual(["fail vertical-short R1"]);
  });

  it("fail a run without an outdoor part", () => {
    expect(bad({ odus: [makeOdu({ route: [] })] })).toEqual(["fail no-route R1"]);
  });
});

describe("the scheme", () => {
  it("fails when antennas or ODUs are more or fewer than it has", () => {
    const two = [makeOdu(), makeOdu({ label: "R2", role: "standby" })];
    expect(bad({ odus: two })).toEqual(["fail scheme-odus near"]);
    expect(bad({ antennas: [makeAntenna(), makeAntenna({ label: "A2" })] })).toEqual([
      "fail scheme-antennas near",
    ]);
  });

  it("fails a dual-polar end on one polarisation, and a hot standby on two", () => {
    const odus = (second: "V" | "H") => [
      makeOdu(),
      makeOdu({ label: "R2", role: "standby", polarisation: second }),
    ];
    const antennas = [makeAntenna({ polarisations: ["V", "H"] })];
    expect(bad({ scheme: "2+0 dual-polar", antennas, odus: odus("V") })).toEqual([
      "fail scheme-polarisations near",
    ]);
    expect(bad({ scheme: "1+1 hot standby", antennas, odus: odus("H") })).toEqual([
      "fail scheme-polarisations near",
    ]);
  });

  it("fails a diversity end whose ODUs feed one antenna, warns on an unusual height difference", () => {
    const diversity = makeEnd({ scheme: "1+1 space diversity" });
    const oneFed = diversity.odus.map((o) => ({ ...o, antennaLabel: "A1" }));
    expect(bad({ scheme: "1+1 space diversity", odus: oneFed })).toContain("fail scheme-feeds near");
    const close = diversity.antennas.map((a, i) => ({ ...a, mountHeightM: 30 - 3 * i }));
    const checks = check({ scheme: "1+1 space diversity", antennas: close });
    expect(checks).toContainEqual(
      expect.objectContaining({ rule: "diversity-spacing", state: "warn", figure: 3, limit: 5, unit: "m" }),
    );
  });
});

describe("radios", () => {
  it("fail on a wrong band, an unknown antenna, a polarisation the antenna does not have, mixed halves", () => {
    expect(bad({ odus: [makeOdu({ bandGhz: 18 })] })).toEqual(["fail hop-band R1"]);
    expect(bad({ antennas: [makeAntenna({ bandGhz: 18 })] })).toEqual(["fail hop-band A1"]);
    expect(bad({ odus: [makeOdu({ antennaLabel: "A9" })] })).toEqual(["fail unknown-antenna R1"]);
    expect(bad({ odus: [makeOdu({ polarisation: "H" })] })).toEqual(["fail odu-polarisation R1"]);
    const mixed = makeEnd({ scheme: "1+1 hot standby" }).odus.map((o, i) => ({
      ...o,
      half: i ? ("low" as const) : ("high" as const),
    }));
    expect(bad({ scheme: "1+1 hot standby", odus: mixed })).toEqual(["fail end-halves near"]);
  });

  it("fail on labels and roles used twice", () => {
    const odus = [makeOdu(), makeOdu()];
    expect(bad({ scheme: "1+1 hot standby", odus })).toEqual(["fail duplicate R1", "fail duplicate main"]);
  });
});

describe("mountHeightOf", () => {
  it("falls back to the highest antenna where the label is unknown", () => {
    const end = makeEnd({ scheme: "1+1 space diversity" });
    expect(mountHeightOf(end, "A2")).toBe(22);
    expect(mountHeightOf(end, "A9")).toBe(30);
    expect(mountHeightOf({ ...end, antennas: [] }, "A1")).toBe(0);
  });
});

describe("every check", () => {
  it("says what is wrong and what to do", () => {
    const checks = check(
      { mountHeightM: 90, odus: [makeOdu({ antennaLabel: "A9", route: [] })] },
      makeSite({ hasEarthingBar: false }),
    );
    expect(checks.length).toBeGreaterThan(3);
    for (const c of checks) {
      expect(c.message).not.toBe("");
      expect(c.remedy).not.toBe("");
    }
  });
});
