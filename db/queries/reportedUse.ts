/** Material that crews report as used, in the ledger: its rows follow the reports that count. */
import { and, eq, isNull } from "drizzle-orm";
import { phrase } from "@/lib/phrase";
import { ok, problem, type Result, refused } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { hungUnit } from "../schema";
import { usedFrom } from "./kitOut";
import { cutsMade, ledgerRefusal, postMovement, reverseMovement } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import type { By } from "./log";
import { usesOfVisit } from "./reports";
import { type BalanceRow, loadBalances, loadLots } from "./shelves";

/** After every day that a lot can be good to. */
const NEVER = "9999-12-31";

/** One piece. */
const ONE_C = 100;

export interface ReportedUse {
  visitId: string;
  /** Places from which it was used, in the order in which they are drawn on; none = no vehicle is known. */
  vehicles: readonly string[];
  /** Of what books it: `${visitId} report ${no}`, or what was reported before an issue. */
  key: string;
  /** Serials that were read on this visit, by item. */
  serials: ReadonlyMap<string, readonly string[]>;
}

export interface UseBooked {
  /** Items of which something was taken off the vehicle's stock. */
  booked: number;
  /** Items of which the vehicle did not hold all that was used, or of which runs were not cut by the books: reported, but not all booked. Close-out counts them alike. */
  notOnVehicle: number;
}

type Reporter = By & { today: CalendarDate };

/**
 * Brings the rows of a visit's reports to what those that count say was used, item by item: what is not booked yet is
 * taken off the vehicle, what is booked too much is put back. Rows that somebody posted by hand are left alone. Runs
 * leave the ledger when they are cut.
 */
export function bookReportedUse(db: Db, use: ReportedUse, by: Reporter): Result<UseBooked> {
  const rows = rowsOfReports(db, use.visitId);
  const cut = cutsMade(db);
  const wanted = new Map<string, number>(rows.map((r) => [r.itemCode, 0]));
  const open = new Set<string>();
  for (const u of usesOfVisit(db, use.visitId)) {
    if (u.runId === null) wanted.set(u.itemCode, (wanted.get(u.itemCode) ?? 0) + u.usedC);
    else if (u.usedC > 0 && !cut.has(u.runId)) open.add(u.itemCode);
  }
  let booked = 0;
  for (const [itemCode, usedC] of wanted) {
    const own = rows.filter((r) => r.itemCode === itemCode);
    const left = putBack(db, own, usedC, use.key, by);
    if (!left.ok) return left;
    if (left.value >= usedC) continue;
    const quantityC = usedC - left.value;
    const takenC = takeOffVehicle(db, { ...use, itemCode, quantityC }, by);
    if (takenC > 0) booked++;
    if (takenC < quantityC) open.add(itemCode);
  }
  return ok({ booked, notOnVehicle: open.size });
}

/**
 * The same once material has left for a visit that was reported before: what its reports used is off the vehicle, so
 * nobody has to report it again. Radios that the visit's reports read keep their serials in the rows.
 * @param vehicle the place that it was issued into
 */
export function bookUseIssuedLate(
  db: Db,
  { visitId, vehicle }: { visitId: string; vehicle: string },
  by: Reporter,
): Result<UseBooked> {
  const serials = new Map<string, string[]>();
  const named = new Set(serialsBooked(db, visitId));
  for (const { itemCode, serial } of hungOnVisit(db, visitId))
    if (!named.has(serial)) serials.set(itemCode, [...(serials.get(itemCode) ?? []), serial]);
  const key = `${visitId} report before issue ${by.at}`;
  return bookReportedUse(db, { visitId, vehicles: usedFrom(db, visitId, vehicle), key, serials }, by);
}

/** Puts back on the vehicle what was booked with issues that are taken back: it is reported, and not booked, as before them. */
export function unbookUseIssuedLate(db: Db, visitId: string, by: Reporter): Result<number> {
  const issued = rowsOfReports(db, visitId, "before issue ");
  return putBack(db, issued, 0, `${visitId} report before issue taken back ${by.at}`, by);
}

const hungOnVisit = (db: Db, visitId: string) =>
  db
    .select({ itemCode: hungUnit.itemCode, serial: hungUnit.serial })
    .from(hungUnit)
    .where(and(eq(hungUnit.visitId, visitId), isNull(hungUnit.endedOn)))
    .orderBy(hungUnit.id)
    .all();

