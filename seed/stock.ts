/** Opening stock and orders on the way of the made-up warehouses: enough for a start, short of some things later. */
import type { Db } from "@/db/open";
import { saveDrum } from "@/db/queries/drums";
import { postMovement } from "@/db/queries/ledger";
import { ledgerReason } from "@/db/queries/ledgerReasons";
import { saveOrder } from "@/db/queries/orderLines";
import { saveLot } from "@/db/queries/shelves";
import type { Random } from "@/lib/random";
import type { CatalogueItem, Hop } from "@/lib/site";
import type { HopTakeoff } from "@/lib/takeoff";
import { addDays, type CalendarDate } from "@/lib/time";
import { CUSTOMER } from "./vellmark";

const OPENED_DAYS_AGO = 30;

/** Remnants of drums in the rack, m: none is long enough for the longest run. */
const REMNANTS_M = [118, 96.5, 74, 58, 41, 27];

/**
 * Tubes and gaskets are cheap, and a store keeps a tray of each, whatever the need comes to. Work should stop first for
 * something worth reading about.
 */
const TRAY = 12;

interface OpeningContext {
  random: Random;
  today: CalendarDate;
  now: number;
  catalogue: readonly CatalogueItem[];
}

/** Need of every item, hop by hop in the order in which the hops are promised. */
function needsInOrder(hops: readonly Hop[], takeoffs: readonly HopTakeoff[]): Map<string, number[]> {
  const order = [...hops].sort(
    (a, b) => (a.promisedOn ?? "9").localeCompare(b.promisedOn ?? "9") || a.code.localeCompare(b.code),
  );
  const byHop = new Map(takeoffs.map((t) => [t.hopId, t]));
  const needs = new Map<string, number[]>();
  order.forEach((hop, i) => {
    const t = byHop.get(hop.id);
    for (const end of t ? [t.near, t.far] : []) {
      for (const line of end.lines) {
        const list = needs.get(line.itemCode) ?? order.map(() => 0);
        list[i]! += line.exact;
        needs.set(line.itemCode, list);
      }
    }
  });
  return needs;
}

const upTo = (quantity: number, step: number) => Math.ceil(quantity / step - 1e-9) * step;

export function loadStock(
  db: Db,
  hops: readonly Hop[],
  takeoffs: readonly HopTakeoff[],
  context: OpeningContext,
): void {
  const { random, today, now, catalogue } = context;
  const needs = needsInOrder(hops, takeoffs);
  const openedOn = addDays(today, -OPENED_DAYS_AGO);
  const share = (list: readonly number[], to: number) =>
    list.slice(0, Math.round(list.length * to)).reduce((a, b) => a + b, 0);
  let orderNo = 400;
  let lateVariant: string | undefined;

  for (const item of catalogue) {
    const list = needs.get(item.code);
    if (!list) continue;
    if (item.category === "IF cable") {
      loadCable(db, item, share(list, 1), openedOn, context, () => `PO-${++orderNo}`);
      continue;
    }
    const draw = random.fork(item.code);
    const step = item.unit === "m" ? 10 : 1;
    const begun = upTo(share(list, draw.between(0.45, 0.7)), step) + upTo(item.safetyStock, 1);
    const isCheap = item.unit === "tube" || item.category === "flange gasket";
    const onHand = isCheap ? Math.max(TRAY, begun) : begun;
    receive(db, item, onHand, openedOn, context);
    const total = share(list, 1);
    const onTheWay = upTo(Math.max(0, total * draw.between(0.88, 1.06) - onHand), item.orderMultiple);
    if (onTheWay <= 0 || draw.next() < 0.08) continue;
    // The one delivery that everybody is waiting for: the radio variant needed most, five weeks late.
    const isLate = item.category === "ODU" && lateVariant === undefined && total >= 4;
    if (isLate) lateVariant = item.code;
    saveOrder(db, {
      code: item.owner === "customer" ? `CO-${++orderNo}` : `PO-${++orderNo}`,
      kind: item.owner === "customer" ? "call-off" : "purchase",
      supplier: item.owner === "customer" ? CUSTOMER : "Fellgate Supplies",
      state: "sent",
      placeCode: draw.next() < 0.6 ? "WH-EAST" : "WH-WEST",
      createdAt: now - 20 * 86_400_000,
      createdBy: "Opening orders",
      note: isLate ? "Late: the supplier moved it by five weeks." : "",
      lines: [
        {
          itemCode: item.code,
          quantityC: onTheWay * 100,
          dueOn: addDays(today, isLate ? 43 : 6 + draw.below(22)),
          ...(isLate ? { promisedOn: addDays(today, 8) } : {}),
        },
      ],
    });
  }
}

