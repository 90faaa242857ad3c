import { describe, expect, it } from "vitest";
import { minutesOf, type WorkSegment } from "@/lib/hours";
import type { ProgrammeVisit } from "@/lib/programme";
import { withWorkLeft } from "@/lib/programme/partDone";

const SEGMENTS: WorkSegment[] = [
  { workClass: "indoor", durationMin: 30, splittable: true },
  { workClass: "hoist", durationMin: 90, splittable: false, pauseMin: 20 },
  { workClass: "open connection", durationMin: 60, splittable: true },
];

function visit(id: string, isJoint = false): ProgrammeVisit {
  return { id, isJoint, segments: SEGMENTS, durationMin: 180, p80Min: 216 } as unknown as ProgrammeVisit;
}

const left = (entries: Record<string, number>, ...visits: ProgrammeVisit[]) =>
  withWorkLeft(visits, new Map(Object.entries(entries).map(([id, leftMin]) => [id, { leftMin }])));

describe("what is left of a visit", () => {
  it("is the end of its work, with the classes of its minutes", () => {
    const [rest] = left({ "H1/near/install": 80 }, visit("H1/near/install"));
    expect(rest!.segments).toEqual([
      { workClass: "hoist", durationMin: 20, splittable: false, pauseMin: 20 },
      { workClass: "open connection", durationMin: 60, splittable: true },
    ]);
    expect(rest!.durationMin).toBe(80);
    // The range keeps its width in parts of the mean: 216 / 180 of 80.
    expect(rest!.p80Min).toBeCloseTo(96, 10);
  });

  it("is drawn out at its start when more is left than was estimated", () => {
    const [rest] = left({ "H1/near/install": 200 }, visit("H1/near/install"));
    expect(rest!.segments.map((s) => s.durationMin)).toEqual([50, 90, 60]);
    expect(minutesOf(rest!.segments)).toBe(200);
  });

  it("is whole where nobody said how much is left", () => {
    const whole = visit("H2/far/install");
    expect(left({ "H1/near/install": 80 }, whole)).toEqual([whole]);
  });

  it("is at both ends of joint work the longer of the two, once both have said", () => {
    const near = visit("H1/near/alignment", true);
    const far = visit("H1/far/alignment", true);
    expect(
      left({ "H1/near/alignment": 40, "H1/far/alignment": 70 }, near, far).map((v) => v.durationMin),
    ).toEqual([70, 70]);
    expect(left({ "H1/near/alignment": 40 }, near, far).map((v) => v.durationMin)).toEqual([180, 180]);
    // The far end is done: what the near end says is all that is left.
    expect(left({ "H1/near/alignment": 40 }, near).map((v) => v.durationMin)).toEqual([40]);
  });
});
