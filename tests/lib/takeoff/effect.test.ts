import { describe, expect, it } from "vitest";
import { DEFAULT_RULES, effectOfRules, rollUp, type TakeoffRule, takeOff, withRules } from "@/lib/takeoff";
import { makeHop, makeSite, makeTakeoffContext } from "../../helpers/hop";

const sites = Array.from({ length: 40 }, (_, i) =>
  makeSite({ id: `S${i}`, position: { latDeg: 50 + i / 10, lonDeg: 10 } }),
);
const context = makeTakeoffContext({}, sites);
const hops = Array.from({ length: 20 }, (_, i) =>
  makeHop({ id: `H${i}`, near: { siteId: `S${2 * i}` }, far: { siteId: `S${2 * i + 1}` } }),
);
const changed = (id: string, over: Partial<TakeoffRule>): TakeoffRule => ({
  ...DEFAULT_RULES.find((r) => r.id === id)!,
  ...over,
});

describe("withRules", () => {
  it("puts changed rules in place and new ones at the end", () => {
    const rules = withRules(DEFAULT_RULES, [
      changed("grips", { factor: 2 }),
      changed("grips", { id: "new" }),
    ]);
    expect(rules).toHaveLength(DEFAULT_RULES.length + 1);
    expect(rules.findIndex((r) => r.id === "grips")).toBe(DEFAULT_RULES.findIndex((r) => r.id === "grips"));
    expect(rules.find((r) => r.id === "grips")?.factor).toBe(2);
    expect(rules.at(-1)?.id).toBe("new");
  });
});

describe("effectOfRules", () => {
  it("shows the programme's difference in items and money", () => {
    const effect = effectOfRules(hops, context, [
      changed("connectors", { allowanceFrom: undefined, allowance: 0.1 }),
    ]);
    expect(effect).toEqual({
      lines: [
        {
          itemCode: "CON-06",
          name: "IF connector for 6 mm",
          unit: "piece",
          owner: "contractor",
          before: 84,
          after: 88,
          difference: 4,
          differenceMinor: 4600,
          currency: "EUR",
        },
      ],
      newFails: [],
      solvedFails: [],
    });
  });

  it("shows what a rule taken out no longer asks for", () => {
    const effect = effectOfRules(hops, context, [changed("grips", { enabled: false })]);
    expect(effect.lines).toMatchObject([{ itemCode: "GRP-06", before: 40, after: 0, difference: -40 }]);
  });

  it("puts the largest change of money first", () => {
    const effect = effectOfRules(hops, context, [
      changed("cable-labels", { factor: 3 }),
      changed("earthing-kits", { factor: 2 }),
    ]);
    expect(effect.lines.map((l) => l.itemCode)).toEqual(["EK-06", "LBL-CABLE"]);
  });

  it("shows the checks that the change would fail, and those that it would solve", () => {
    const gone = changed("grips", { itemCode: "GONE" });
    const effect = effectOfRules(hops.slice(0, 1), context, [gone]);
    expect(effect.newFails.map((f) => [f.endId, f.rule])).toEqual([
      ["H0/near", "no-catalogue-item"],
      ["H0/far", "no-catalogue-item"],
    ]);
    expect(effect.lines.map((l) => [l.itemCode, l.difference, l.differenceMinor])).toEqual([
      ["GRP-06", -2, -4800],
      ["MISSING:hoisting grip", 2, undefined],
    ]);
    const broken = { ...context, rules: withRules(context.rules, [gone]) };
    expect(effectOfRules(hops.slice(0, 1), broken, [changed("grips", {})]).solvedFails).toHaveLength(2);
  });

  it("is nothing when nothing changes, and agrees with taking off anew", () => {
    expect(effectOfRules(hops, context, []).lines).toEqual([]);
    const rule = changed("ties-outdoor", { factor: 1.5 });
    const rules = withRules(context.rules, [rule]);
    const need = (ruled: typeof context) =>
      rollUp(
        hops.map((hop) => takeOff(hop, ruled)),
        ruled.rules,
      ).lines.find((l) => l.itemCode === "TIE-UV")!.quantity;
    const [line] = effectOfRules(hops, context, [rule]).lines;
    expect(line?.difference).toBe(need({ ...context, rules }) - need(context));
  });

  it("compares policies too, and ends when whoever counts the hops throws", () => {
    const policy = { ...context.policy, connectorLoss: 0 };
    const seen: number[] = [];
    const effect = effectOfRules(hops, context, [], { policy, onHop: (done) => seen.push(done) });
    expect(effect.lines.length).toBeGreaterThan(0);
    expect(effect.lines.every((l) => l.difference < 0)).toBe(true);
    expect(seen).toEqual(hops.map((_, i) => i));
    const stop = () => {
      throw new RangeError("stopped");
    };
    expect(() => effectOfRules(hops, context, [], { onHop: stop })).toThrow("stopped");
  });
});
