/** Use from the ledger and deliveries from the orders, as safety stock and supplier figures. */
import { beforeEach, describe, expect, it } from "vitest";
import { postMovement, reverseMovement } from "@/db/queries/ledger";
import { saveOrder } from "@/db/queries/orderLines";
import { loadMeasured, loadSuppliers } from "@/db/queries/suppliers";
import { addDays, type CalendarDate } from "@/lib/time";
import { BY, PIECE, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
/** TODAY is a Monday. */
const monday = (weeksAgo: number) => addDays(TODAY, -7 * weeksAgo);

beforeEach(() => {
  t = testStock();
});

let n = 0;
function post(
  kind: "receipt" | "issue" | "return" | "scrap",
  quantity: number,
  on: CalendarDate,
  orderCode?: string,
) {
  const isIn = kind === "receipt" || kind === "return";
  return postMovement(t.db, {
    key: `use ${++n}`,
    kind,
    itemCode: PIECE.code,
    owner: "contractor",
    ...(isIn ? { toPlace: "WH-EAST" } : { fromPlace: "WH-EAST" }),
    quantityC: quantity * 100,
    effectiveOn: on,
    postedAt: BY.at,
    orderCode,
    reason: "test",
    postedBy: "Test",
  }).id;
}

/** An order sent and promised so many days before and received `lateDays` after its promise. */
function delivered(code: string, leadDays: number, lateDays: number, receivedOn: CalendarDate): void {
  const sentOn = addDays(receivedOn, -leadDays);
  const promisedOn = addDays(receivedOn, -lateDays);
  const line = { itemCode: PIECE.code, quantityC: 100, receivedC: 100, dueOn: promisedOn, promisedOn };
  saveOrder(t.db, {
    code,
    kind: "purchase",
    supplier: "Fellgate Supplies",
    state: "closed",
    placeCode: "WH-EAST",
    createdAt: BY.at,
    createdBy: "Test",
    sentOn,
    lines: [line],
  });
  post("receipt", 1, receivedOn, code);
}

describe("measured use", () => {
  it("counts what went out for work less what came back, and nothing that was taken back or thrown away", () => {
    post("receipt", 100, monday(10));
    post("issue", 8, monday(3));
    post("return", 2, addDays(monday(3), 4));
    post("scrap", 5, monday(3));
    post("issue", 4, monday(1));
    const wrong = post("issue", 9, monday(2));
    reverseMovement(t.db, wrong, {
      key: "back",
      effectiveOn: TODAY,
      postedAt: BY.at,
      reason: "wrong",
      postedBy: "Test",
    });
    const m = loadMeasured(t.db, PIECE.code, 14, TODAY)!;
    // Ten whole weeks since the first receipt: 6 and 4 in two of them.
    expect(m).toMatchObject({ weeks: 10, useMean: 1, leadFrom: "catalogue", leadMean: 2, isThin: false });
  });

  it("takes the lead time of the supplier that the item came from last", () => {
    delivered("PO-1", 14, 0, monday(9));
    delivered("PO-2", 21, 3, monday(6));
    delivered("PO-3", 28, 6, monday(3));
    const m = loadMeasured(t.db, PIECE.code, 99, TODAY)!;
    expect(m).toMatchObject({
      supplier: "Fellgate Supplies",
      leadFrom: "deliveries",
      deliveries: 3,
      leadMean: 3,
      leadSd: 1,
    });
  });

  it("says nothing of an item that never moved", () => {
    expect(loadMeasured(t.db, "NO-SUCH", 14, TODAY)).toBeUndefined();
  });
});

describe("suppliers", () => {
  it("are judged by the day first promised, open lines by how late they are now", () => {
    delivered("PO-1", 14, 0, monday(9));
    delivered("PO-2", 21, 3, monday(6));
    saveOrder(t.db, {
      code: "PO-4",
      kind: "purchase",
      supplier: "Fellgate Supplies",
      state: "sent",
      placeCode: "WH-EAST",
      createdAt: BY.at,
      createdBy: "Test",
      lines: [
        { itemCode: PIECE.code, quantityC: 100, dueOn: addDays(TODAY, 9), promisedOn: addDays(TODAY, -4) },
        { itemCode: PIECE.code, quantityC: 100, dueOn: addDays(TODAY, 9), promisedOn: addDays(TODAY, 9) },
      ],
    });
    expect(loadSuppliers(t.db, TODAY)).toMatchObject([
      {
        supplier: "Fellgate Supplies",
        count: 2,
        meanDays: 17.5,
        promised: 2,
        lateShare: 0.5,
        meanDaysLate: 3,
        open: 2,
        overdue: 1,
        worstDays: 4,
      },
    ]);
  });
});
