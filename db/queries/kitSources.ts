/** From which lots a kit's lines are picked, and from which an issued kit was. */
import { and, eq } from "drizzle-orm";
import type { Owner } from "@/lib/site";
import { byTurn, pickLots, type Turn } from "@/lib/stock";
import { type CalendarDate, daysBetween } from "@/lib/time";
import type { Db } from "../open";
import { planVisit } from "../schema";
import { lostOfKits } from "./kitLosses";
import { issuedOf } from "./kitOut";
import { IS_DONE } from "./kitShort";
import type { StoredKit } from "./plans";
import { loadBalances, loadLots } from "./shelves";
import { withdrawnVisits } from "./withdrawn";

/** Where a part of a line is taken from. */
export interface PickSource {
  lotCode: string;
  owner: Owner;
  quantityC: number;
  expiresOn: CalendarDate | null;
  /** A kit or a replacement that comes before counts on it. */
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

/** What another kit takes from the same shelf before this one. */
export interface ShelfClaim {
  visitId: string;
  itemCode: string;
  quantityC: number;
  /** It stands in for what an issued kit lost, and goes after it. */
  isReplacement: boolean;
}

/**
 * What is taken from the same shelf before a kit: kits that somebody has begun come first, for theirs lies in the box;
 * then whole kits and what stands in for losses of issued ones, in the turn in which netting serves them (`byTurn`). A kit
 * whose visit is done takes no more than lies in its box.
 */
function claimsBefore(db: Db, planId: number, kit: StoredKit, today: CalendarDate): ShelfClaim[] {
  const rows = db.$client
    .prepare(
      `SELECT l.visit_id AS visitId, l.item_code AS itemCode, l.box_c AS boxC, l.picked_c AS pickedC, k.state,
              k.pick_on AS pickOn, v.start_on AS startOn, v.start_min AS startMin, ${IS_DONE} AS isDone
       FROM kit k JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       JOIN plan_visit v ON v.plan_id = k.plan_id AND v.visit_id = k.visit_id
       WHERE k.plan_id = @planId AND k.place_code = @place AND k.visit_id <> @visitId AND l.run_id IS NULL
         AND l.item_code IN (SELECT item_code FROM kit_line WHERE plan_id = @planId AND visit_id = @visitId)
       ORDER BY l.visit_id, l.line_no`,
    )
    .all({ planId, place: kit.placeCode, visitId: kit.visitId }) as (KitTime & {
    itemCode: string;
    boxC: number;
    pickedC: number;
    isDone: number;
  })[];
  const own = db
    .select({ startOn: planVisit.startOn, startMin: planVisit.startMin })
    .from(planVisit)
    .where(and(eq(planVisit.planId, planId), eq(planVisit.visitId, kit.visitId)))
    .get();
  const turn = turnOf({ ...kit, startOn: own?.startOn ?? null, startMin: own?.startMin ?? null }, today);
  const lost = lostOfKits(db);
  const withdrawn = withdrawnVisits(db);
  return (
    rows
      // Nobody picks for a revisit that is not needed any more; what lies in its box is not on the shelf.
      .filter((r) => r.state === "picked" || !withdrawn.has(r.visitId))
      .map((r) => ({ ...r, turn: turnOf(r, today) }))
      .filter((r) => inTurn(r.turn, turn) < 0)
      .sort((a, b) => inTurn(a.turn, b.turn))
      .flatMap(({ visitId, itemCode, boxC, pickedC, state, isDone }): ShelfClaim[] => {
        const isReplacement = state === "issued";
        const wantedC = isDone ? 0 : boxC;
        const quantityC = isReplacement ? (lost.get(visitId)?.get(itemCode) ?? 0) : pickedC || wantedC;
        // An item may stand on several lines: what was lost of it is one claim.
        if (isReplacement) lost.get(visitId)?.delete(itemCode);
        return quantityC > 0 ? [{ visitId, itemCode, quantityC, isReplacement }] : [];
      })
  );
}

interface KitTime {
  visitId: string;
  state: StoredKit["state"];
  pickOn: CalendarDate;
  startOn: CalendarDate | null;
  startMin: number | null;
}

type KitTurn = Turn & { isBegun: boolean };

/** What should have left is wanted today, as netting has it. */
function turnOf({ visitId, state, pickOn, startOn, startMin }: KitTime, today: CalendarDate): KitTurn {
  const day = (on: CalendarDate) => Math.max(0, daysBetween(today, on));
  const startsAtMin = day(startOn ?? pickOn) * 1440 + (startMin ?? 0);
  return { visitId, day: day(pickOn), startsAtMin, isBegun: state === "picked" };
}

const inTurn = (a: KitTurn, b: KitTurn): number => Number(b.isBegun) - Number(a.isBegun) || byTurn(a, b);

export interface LineSources {
  sources: PickSource[];
  /** What lies on the kit's shelf, good on the day; and who takes of it before this kit. */
  shelfC: number;
  claims: ShelfClaim[];
}

/**
 * What each line of a kit may take of its shelf, line after line, and who comes before it: what only they hold is offered
 * as claimed, so that a person who takes it knows whom it is taken from.
 */
function shared(
  db: Db,
  planId: number,
  of: { kit: StoredKit; wantedC: readonly number[]; onDay: CalendarDate; today: CalendarDate },
): LineSources[] {
  const { kit, wantedC, onDay, today } = of;
  const whole = shelves(db, onDay);
  const free = new Map([...whole].map(([key, list]) => [key, list.map((s) => ({ ...s }))]));
  const keyOf = (itemCode: string) => `${kit.placeCode} ${itemCode}`;
  const lying = new Map(
    [...whole].map(([key, list]) => [key, list.reduce((sum, s) => sum + s.quantityC, 0)]),
  );
  const claims = claimsBefore(db, planId, kit, today);
  for (const l of claims) {
    const shelf = free.get(keyOf(l.itemCode));
    if (shelf) take(shelf, l.quantityC, onDay);
  }
  return kit.lines.map((l, i): LineSources => {
    const shelfC = lying.get(keyOf(l.itemCode)) ?? 0;
    if (l.runId) return { sources: [], shelfC: 0, claims: [] };
    const about = { shelfC, claims: claims.filter((c) => c.itemCode === l.itemCode) };
    const shelf = whole.get(keyOf(l.itemCode)) ?? [];
    const own = take(free.get(keyOf(l.itemCode)) ?? [], wantedC[i]!, onDay).map((x) => ({
      ...x,
      isClaimed: false,
    }));
    lower(shelf, own);
    const got = own.reduce((sum, x) => sum + x.quantityC, 0);
    if (got >= wantedC[i]!) return { ...about, sources: own };
    // What is left on the shelf beside the kit's own lines is there for those who come before.
    const theirs = take(shelf, wantedC[i]! - got, onDay).map((x) => ({ ...x, isClaimed: true }));
    return { ...about, sources: [...own, ...theirs] };
  });
}

/** Where every line of a kit is taken from. */
export function sourcesOf(db: Db, planId: number, kit: StoredKit, today: CalendarDate): LineSources[] {
  // It must still be good on the day it is used up on the tower; the pick day is the least that can be asked.
  const onDay = kit.pickOn > today ? kit.pickOn : today;
  return shared(db, planId, { kit, wantedC: kit.lines.map((l) => l.pickedC || l.boxC), onDay, today });
}

/** From where what the lines of an issued kit lack can follow: its warehouse's lots that are good today. */
export function refillsOf(
  db: Db,
  planId: number,
  kit: StoredKit,
  lackingC: readonly number[],
  today: CalendarDate,
): LineSources[] {
  if (!lackingC.some((c) => c > 0)) return kit.lines.map(() => ({ sources: [], shelfC: 0, claims: [] }));
  return shared(db, planId, { kit, wantedC: lackingC, onDay: today, today });
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
