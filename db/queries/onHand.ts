/** What lies where, page by page, with what of it is good. */
import { and, eq, gt } from "drizzle-orm";
import type { Owner } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { balance, item, lot, type PlaceKind, place } from "../schema";

export interface OnHandRow {
  itemCode: string;
  name: string;
  category: string;
  unit: string;
  placeCode: string;
  placeName: string;
  placeKind: PlaceKind;
  lotCode: string;
  drumSerial: string;
  owner: Owner;
  quantity: number;
  expiresOn: CalendarDate | null;
  isExpired: boolean;
  /** What may be taken: nothing of a lot that has expired, on hold or in repair. */
  available: number;
  valueMinor: number;
  currency: string;
}

const ON_HAND = {
  itemCode: balance.itemCode,
  name: item.name,
  category: item.category,
  unit: item.unit,
  placeCode: balance.placeCode,
  placeName: place.name,
  placeKind: place.kind,
  lotCode: balance.lotCode,
  drumSerial: balance.drumSerial,
  owner: balance.owner,
  quantityC: balance.quantityC,
  expiresOn: lot.expiresOn,
  priceMinor: item.priceMinor,
  currency: item.currency,
};

type OnHandStored = Omit<OnHandRow, "quantity" | "isExpired" | "available" | "valueMinor"> & {
  quantityC: number;
  priceMinor: number;
};

/** Every balance above nought, or those of one item or place, by item, place, lot and drum. */
export function loadOnHandRows(
  db: Db,
  today: CalendarDate,
  { itemCode, placeCode }: { itemCode?: string; placeCode?: string } = {},
): OnHandRow[] {
  return db
    .select(ON_HAND)
    .from(balance)
    .innerJoin(item, eq(item.code, balance.itemCode))
    .innerJoin(place, eq(place.code, balance.placeCode))
    .leftJoin(lot, eq(lot.code, balance.lotCode))
    .where(
      and(
        gt(balance.quantityC, 0),
        itemCode ? eq(balance.itemCode, itemCode) : undefined,
        placeCode ? eq(balance.placeCode, placeCode) : undefined,
      ),
    )
    .orderBy(balance.itemCode, balance.placeCode, lot.expiresOn, balance.lotCode, balance.drumSerial)
    .all()
    .map((r) => onHandRow(r, today));
}

function onHandRow({ quantityC, priceMinor, ...r }: OnHandStored, today: CalendarDate): OnHandRow {
  const isExpired = r.expiresOn !== null && r.expiresOn < today;
  return {
    ...r,
    quantity: quantityC / 100,
    isExpired,
    available: isExpired || r.placeKind === "hold" || r.placeKind === "repair" ? 0 : quantityC / 100,
    valueMinor: Math.round((priceMinor * quantityC) / 100),
  };
}

export interface OnHandFilter {
  /** Part of the item's code or name, in any case. */
  text?: string;
  placeCode?: string;
  onlyExpired?: boolean;
}

export interface OnHandPage {
  rows: OnHandRow[];
  /** Where the next page begins; null = nothing follows. */
  next: string | null;
}

/** What tells balances apart, in their order. */
type BalanceKey = [itemCode: string, placeCode: string, lotCode: string, drumSerial: string, owner: string];

/**
 * A part of what lies where, for a store that is too large for one table. Pages go by the key of the last row, so the
 * thousandth takes no longer than the first, and a row that moves meanwhile shifts nothing.
 * @param after `next` of the page before; what cannot be read is the beginning
 */
export function loadOnHandPage(
  db: Db,
  today: CalendarDate,
  { text = "", placeCode = "", onlyExpired = false }: OnHandFilter,
  limit: number,
  after?: string,
): OnHandPage {
  const last = balanceKey(after);
  const like = `%${text.replaceAll(/[\\%_]/g, "\\$&")}%`;
  const found = db.$client
    .prepare(
      // Item by item in the order of their codes: the balances of each stand together, and nothing has to be sorted.
      `SELECT b.item_code AS itemCode, i.name, i.category, i.unit, b.place_code AS placeCode, p.name AS placeName,
              p.kind AS placeKind, b.lot_code AS lotCode, b.drum_serial AS drumSerial, b.owner,
              b.quantity_c AS quantityC, l.expires_on AS expiresOn, i.price_minor AS priceMinor, i.currency
       FROM item i CROSS JOIN balance b ON b.item_code = i.code
       JOIN place p ON p.code = b.place_code LEFT JOIN lot l ON l.code = b.lot_code
       WHERE b.quantity_c > 0 AND i.code >= :item
         AND (b.item_code, b.place_code, b.lot_code, b.drum_serial, b.owner) > (:item, :place, :lot, :drum, :owner)
         AND (:text = '' OR i.code LIKE :like ESCAPE '\\' OR i.name LIKE :like ESCAPE '\\')
         AND (:at = '' OR b.place_code = :at)
         AND (:onlyExpired = 0 OR l.expires_on < :today)
       ORDER BY i.code, b.place_code, b.lot_code, b.drum_serial, b.owner LIMIT :limit`,
    )
    .all({
      item: last[0],
      place: last[1],
      lot: last[2],
      drum: last[3],
      owner: last[4],
      text,
      like,
      at: placeCode,
      onlyExpired: Number(onlyExpired),
      today,
      limit: limit + 1,
    }) as OnHandStored[];
  const rows = found.slice(0, limit).map((r) => onHandRow(r, today));
  const end = rows.at(-1);
  const key: BalanceKey | undefined = end && [
    end.itemCode,
    end.placeCode,
    end.lotCode,
    end.drumSerial,
    end.owner,
  ];
  return { rows, next: found.length > limit ? JSON.stringify(key) : null };
}

function balanceKey(after: string | undefined): BalanceKey {
  try {
    const parts: unknown = JSON.parse(after ?? "");
    if (Array.isArray(parts) && parts.length === 5 && parts.every((p) => typeof p === "string"))
      return parts as BalanceKey;
  } catch {
    // An address that somebody wrote by hand: from the beginning.
  }
  return ["", "", "", "", ""];
}

/** More rows of stock than this are not counted. */
export const ROWS_COUNTED = 5_000;

export interface OnHandCounts {
  /** Balances above nought; one more than `ROWS_COUNTED` stands for any number above it. */
  rows: number;
  /** Of lots that have expired. */
  expired: number;
}

export function countOnHand(db: Db, today: CalendarDate): OnHandCounts {
  return remembered(db, `on hand counted ${today}`, ["stock"], () => ({
    rows: db.$client
      .prepare("SELECT COUNT(*) FROM (SELECT 1 FROM balance WHERE quantity_c > 0 LIMIT ?)")
      .pluck()
      .get(ROWS_COUNTED + 1) as number,
    expired: db.$client
      .prepare(
        `SELECT COUNT(*) FROM balance b JOIN lot l ON l.code = b.lot_code
         WHERE b.lot_code <> '' AND b.quantity_c > 0 AND l.expires_on < ?`,
      )
      .pluck()
      .get(today) as number,
  }));
}
