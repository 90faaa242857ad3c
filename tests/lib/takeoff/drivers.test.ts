import { describe, expect, it } from "vitest";
import { SCHEMES } from "@/lib/site";
import { DEFAULT_POLICY, DRIVERS, type Driver, type TakeoffRule, takeOff } from "@/lib/takeoff";
import { makeHop, makeTakeoffContext } from "../../helpers/hop";

/** One rule per driver that counts it as it is. */
const PROBES: readonly TakeoffRule[] = (Object.keys(DRIVERS) as Driver[]).map((driver) => ({
  id: driver,
  name: driver,
  category: "consumable",
  itemCode: "WIPE",
  driver,
  factor: 1,
  offset: 0,
  allowance: 0,
  step: 1,
  level: "order",
  when: {},
  source: "test",
  enabled: true,
}));
/** The tape drivers need rules that name the tapes, and so does each probe of them. */
const TAPES: Partial<Record<Driver, string>> = {
  "metres of self-amalgamating tape": "TAPE-SA-38",
  "metres of PVC tape": "TAPE-PVC-19",
};
const rules = PROBES.map((probe) => ({ ...probe, itemCode: TAPES[probe.driver] ?? "WIPE" }));

describe("every driver", () => {
  it("is counted on some end: the list holds nothing that no end can have", () => {
    const context = makeTakeoffContext({ rules });
    const hangers = makeTakeoffContext({ rules, policy: { ...DEFAULT_POLICY, tiesOrHangers: "hangers" } });
    const bare = makeTakeoffContext({
      rules,
      catalogue: context.catalogue.map((item) => ({
        ...item,
        attributes: { ...item.attributes, polarisationPartInBox: false },
      })),
    });
    const remote = makeHop();
    const seen = new Set(
      [
        ...SCHEMES.map((scheme) => takeOff(makeHop({ scheme, diameterM: 1.2 }), context)),
        takeOff(makeHop({ diameterM: 2.4 }), context),
        takeOff(makeHop(), hangers),
        takeOff(makeHop({ scheme: "1+1 hot standby", polarisation: "H" }), bare),
        takeOff(
          {
            ...remote,
            near: { ...remote.near, odus: remote.near.odus.map((o) => ({ ...o, mounting: "remote" })) },
          },
          context,
        ),
      ].flatMap(({ near, far }) => [...near.lines, ...far.lines].map((line) => line.ruleId)),
    );
    expect(Object.keys(DRIVERS).filter((driver) => !seen.has(driver))).toEqual([]);
  });

  it("counts a hop once, on its near end", () => {
    const { near, far } = takeOff(makeHop(), makeTakeoffContext({ rules }));
    const hops = [near, far].map((end) => end.lines.filter((line) => line.ruleId === "hops").length);
    expect(hops).toEqual([1, 0]);
  });
});
