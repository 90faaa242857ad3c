/** From which lots a kit's lines are picked, and from which an issued kit was. */
import type { Owner } from "@/lib/site";
import { pickLots } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { issuedOf } from "./kitOut";
import type { StoredKit } from "./plans";
import { loadBalances, loadLots } from "./shelves";

/** Where a part of a line is taken from. */
export interface PickSource {
  lotCode: string;
  owner: Owner;
  quantityC: number;
  expiresOn: CalendarDate | null;
  /** A kit that is picked earlier counts on it. */
  isClaimed: boolean;
}

interface Shelf {
  lotCode: string;
  owner: Owner;
  quantityC: number;
  expiresOn: CalendarDate | null;
}

/** What warehouses hold in lots that are good on `onDay`, without drums: place and item -> lots. */
export function shelves(db: Db, onDay: CalendarDate): Map<string, Shelf[]> {
  const expiry = new Map(loadLots(db).map((l) => [l.code, l.expiresOn]));
  const map = new Map<string, Shelf[]>();
  for (const b of loadBalances(db)) {
    if (b.drumSerial !== "") continue;
    const expiresOn = expiry.get(b.lotCode) ?? null;
    if (expiresOn !== null && expiresOn < onDay) continue;
    const key = `${b.placeCode} ${b.itemCode}`;
    const list = map.get(key) ?? [];
    list.push({ lotCode: b.lotCode, owner: b.owner, quantityC: b.quantityC, expiresOn });
    map.set(key, list);
  }
  return map;
}

/** Takes a quantity from shelves, first expired first out, and lowers them. */
export function take(shelf: Shelf[], wantedC: number, onDay: CalendarDate): Omit<PickSource, "isClaimed">[] {
  const { picks } = pickLots(
    shelf.map((s, i) => ({
      lotId: String(i),
      quantity: s.quantityC,
      expiresOn: s.expiresOn ?? undefined,
      receivedOn: onDay,
    })),
    wantedC,
    onDay,
  );
  return picks.map(({ lotId, quantity }) => {
    const s = shelf[Number(lotId)]!;
    s.quantityC -= quantity;
    return { lotCode: s.lotCode, owner: s.owner, quantityC: quantity, expiresOn: s.expiresOn };
  });
}

/** Lowers shelves by what was taken elsewhere from a copy of them. */
function lower(shelf: readonly Shelf[], taken: readonly PickSource[]): void {
  for (const t of taken) {
    const s = shelf.find((x) => x.lotCode === t.lotCode && x.owner === t.owner);
    if (s) s.quantityC -= t.quantityC;
  }
}

/** What kits not yet issued take from the same shelf before this one: begun ones first, then by pick day and the visit's start (`plannedKits`). */
function earlierClaims(
  db: Db,
  planId: number,
  kit: StoredKit,
): { itemCode: string; boxC: number; pickedC: number }[] {
  const isPicked = kit.state === "picked" ? 1 : 0;
  return db.$client
    .prepare(
      `SELECT l.item_code AS itemCode, l.box_c AS boxC, l.picked_c AS pickedC
       FROM kit k JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       JOIN plan_visit v ON v.plan_id = k.plan_id AND v.visit_id = k.visit_id
       JOIN plan_visit own ON own.plan_id = k.plan_id AND own.visit_id = @visitId
       WHERE k.plan_id = @planId AND k.state <> 'issued' AND k.place_code = @place AND l.run_id IS NULL
         AND l.item_code IN (SELECT item_code FROM kit_line WHERE plan_id = @planId AND visit_id = @visitId)
         AND ((k.state = 'picked') > @isPicked
           OR ((k.state = 'picked') = @isPicked AND (k.pick_on, v.start_on, v.start_min, k.visit_id)
               < (@pickOn, own.start_on, own.start_min, @visitId)))
       ORDER BY (k.state = 'picked') DESC, k.pick_on, v.start_on, v.start_min, k.visit_id, l.line_no`,
    )
    .all({ planId, place: kit.placeCode, visitId: kit.visitId, pickOn: kit.pickOn, isPicked }) as {
    itemCode: string;
    boxC: number;
    pickedC: number;
  }[];
}

/**
 * Where every line of a kit is taken from. Kits that are picked earlier take first; what only they hold is offered as
 * claimed, so that a person who takes it knows whom it is taken from.
 */
export function sourcesOf(db: Db, planId: number, kit: StoredKit, today: CalendarDate): PickSource[][] {
  // It must still be good on the day it is used up on the tower; the pick day is the least that can be asked.
  const onDay = kit.pickOn > today ? kit.pickOn : today;
  const whole = shelves(db, onDay);
  const free = new Map([...whole].map(([key, list]) => [key, list.map((s) => ({ ...s }))]));
  for (const l of earlierClaims(db, planId, kit)) {
    const shelf = free.get(`${kit.placeCode} ${l.itemCode}`);
    if (shelf) take(shelf, l.pickedC || l.boxC, onDay);
  }
  return kit.lines.map((l): PickSource[] => {
    if (l.runId) return [];
    const key = `${kit.placeCode} ${l.itemCode}`;
    const wantedC = l.pickedC || l.boxC;
    const shelf = whole.get(key) ?? [];
    const own = take(free.get(key) ?? [], wantedC, onDay).map((x) => ({ ...x, isClaimed: false }));
    lower(shelf, own);
    const got = own.reduce((sum, x) => sum + x.quantityC, 0);
    if (got >= wantedC) return own;
    // What is left on the shelf beside the kit's own lines is there for kits that are picked earlier.
    return [...own, ...take(shelf, wantedC - got, onDay).map((x) => ({ ...x, isClaimed: true }))];
  });
}

/** From where what the lines of an issued kit lack can follow: its warehouse's lots that are good today. */
export function refillsOf(
  db: Db,
  kit: StoredKit,
  lackingC: readonly number[],
  today: CalendarDate,
): PickSource[][] {
  const shelf = lackingC.some((c) => c > 0) ? shelves(db, today) : new Map<string, Shelf[]>();
  return kit.lines.map((l, i) =>
    take(shelf.get(`${kit.placeCode} ${l.itemCode}`) ?? [], lackingC[i]!, today).map((x) => ({
      ...x,
      isClaimed: false,
    })),
  );
}

/** Of an issued kit what the ledger says went out, lot by lot; an item on several lines is told line after line. */
export function sourcesIssued(db: Db, kit: StoredKit): PickSource[][] {
  const expiry = new Map(loadLots(db).map((l) => [l.code, l.expiresOn]));
  const left = issuedOf(db, kit.visitId).map((r) => ({ ...r }));
  return kit.lines.map((l): PickSource[] => {
    let wantedC = l.runId ? 0 : l.pickedC;
    return left
      .filter((r) => r.itemCode === l.itemCode)
      .flatMap((r) => {
        const quantityC = Math.min(wantedC, r.issuedC);
        wantedC -= quantityC;
        r.issuedC -= quantityC;
        const { lotCode, owner } = r;
        return quantityC > 0
          ? [{ lotCode, owner, quantityC, expiresOn: expiry.get(lotCode) ?? null, isClaimed: false }]
          : [];
      });
  });
}
