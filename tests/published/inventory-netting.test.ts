/** Netting of one item by hand rule: the record of eight periods, lot for lot and in multiples of 50. */
import { describe, expect, it } from "vitest";
import { type ItemPosition, type LotRule, netByDate } from "@/lib/stock";

const GROSS = [0, 40, 30, 0, 60, 20, 0, 50];
const SOURCE = "material requirements record worked by hand rule and by an independent script";

interface Row {
  source: string;
  mark: "C";
  leadTimeDays: number;
  lotRule: LotRule;
  net: number[];
  receipts: number[];
  releases: number[];
  projected: number[];
  pastDueDays: number[];
}

const ROWS: Row[] = [
  {
    source: `${SOURCE}, lot for lot`,
    mark: "C",
    leadTimeDays: 2,
    lotRule: { kind: "lot for lot" },
    net: [0, 0, 15, 0, 60, 20, 0, 50],
    receipts: [0, 0, 15, 0, 60, 20, 0, 50],
    releases: [15, 0, 60, 20, 0, 50, 0, 0],
    projected: [25, 15, 0, 0, 0, 0, 0, 0],
    pastDueDays: [0, 0, 0, 0],
  },
  {
    source: `${SOURCE}, fixed multiple 50`,
    mark: "C",
    leadTimeDays: 2,
    lotRule: { kind: "fixed multiple", multiple: 50 },
    net: [0, 0, 15, 0, 25, 0, 0, 45],
    receipts: [0, 0, 50, 0, 50, 0, 0, 50],
    releases: [50, 0, 50, 0, 0, 50, 0, 0],
    projected: [25, 15, 35, 35, 25, 5, 5, 5],
    pastDueDays: [0, 0, 0],
  },
  {
    source: `${SOURCE}, lead time 3: the first release is one period past due`,
    mark: "C",
    leadTimeDays: 3,
    lotRule: { kind: "lot for lot" },
    net: [0, 0, 15, 0, 60, 20, 0, 50],
    receipts: [0, 0, 15, 0, 60, 20, 0, 50],
    releases: [15, 60, 20, 0, 50, 0, 0, 0],
    projected: [25, 15, 0, 0, 0, 0, 0, 0],
    pastDueDays: [1, 0, 0, 0],
  },
];

describe("netting record", () => {
  it.each(ROWS)("$source", (row) => {
    const position: ItemPosition = {
      itemCode: "X",
      onHand: 25,
      safetyStock: 0,
      leadTimeDays: row.leadTimeDays,
      lotRule: row.lotRule,
    };
    const needs = GROSS.map((quantity, day) => ({
      itemCode: "X",
      day,
      quantity,
      visitId: `v${day}`,
      siteCode: "S",
    }));
    const [item] = netByDate(
      needs,
      [{ itemCode: "X", day: 1, quantity: 30, orderCode: "PO1" }],
      [position],
      8,
    );
    const receipts = new Array(8).fill(0);
    const releases = new Array(8).fill(0);
    for (const order of item!.orders) {
      receipts[order.receiptDay] += order.quantity;
      releases[order.releaseDay] += order.quantity;
    }
    expect([...item!.net], row.source).toEqual(row.net);
    expect(receipts, row.source).toEqual(row.receipts);
    expect(releases, row.source).toEqual(row.releases);
    expect([...item!.projected], row.source).toEqual(row.projected);
    expect(
      item!.orders.map((order) => order.pastDueDays),
      row.source,
    ).toEqual(row.pastDueDays);
  });
});
