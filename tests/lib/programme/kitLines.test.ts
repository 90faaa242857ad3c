/** One line per item in a kit, whatever rules ask for it. */
import { expect, test } from "vitest";
import { kitLinesOf } from "@/lib/programme";
import type { EndTakeoff, TakeoffLine } from "@/lib/takeoff";

const line = (part: Partial<TakeoffLine>): TakeoffLine =>
  ({
    itemCode: "CHM-ZINC",
    name: "Cold-galvanising spray",
    unit: "can",
    owner: "contractor",
    exact: 0,
    quantity: 0,
    level: "order",
    step: 1,
    ruleId: "r",
    reason: "",
    ...part,
  }) as TakeoffLine;

const taken = (lines: TakeoffLine[], runs: Partial<EndTakeoff["runs"][number]>[] = []): EndTakeoff =>
  ({ lines, runs }) as unknown as EndTakeoff;

test("two rules for one item make one line; what is rounded over the order is added exactly", () => {
  const lines = kitLinesOf(
    taken([
      line({ exact: 0.15, quantity: 1, reason: "0.15 = 3 x 0.05" }),
      line({ itemCode: "LUG-16", unit: "piece", level: "end", exact: 3.2, quantity: 4, reason: "4 = 3.2" }),
      line({ exact: 0.05, quantity: 1, reason: "0.05 = 1 x 0.05" }),
      line({ itemCode: "LUG-16", unit: "piece", level: "run", exact: 2, quantity: 2, reason: "2 = 2 runs" }),
    ]),
  );
  expect(lines.map((l) => [l.itemCode, l.quantity, l.reason])).toEqual([
    ["CHM-ZINC", 0.2, "0.15 = 3 x 0.05\n0.05 = 1 x 0.05"],
    ["LUG-16", 6, "4 = 3.2\n2 = 2 runs"],
  ]);
});

test("runs of one cable stay a line each: each is cut in one piece", () => {
  const run = (id: string) => ({
    id,
    cableCode: "IFC-08",
    oduLabel: "A",
    role: "main",
    cutM: 20,
    routeM: 18,
  });
  const lines = kitLinesOf(taken([line({ itemCode: "IFC-08", exact: 40 })], [run("R1"), run("R2")]));
  expect(lines.map((l) => [l.itemCode, l.runId, l.quantity])).toEqual([
    ["IFC-08", "R1", 20],
    ["IFC-08", "R2", 20],
  ]);
});
