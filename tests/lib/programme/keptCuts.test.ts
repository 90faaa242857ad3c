import { expect, test } from "vitest";
import { cutsStayUntil, keptCuts } from "@/lib/programme";
import { addDays, calendarDate } from "@/lib/time";
import { drum, run, TODAY } from "../drums/make";

test("cuts stay up to tomorrow; on a Friday and at the weekend up to Monday", () => {
  const until = (date: string) => cutsStayUntil(calendarDate(date));
  expect(until("2026-03-02")).toBe("2026-03-03");
  expect(until("2026-03-05")).toBe("2026-03-06");
  expect(["2026-03-06", "2026-03-07", "2026-03-08"].map(until)).toEqual(Array(3).fill("2026-03-09"));
});

test("kept are the cuts of these days, of kits that somebody has begun, and those sent early enough to be due", () => {
  const needed = (id: string, days: number, placeId = "WEST") =>
    run(id, 1_000, { neededOn: addDays(TODAY, days), placeId });
  const runs = [needed("due", 1), needed("later", 3), needed("begun", 8), needed("sent", 3, "EAST")];
  const kept = keptCuts(
    runs,
    [drum("a", 20_000, { placeId: "WEST" })],
    {
      today: TODAY,
      cutPolicy: { sawAllowanceCm: 20, minUsefulCm: 1_500 },
      listedCuts: runs.map((r, i) => ({
        runId: r.id,
        drumId: "a",
        fromMarkCm: 30_000 + i * 1_020,
        lengthCm: 1_000,
      })),
      begunRuns: new Set(["begun"]),
    },
    () => 2,
  );
  expect(kept.firm.map((c) => c.runId)).toEqual(["due", "begun", "sent"]);
  expect(kept.all.map((c) => c.runId)).toEqual(["due", "later", "begun", "sent"]);
});
