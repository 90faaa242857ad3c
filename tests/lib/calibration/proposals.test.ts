import { describe, expect, test } from "vitest";
import { accept, calibrate, expectedOf, isRejected, NO_CALIBRATION, proposals } from "@/lib/calibration";
import { Random } from "@/lib/random";
import { madeVisits, visitOf } from "./make";

const visits = madeVisits(new Random("proposals"), 120, 0.12);
const fitted = calibrate({ visits, parts: [] });
const open = proposals(fitted, NO_CALIBRATION);

describe("proposals", () => {
  test("speak of what differs, with the number of actuals behind it", () => {
    expect(open.map((p) => p.id)).toContain("crew: C4");
    expect(open.find((p) => p.id === "crew: C4")).toMatchObject({ actuals: 24, inForce: 1 });
    for (const p of open.filter((x) => x.level === "crew")) {
      expect(p.low!).toBeLessThan(p.proposed);
      expect(p.high!).toBeGreaterThan(p.proposed);
      expect(p.low! > 1 || p.high! < 1).toBe(true);
    }
  });

  test("accepted, they are in force and not proposed again", () => {
    const c = accept(NO_CALIBRATION, open);
    expect(c.crews.C4).toEqual({ factor: open.find((p) => p.id === "crew: C4")!.proposed, actuals: 24 });
    expect(c.spread?.logSd).toBeCloseTo(0.12, 1);
    expect(proposals(fitted, c)).toEqual([]);
  });

  test("one that was rejected comes back with more actuals only", () => {
    const p = open[0]!;
    const rejection = { proposalId: p.id, actuals: p.actuals };
    expect(isRejected(p, [rejection])).toBe(true);
    expect(isRejected({ ...p, actuals: p.actuals + 1 }, [rejection])).toBe(false);
    expect(isRejected(open[1]!, [rejection])).toBe(false);
  });

  test("two actuals are too few, three may do", () => {
    const alike = [0, 1, 2].map((i) =>
      visitOf({ visitId: `H-${i}/near/install`, hopCode: `H-${i}`, workedMin: 660 }),
    );
    expect(proposals(calibrate({ visits: alike.slice(0, 2), parts: [] }), NO_CALIBRATION)).toEqual([]);
    expect(proposals(calibrate({ visits: alike, parts: [] }), NO_CALIBRATION).length).toBeGreaterThan(0);
  });
});

describe("reports that cannot be believed", () => {
  const odd = visitOf({ visitId: "H-9/near/install", hopCode: "H-9", workedMin: 36_000 });
  test("are left out and named", () => {
    const withOdd = calibrate({ visits: [...visits, odd], parts: [] });
    expect(withOdd.leftOut.map((v) => v.visitId)).toEqual(["H-9/near/install"]);
    expect(withOdd.calibration).toEqual(fitted.calibration);
  });
});

test("a visit's estimate is its set-up and the work times the factors", () => {
  const v = visitOf();
  const c = accept(NO_CALIBRATION, [
    { id: "work: install", level: "work", key: "install", actuals: 9, inForce: 1, proposed: 1.1 },
    { id: "crew: C1", level: "crew", key: "C1", actuals: 9, inForce: 1, proposed: 1.2 },
    { id: "x", level: "crew and scheme", key: "C1|1+0", actuals: 9, inForce: 1, proposed: 0.9 },
    { id: "other", level: "crew", key: "C2", actuals: 9, inForce: 1, proposed: 3 },
  ]);
  expect(expectedOf(v, c).meanMin).toBeCloseTo(60 + 300 * 1.1 * 1.2 * 0.9, 9);
});
