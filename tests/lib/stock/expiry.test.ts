import { describe, expect, it } from "vitest";
import { pickLots, type StockLot } from "@/lib/stock";
import { calendarDate } from "@/lib/time";

const lot = (lotId: string, quantity: number, expiresOn?: string, receivedOn = "2026-01-01"): StockLot => ({
  lotId,
  quantity,
  receivedOn: calendarDate(receivedOn),
  ...(expiresOn ? { expiresOn: calendarDate(expiresOn) } : {}),
});

const LOTS = [
  lot("keeps", 5),
  lot("june", 4, "2026-06-30"),
  lot("april", 2, "2026-04-30"),
  lot("gone", 9, "2026-03-31"),
  lot("april, older", 2, "2026-04-30", "2025-11-01"),
];

describe("pickLots", () => {
  it("takes first what expires first, of equals the oldest, and last what keeps", () => {
    expect(pickLots(LOTS, 9, calendarDate("2026-04-10"))).toEqual({
      picks: [
        { lotId: "april, older", quantity: 2 },
        { lotId: "april", quantity: 2 },
        { lotId: "june", quantity: 4 },
        { lotId: "keeps", quantity: 1 },
      ],
      missing: 0,
    });
  });

  it("does not pick what is expired; the last day itself still counts", () => {
    const on = (day: string) => pickLots([lot("x", 3, "2026-03-31")], 2, calendarDate(day));
    expect(on("2026-03-31")).toEqual({ picks: [{ lotId: "x", quantity: 2 }], missing: 0 });
    expect(on("2026-04-01")).toEqual({ picks: [], missing: 2 });
  });

  it("gives what there is and says what is missing", () => {
    expect(pickLots([lot("x", 3)], 5, calendarDate("2026-01-05")).missing).toBe(2);
    expect(pickLots([], 0, calendarDate("2026-01-05"))).toEqual({ picks: [], missing: 0 });
    expect(() => pickLots([], -1, calendarDate("2026-01-05"))).toThrow(RangeError);
  });
});
