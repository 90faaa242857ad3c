import { describe, expect, it } from "vitest";
import {
  DEFAULT_ACCEPTANCE_LIMITS,
  judgeAcceptance,
  type Reading,
  readingsAsked,
  remediesFor,
} from "@/lib/acceptance";
import type { Hop, Scheme } from "@/lib/site";
import { calendarDate } from "@/lib/time";
import { makeHop, makeOdu } from "../../helpers/hop";

const on = calendarDate("2026-03-02");

const hopOf = (scheme: Scheme = "1+0", targetLevelDbm: number | undefined = -40): Hop => {
  const hop = makeHop({ scheme });
  const withTarget = (end: Hop["near"]) => ({
    ...end,
    odus: end.odus.map((o) => ({ ...o, targetLevelDbm })),
  });
  return { ...hop, near: withTarget(hop.near), far: withTarget(hop.far) };
};

/** Everything inside its limits. */
const passing = (hop: Hop): Reading[] =>
  readingsAsked(hop).map((a): Reading => {
    const base = { askedId: a.id, takenOn: on };
    if (a.form === "passed") return { ...base, passed: true };
    const value = { "receive level": -41, "cross-polar": 30, "earth resistance": 4 }[a.kind as string] ?? 0;
    return { ...base, value };
  });

const judge = (hop: Hop, readings: readonly Reading[]) =>
  judgeAcceptance(hop, readings, DEFAULT_ACCEPTANCE_LIMITS);

describe("readingsAsked", () => {
  it("asks each scheme for its own readings", () => {
    const kinds = (scheme: Scheme) =>
      readingsAsked(hopOf(scheme))
        .filter((a) => a.side === "near")
        .map((a) => `${a.kind}${a.oduLabel ? ` ${a.oduLabel}` : ""}`);
    expect(kinds("1+0")).toEqual(["receive level R1", "earth resistance", "photos"]);
    expect(kinds("1+1 hot standby")).toEqual([
      "receive level R1",
      "receive level R2",
      "switch-over",
      "earth resistance",
      "photos",
    ]);
    expect(kinds("2+0 dual-polar")).toContain("cross-polar");
    expect(kinds("2+0 two channels")).not.toContain("cross-polar");
    expect(readingsAsked(hopOf()).filter((a) => a.side === undefined)).toHaveLength(1);
  });
});

