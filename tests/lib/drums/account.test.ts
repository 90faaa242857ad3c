import { describe, expect, it } from "vitest";
import { accountOf, cutDrums } from "@/lib/drums";
import { drum, run, TODAY } from "./make";

const [PLAN] = cutDrums(
  [run("a", 4_000)],
  [drum("A", 9_000)],
  [],
  { sawAllowanceCm: 20, minUsefulCm: 0 },
  {
    today: TODAY,
  },
);

describe("accountOf", () => {
  it("adds up to what was received", () => {
    expect(accountOf(PLAN!)).toEqual({
      receivedCm: 50_000,
      usedBeforeCm: 41_000,
      cutCm: 4_000,
      allowanceCm: 20,
      remnantCm: 4_980,
      scrapCm: 0,
      untouchedCm: 0,
    });
  });

  it("throws when a centimetre is missing on a drum, naming it", () => {
    const plan = { ...PLAN!, drums: PLAN!.drums.map((d) => ({ ...d, leftCm: d.leftCm - 1 })) };
    expect(() => accountOf(plan)).toThrow("drum D-A: received 50000 cm, accounted for 49999 cm");
  });

  it("throws when a total of the plan is not that of its drums, or a length is not whole", () => {
    expect(() => accountOf({ ...PLAN!, cutCm: 1 })).toThrow(/cutCm of the plan is 1, of its drums 4000/);
    const half = PLAN!.drums.map((d) => ({ ...d, leftCm: d.leftCm + 0.5 }));
    expect(() => accountOf({ ...PLAN!, drums: half })).toThrow(/not a whole number/);
  });
});