const serialsBooked = (db: Db, visitId: string) =>
  db.$client
    .prepare(
      `SELECT serial FROM movement m WHERE kind = 'installed' AND visit_id = ? AND serial IS NOT NULL
       AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)`,
    )
    .pluck()
    .all(visitId) as string[];

interface BookedRow {
  id: number;
  itemCode: string;
  quantityC: number;
}

/** What reports of the visit booked (`which`: of what key) and nobody took back; rows that name a serial last, then the newest first. */
function rowsOfReports(db: Db, visitId: string, which = ""): BookedRow[] {
  return db.$client
    .prepare(
      `SELECT id, item_code AS itemCode, quantity_c AS quantityC FROM movement m
       WHERE kind = 'installed' AND visit_id = @visitId
         AND substr(key, 1, length(@prefix)) = @prefix
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       ORDER BY serial IS NOT NULL, id DESC`,
    )
    .all({ visitId, prefix: `installed ${visitId} report ${which}` }) as BookedRow[];
}

/**
 * Puts rows of an item back on the vehicle until no more than `usedC` is booked; gives what is booked then. Refused when
 * the ledger knows that a piece went on since, such as one that was found faulty.
 */
function putBack(
  db: Db,
  own: readonly BookedRow[],
  usedC: number,
  key: string,
  by: Reporter,
): Result<number> {
  let bookedC = own.reduce((sum, r) => sum + r.quantityC, 0);
  for (const r of own) {
    if (bookedC <= usedC) break;
    try {
      reverseMovement(db, r.id, {
        key: `put back ${key} ${r.id}`,
        effectiveOn: by.today,
        postedAt: by.at,
        reason: ledgerReason("usedOtherwise", { name: by.name }),
        postedBy: by.name,
      });
    } catch (error) {
      const words = ledgerRefusal(error);
      if (words === undefined) throw error;
      return refused(
        problem(
          "uses",
          "ledger",
          r.itemCode,
          phrase("{{item}} cannot go back on the vehicle by the books: {{why}}.", {
            item: r.itemCode,
            why: words,
          }),
          phrase("Leave its use as it was reported, or ask logistics to settle it first."),
        ),
      );
    }
    bookedC -= r.quantityC;
  }
  return ok(bookedC);
}

/**
 * Posts the use of an item from the vehicles' balances, vehicle by vehicle, first expired first, as far as they hold it, and
 * gives how much that is: what went up must not stay on the vehicle by the books because it was more than lay there. Of pieces whose serials were read each is a row of its own, with its serial.
 */
function takeOffVehicle(
  db: Db,
  use: ReportedUse & { itemCode: string; quantityC: number },
  by: Reporter,
): number {
  const { vehicles, itemCode, visitId } = use;
  const expiry = new Map(loadLots(db, itemCode).map((l) => [l.code, l.expiresOn ?? NEVER]));
  const goodTo = (b: BalanceRow) => expiry.get(b.lotCode) ?? NEVER;
  const balances = loadBalances(db, itemCode)
    .filter((b) => b.drumSerial === "")
    .sort((a, b) => (goodTo(a) < goodTo(b) ? -1 : goodTo(a) > goodTo(b) ? 1 : 0));
  const rows = vehicles.flatMap((vehicle) => balances.filter((b) => b.placeCode === vehicle));
  let left = use.quantityC;
  const unread = [...(use.serials.get(itemCode) ?? [])];
  for (const [i, b] of rows.entries()) {
    let quantityC = Math.min(left, b.quantityC);
    if (quantityC <= 0) continue;
    left -= quantityC;
    const key = `installed ${use.key} ${itemCode} ${i}`;
    const row = {
      kind: "installed" as const,
      itemCode,
      lotCode: b.lotCode || undefined,
      owner: b.owner,
      fromPlace: b.placeCode,
      // Booked when it is reported: the issue to the vehicle may be younger than the work.
      effectiveOn: by.today,
      postedAt: by.at,
      visitId,
      reason: ledgerReason("used", { name: by.name }),
      postedBy: by.name,
    };
    for (; quantityC >= ONE_C && unread.length > 0; quantityC -= ONE_C) {
      const serial = unread.shift()!;
      postMovement(db, { ...row, key: `${key} ${serial}`, serial, quantityC: ONE_C });
    }
    if (quantityC > 0) postMovement(db, { ...row, key, quantityC });
  }
  return use.quantityC - left;
}