function receive(
  db: Db,
  item: CatalogueItem,
  quantity: number,
  openedOn: CalendarDate,
  { today, now }: OpeningContext,
): void {
  if (quantity <= 0) return;
  // Stock that ages comes in two lots; the older one expires in three weeks.
  const lots = item.shelfLifeDays
    ? [
        { code: `${item.code}-A`, expiresOn: addDays(today, 21), part: 0.25 },
        { code: `${item.code}-B`, expiresOn: addDays(today, 500), part: 0.75 },
      ]
    : [{ code: undefined, expiresOn: undefined, part: 1 }];
  for (const l of lots) {
    if (l.code) saveLot(db, { code: l.code, itemCode: item.code, expiresOn: l.expiresOn });
    const inLot = Math.round(quantity * l.part);
    const east = Math.ceil(inLot * 0.55);
    for (const [placeCode, q] of [
      ["WH-EAST", east],
      ["WH-WEST", inLot - east],
    ] as const) {
      if (q <= 0) continue;
      postMovement(db, {
        key: `opening ${item.code} ${l.code ?? ""} ${placeCode}`,
        kind: "receipt",
        itemCode: item.code,
        lotCode: l.code,
        owner: item.owner,
        toPlace: placeCode,
        quantityC: q * 100,
        effectiveOn: openedOn,
        postedAt: now - OPENED_DAYS_AGO * 86_400_000,
        reason: ledgerReason("opening"),
        postedBy: "Opening stock",
      });
    }
  }
}

function loadCable(
  db: Db,
  item: CatalogueItem,
  totalM: number,
  openedOn: CalendarDate,
  { today, now }: OpeningContext,
  orderCode: () => string,
): void {
  const drumM = item.orderMultiple;
  const lengths = [
    ...Array.from({ length: Math.max(1, Math.floor((totalM * 0.45) / drumM)) }, () => drumM),
    ...REMNANTS_M.filter((m) => m < drumM && m < totalM),
  ];
  lengths.forEach((leftM, i) => {
    const serial = `${item.code}-D${String(i + 1).padStart(2, "0")}`;
    const place = i % 3 === 2 ? "WH-WEST" : "WH-EAST";
    saveDrum(db, { serial, itemCode: item.code, receivedC: drumM * 100 });
    const row = {
      itemCode: item.code,
      drumSerial: serial,
      owner: item.owner,
      effectiveOn: openedOn,
      postedAt: now - OPENED_DAYS_AGO * 86_400_000,
      postedBy: "Opening stock",
    };
    postMovement(db, {
      ...row,
      key: `opening ${serial}`,
      kind: "receipt",
      toPlace: place,
      quantityC: drumM * 100,
      reason: ledgerReason("opening"),
    });
    if (leftM < drumM) {
      postMovement(db, {
        ...row,
        key: `opening cut ${serial}`,
        kind: "cut",
        fromPlace: place,
        quantityC: Math.round((drumM - leftM) * 100),
        reason: ledgerReason("cutBefore"),
      });
    }
  });
  if (totalM < drumM) return;
  saveOrder(db, {
    code: orderCode(),
    kind: "purchase",
    supplier: "Fellgate Supplies",
    state: "sent",
    placeCode: "WH-EAST",
    createdAt: now - 10 * 86_400_000,
    createdBy: "Opening orders",
    lines: [{ itemCode: item.code, quantityC: drumM * 100, dueOn: addDays(today, 12) }],
  });
}
