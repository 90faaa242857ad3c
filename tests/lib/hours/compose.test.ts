import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { composeTasks, DEFAULT_NORMS, type EndTask, type EndWork, totalWorkMin } from "@/lib/hours";
import { precedenceOrder } from "../../../lib/hours/cpm";
import { endWork, standbyWork } from "./work";

const compose = (work: EndWork): readonly EndTask[] => composeTasks(work, DEFAULT_NORMS);
const ids = (work: EndWork): string[] => compose(work).map((t) => t.id);
/** Ids without the suffix of a repeat or of a piece. */
const parts = (work: EndWork): Set<string> =>
  new Set(ids(work).map((id) => id.replace(/~\d+$/, "").replace(/-\d+$/, "")));

describe("composeTasks", () => {
  it("assembles antenna and ODU up to 0.6 m on the ground and hoists them as one", () => {
    const small = parts(endWork({ largestDiameterM: 0.6 }));
    expect(small).toContain("assemble-radio");
    expect(small).not.toContain("hoist-radios");
    expect(small).not.toContain("mount-odu");
    const large = parts(endWork({ largestDiameterM: 0.9 }));
    expect(large).not.toContain("assemble-radio");
    expect(large).toContain("hoist-radios");
    expect(large).toContain("mount-odu");
  });

  it("takes a winch and a rigger from 50 kg on", () => {
    const hand = compose(endWork({ heaviestLiftKg: 49.9 }));
    expect(hand.some((t) => t.people.rigger)).toBe(false);
    const winch = compose(endWork({ heaviestLiftKg: 50 }));
    expect(winch.find((t) => t.id === "winch-antenna")?.people).toEqual({ climber: 2, rigger: 1, ground: 1 });
    expect(winch.map((t) => t.id)).toContain("winch");
    expect(winch.map((t) => t.id)).not.toContain("hoist-antenna");
  });

  it("mounts ODUs on the coupler, named main and standby, for hot standby with a large antenna", () => {
    const names = compose(standbyWork({ largestDiameterM: 1.2, heaviestLiftKg: 40 })).map((t) => t.name);
    expect(names).toContain("Mount hybrid coupler");
    expect(names).toContain("Mount ODU on coupler (main)");
    expect(names).toContain("Mount ODU on coupler (standby)");
    expect(names).not.toContain("Mount ODU on the antenna (main)");
  });

  it("mounts two antennas, each with its ODU, for space diversity", () => {
    const list = ids(
      endWork({
        scheme: "1+1 space diversity",
        largestDiameterM: 1.2,
        drivers: { antennaCount: 2, oduCount: 2, runCount: 2, oduLeadCount: 2 },
      }),
    );
    for (const id of ["mount-antenna-1", "mount-antenna-2", "mount-odu-1", "mount-odu-2"])
      expect(list).toContain(id);
  });

  it("joins the waveguide of an ODU mounted beside its antenna, and never assembles that on the ground", () => {
    const remote = parts(endWork({ mounting: "remote" }));
    expect(remote).toContain("mount-odu-remote");
    expect(remote).not.toContain("assemble-radio");
  });

  it("fits the orthomode coupling of a dual-polar end", () => {
    const work = endWork({
      scheme: "2+0 dual-polar",
      largestDiameterM: 1.2,
      drivers: { orthomodeCount: 1, oduCount: 2, runCount: 2 },
    });
    expect(parts(work)).toContain("mount-orthomode");
  });

  it("changes the polarisation part only where the design asks for it", () => {
    expect(parts(standbyWork())).not.toContain("change-polarisation");
    expect(parts(standbyWork({ drivers: { polarisationChanges: 1 } }))).toContain("change-polarisation");
  });

  it("adds an extra task of the design that no row names, and does not add a named one twice", () => {
    const work = standbyWork({
      extraTasks: ["Change polarisation part", "Bridge the ice guard"],
      drivers: { polarisationChanges: 1 },
    });
    const tasks = compose(work);
    expect(tasks.filter((t) => t.name === "Bridge the ice guard")).toHaveLength(1);
    expect(tasks.filter((t) => t.name === "Change polarisation part")).toHaveLength(1);
  });

  it("covers every part from the gate to the line test", () => {
    const covered = parts(standbyWork({ largestDiameterM: 1.2, drivers: { polarisationChanges: 1 } }));
    for (const part of [
      ...["induction", "briefing", "rescue-kit", "climb", "descent", "hoist-antenna", "assemble-antenna"],
      ...["mount-antenna", "mount-coupler", "change-polarisation", "mount-odu-on-coupler", "earth-odu"],
      ...["prepare-odu-connector", "hoist-cable", "route-and-enter", "prepare-idu-connector", "test-run"],
      ...[
        "fix-cable",
        "earth-run",
        "connect",
        "weatherproof",
        "label",
        "seal-entry",
        "idu",
        "line-test",
        "clean-up",
      ],
    ]) {
      expect(covered, part).toContain(part);
    }
  });

  it("connects only after the short and open test, and weatherproofs in the same dry spell", () => {
    const tasks = compose(standbyWork());
    for (const n of [1, 2]) {
      const connect = tasks.find((t) => t.id === `connect-${n}`)!;
      const weatherproof = tasks.find((t) => t.id === `weatherproof-${n}`)!;
      expect(connect.after).toContain(`test-run-${n}`);
      expect(weatherproof.after).toContain(`connect-${n}`);
      expect(weatherproof.spell).toBe(connect.spell);
      expect(weatherproof.ascent).toBe(connect.ascent);
    }
  });

  it("gives a list without cycles whose every `after` is in it, in precedence order", () => {
    for (const work of [
      endWork(),
      standbyWork(),
      standbyWork({ largestDiameterM: 2.4, heaviestLiftKg: 160 }),
    ]) {
      const tasks = compose(work);
      const index = new Map(tasks.map((t, i) => [t.id, i]));
      expect(index.size).toBe(tasks.length);
      const after = tasks.map((t) => t.after.map((id) => index.get(id)!));
      expect(after.flat()).not.toContain(undefined);
      expect(precedenceOrder(after)).toHaveLength(tasks.length);
      for (const [i, list] of after.entries()) for (const p of list) expect(p).toBeLessThan(i);
    }
  });

  it("says of every figure where it comes from", () => {
    for (const t of compose(standbyWork())) expect(t.source).toMatch(/from memory/);
  });

  it("never asks for less work when a driver grows", () => {
    const drivers = [
      ...(["maxMountHeightM", "antennaAreaM2", "antennaMassKg", "polarisationChanges", "outdoorM"] as const),
      ...(["indoorM", "earthingPointCount", "oduLeadCount", "wrapCount", "tieCount"] as const),
      ...(["entryCount", "bridgeM", "cableM", "connectorCount"] as const),
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...drivers),
        fc.double({ min: 0, max: 120, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.boolean(),
        (driver, from, more, isStandby) => {
          const make = isStandby ? standbyWork : endWork;
          const less = totalWorkMin(compose(make({ drivers: { [driver]: from } })));
          const grown = totalWorkMin(compose(make({ drivers: { [driver]: from + more } })));
          expect(grown, `${driver} ${from} + ${more}`).toBeGreaterThanOrEqual(less - 1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("refuses a negative count", () => {
    expect(() => compose(endWork({ drivers: { bridgeM: -1 } }))).toThrow(/bridgeM/);
  });
});