// Limits from memory, common practice: level within 3 dB, cross-polar at least 25 dB, earth at most 10 ohm.
describe("judgeAcceptance", () => {
  it("accepts a hop on the day of its last reading when all of them passed", () => {
    const hop = hopOf("1+1 hot standby");
    const readings = passing(hop).map((r) =>
      r.askedId === "error run" ? { ...r, takenOn: calendarDate("2026-03-04") } : r,
    );
    expect(judge(hop, readings)).toMatchObject({ state: "accepted", acceptedOn: "2026-03-04" });
    expect(judge(hop, readings.slice(1)).state).toBe("open");
  });

  it.each([
    [-43, "passed"],
    [-43.1, "failed"],
    [-37, "passed"],
    [-36.9, "failed"],
  ])("reads a level of %d dBm against -40 dBm as %s", (value, state) => {
    const hop = hopOf();
    const level = judge(hop, [{ askedId: "near/receive level/R1", value, takenOn: on }]).readings[0]!;
    expect(level.state).toBe(state);
    expect(level.words).toContain("the target of -40 dBm (3 dB allowed)");
  });

  it("keeps 3 dB to a tenth, whatever the bits of the difference are", () => {
    const hop = hopOf("1+0", -30.2);
    const level = judge(hop, [{ askedId: "near/receive level/R1", value: -33.2, takenOn: on }]).readings[0]!;
    expect(level).toMatchObject({ state: "passed" });
    expect(-30.2 - -33.2).toBeGreaterThan(3); // what it guards against
  });

  it("holds a level against the target given with it only where the design has none", () => {
    const bare = makeHop();
    const read = { askedId: "near/receive level/R1", value: -50, takenOn: on };
    expect(judge(bare, [read]).readings[0]).toMatchObject({
      state: "open",
      words: "-50 dBm, no target from the link budget yet",
    });
    expect(judge(bare, [{ ...read, targetLevelDbm: -51 }]).readings[0]!.state).toBe("passed");
    expect(judge(hopOf(), [{ ...read, targetLevelDbm: -51 }]).readings[0]!.state).toBe("failed");
  });

  it("takes limits as they are set, the edge included", () => {
    const hop = hopOf("2+0 dual-polar");
    const state = (askedId: string, value: number) =>
      judge(hop, [{ askedId, value, takenOn: on }]).readings.find((r) => r.asked.id === askedId)!.state;
    expect(state("near/cross-polar", 25)).toBe("passed");
    expect(state("near/cross-polar", 24.9)).toBe("failed");
    expect(state("far/earth resistance", 10)).toBe("passed");
    expect(state("far/earth resistance", 10.1)).toBe("failed");
    expect(state("error run", 0)).toBe("passed");
    expect(state("error run", 1)).toBe("failed");
  });

  it("lets the later reading count, and ignores what the hop does not ask for", () => {
    const hop = hopOf();
    const failed = { askedId: "near/earth resistance", value: 40, takenOn: on };
    const mended = { ...failed, value: 6 };
    expect(judge(hop, [...passing(hop), failed]).state).toBe("failed");
    expect(judge(hop, [...passing(hop), failed, mended]).state).toBe("accepted");
    expect(
      judge(hop, [...passing(hop), { askedId: "near/switch-over", passed: false, takenOn: on }]).state,
    ).toBe("accepted");
  });

  it("leaves missing photos open but fails a switch-over that did not happen", () => {
    const hop = hopOf("1+1 hot standby");
    const without = (id: string) => [...passing(hop), { askedId: id, passed: false, takenOn: on }];
    expect(judge(hop, without("near/photos")).state).toBe("open");
    expect(judge(hop, without("near/switch-over")).state).toBe("failed");
  });
});

describe("remediesFor", () => {
  const failing = (hop: Hop, ...readings: Omit<Reading, "takenOn">[]) =>
    judge(hop, [...passing(hop), ...readings.map((r) => ({ ...r, takenOn: on }))]).readings;

  it("aligns both ends again at once, or the end that is off where ends are aligned by themselves", () => {
    const readings = failing(
      hopOf(),
      { askedId: "near/receive level/R1", value: -50 },
      { askedId: "far/receive level/R1", value: -49 },
    );
    const joint = remediesFor(readings, true);
    expect(joint.map((r) => [r.remedy, r.sides])).toEqual([["align again", ["near", "far"]]]);
    expect(joint[0]!.cause).toContain("near end, receive level R1");
    expect(joint[0]!.cause).toContain("far end, receive level R1");
    expect(remediesFor(readings, false).map((r) => r.sides)).toEqual([["near"], ["far"]]);
  });

  it("sends earth, switch-over and errors each to their own work", () => {
    const hop = hopOf("1+1 hot standby");
    const readings = failing(
      hop,
      { askedId: "near/earth resistance", value: 30 },
      { askedId: "far/switch-over", passed: false },
      { askedId: "error run", value: 12 },
    );
    expect(remediesFor(readings, true).map((r) => [r.remedy, r.sides.join()])).toEqual([
      ["earthing", "near"],
      ["indoor unit", "far"],
      ["connections", "near"],
      ["connections", "far"],
    ]);
  });

  it("asks for nothing when nothing failed", () => {
    const hop = hopOf();
    expect(remediesFor(judge(hop, passing(hop)).readings, true)).toEqual([]);
    expect(remediesFor(judge(hop, []).readings, true)).toEqual([]);
  });
});

it("keeps one reading for each ODU apart by its label", () => {
  const hop = makeHop({ near: { odus: [makeOdu({ label: "R7", targetLevelDbm: -38 })] } });
  expect(readingsAsked(hop)[0]).toMatchObject({
    id: "near/receive level/R7",
    oduLabel: "R7",
    targetLevelDbm: -38,
  });
});
