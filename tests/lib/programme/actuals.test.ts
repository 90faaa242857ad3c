import { describe, expect, test } from "vitest";
import { completedEndsOf, type WorkedVisit } from "@/lib/programme";
import type { Scheme } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

const visit = (visitId: string, crewCode: string, workedOn: string): WorkedVisit => ({
  visitId,
  crewCode,
  workedOn: workedOn as CalendarDate,
  workedMin: 300,
  parts: new Map(),
});

describe("ends that count as practice", () => {
  const schemes = new Map<string, Scheme>([
    ["H-1", "1+0"],
    ["H-2", "1+1 hot standby"],
  ]);

  test("finished installs by crew and scheme; alignments and hops that are gone do not count", () => {
    const worked = [
      visit("H-1/near/install", "C1", "2026-03-02"),
      visit("H-1/far/install", "C1", "2026-03-03"),
      visit("H-1/near/alignment", "C1", "2026-03-04"),
      visit("H-2/near/install", "C1", "2026-03-05"),
      visit("H-2/far/install", "C2", "2026-03-05"),
      visit("H-9/far/install", "C2", "2026-03-05"),
    ];
    expect(completedEndsOf(worked, schemes)).toEqual({
      C1: { "1+0": 2, "1+1 hot standby": 1 },
      C2: { "1+1 hot standby": 1 },
    });
  });
});
