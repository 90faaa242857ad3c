import { describe, expect, it } from "vitest";
import {
  backtestUse,
  learnUse,
  proposedAllowances,
  provenAllowances,
  type UsedLine,
  type UseErrors,
  type UseProposal,
} from "@/lib/calibration";
import { Random } from "@/lib/random";

/** Ends whose uses scatter around a known truth; two ends a hop. */
function ends(
  truth: Readonly<Record<string, number>>,
  { hops, scatter, seed = "uses" }: { hops: number; scatter: number; seed?: string },
): UsedLine[] {
  const random = new Random(seed);
  return Array.from({ length: hops }, (_, h) => h).flatMap((h) =>
    [0, 1].flatMap(() =>
      Object.entries(truth).map(([ruleId, allowance]): UsedLine => {
        const counted = 5 + random.below(60);
        const used = counted * (1 + allowance) * Math.exp(scatter * random.normal());
        return { hopCode: `H${h}`, ruleId, counted, used: Math.max(1, Math.round(used)) };
      }),
    ),
  );
}

const TRUTH = { tape: 0.32, ties: 0.05, lugs: 0.02, wipes: 0.25, labels: 0, caps: 0.1 };
const IN_FORCE = new Map(
  Object.entries({ tape: 0.1, ties: 0.05, lugs: 0, wipes: 0.1, labels: 0, caps: 0.1 }),
);

describe("learnUse", () => {
  it("finds a known truth within its interval, and comes near to it with many ends", () => {
    let within = 0;
    let asked = 0;
    for (let run = 0; run < 20; run++) {
      const { effects } = learnUse(ends(TRUTH, { hops: 40, scatter: 0.12, seed: `run ${run}` }), IN_FORCE);
      for (const e of effects) {
        const truth = (1 + TRUTH[e.ruleId as keyof typeof TRUTH]) * Math.exp(0.12 ** 2 / 2) - 1;
        expect(Math.abs(e.allowance - truth), `${e.ruleId} in run ${run}`).toBeLessThan(0.06);
        if (Math.abs(e.allowance - truth) <= 1.2816 * e.sd) within++;
        asked++;
      }
    }
    // Four fifths, give or take: 120 intervals.
    expect(within / asked).toBeGreaterThan(0.7);
    expect(within / asked).toBeLessThan(0.92);
  });

  it("stays at the allowance in force with few ends, and moves on with more", () => {
    const at = (hops: number) =>
      learnUse(ends({ tape: 0.32 }, { hops, scatter: 0.3 }), IN_FORCE).effects.find(
        (e) => e.ruleId === "tape",
      )!;
    const [few, many] = [at(2), at(200)];
    expect(Math.abs(few.allowance - 0.1)).toBeLessThan(Math.abs(few.plain - 0.1));
    expect(few.sd).toBeGreaterThan(many.sd);
    // Posterior with the standing spread of five points: 0.05^2 / (0.05^2 + s^2 / n) of the difference is kept.
    expect(Math.abs(many.allowance - 0.1)).toBeGreaterThan(0.8 * Math.abs(many.plain - 0.1));
  });

  it("follows the worked example", () => {
    // Used over counted 1.3, 1.1, 1.2, 1.4, 1.25, all of 10: mean 0.25 above the count, 0.15 above 10 % in force.
    // s^2 = (0.05^2 + 0.15^2 + 0.05^2 + 0.15^2 + 0) / 4 = 0.0125; k = 0.0125 / 0.05^2 = 5; 5 / (5 + 5) = half is kept.
    const lines = [13, 11, 12, 14, 12.5].map((used, i) => ({
      hopCode: `H${i}`,
      ruleId: "tape",
      counted: 10,
      used,
    }));
    const fitted = learnUse(lines, IN_FORCE);
    const [e] = fitted.effects;
    expect(fitted.isFromData).toBe(false);
    expect(e!.plain).toBeCloseTo(0.25, 12);
    expect(e!.allowance).toBeCloseTo(0.175, 12);
    expect(e!.sd).toBeCloseTo(Math.sqrt(0.0125 / 10), 12);
    const [p] = proposedAllowances(fitted);
    expect(p).toMatchObject({ id: "use: tape", actuals: 5, inForce: 1.1, proposed: 1.175 });
    expect(p!.low).toBeCloseTo(1.175 - 1.2815515655 * 0.035355, 5);
  });

  it("leaves errors of entry out and names them", () => {
    const lines = ends(TRUTH, { hops: 10, scatter: 0.1 });
    const wrong = { hopCode: "H1", ruleId: "tape", counted: 10, used: 400 };
    expect(learnUse([...lines, wrong], IN_FORCE)).toMatchObject({ leftOut: [wrong] });
    expect(learnUse([...lines, wrong], IN_FORCE).effects).toEqual(learnUse(lines, IN_FORCE).effects);
  });
});

describe("proposedAllowances", () => {
  it("speak for the rows that are off, and of the others for one in five at most, by little", () => {
    let loud = 0;
    for (let run = 0; run < 20; run++) {
      const found = proposedAllowances(
        learnUse(ends(TRUTH, { hops: 40, scatter: 0.06, seed: `run ${run}` }), IN_FORCE),
      );
      expect(found.map((p) => p.ruleId)).toEqual(expect.arrayContaining(["tape", "wipes"]));
      for (const p of found.filter((x) => ["labels", "caps", "ties"].includes(x.ruleId))) {
        expect(Math.abs(p.proposed - p.inForce)).toBeLessThan(0.03);
        loud++;
      }
    }
    // Four fifths is the bar: of sixty rows that are right twelve may be spoken of, and most by less than a point.
    expect(loud).toBeLessThanOrEqual(12);
  });

  it("never go below nought, and say nothing of four ends", () => {
    const saved = ends({ caps: -0.2 }, { hops: 30, scatter: 0.05 });
    expect(proposedAllowances(learnUse(saved, IN_FORCE))[0]!.proposed).toBe(1);
    expect(proposedAllowances(learnUse(ends({ tape: 0.9 }, { hops: 2, scatter: 0.01 }), IN_FORCE))).toEqual(
      [],
    );
  });
});

describe("backtestUse", () => {
  it("foretells held-out hops better where the truth differs, and as well where it does not", () => {
    const errors = backtestUse(ends(TRUTH, { hops: 40, scatter: 0.08 }), IN_FORCE);
    const of = (id: string) => errors.find((e) => e.ruleId === id)!;
    expect(of("tape").proposed).toBeLessThan(0.6 * of("tape").inForce);
    expect(Math.abs(of("tape").biasProposed)).toBeLessThan(0.05);
    expect(of("tape").biasInForce).toBeLessThan(-0.1);
    expect(of("labels").proposed).toBeLessThan(of("labels").inForce * 1.1);
  });
});

describe("provenAllowances", () => {
  const proposal = (ruleId: string) => ({ ruleId, id: `use: ${ruleId}`, actuals: 40 }) as UseProposal;
  const errors = (ruleId: string, biasInForce: number, biasProposed: number): UseErrors => ({
    ruleId,
    ends: 40,
    inForce: 0.112,
    proposed: 0.126,
    biasInForce,
    biasProposed,
  });

  it("keep what brings hops held out nearer to their sum, though it is further off line by line", () => {
    const test = [errors("connectors", -0.042, -0.002), errors("caps", 0.01, -0.02)];
    const proven = provenAllowances(["connectors", "caps", "new"].map(proposal), test);
    expect(proven.map((p) => [p.ruleId, p.test.biasProposed])).toEqual([["connectors", -0.002]]);
  });
});
