/** Cable that no run used, by the ledger and the crews' reports; remnants on the rack; and scrapping one. */

import { phrase, shortFigure } from "@/lib/phrase";
import { type Result, refused, sentences } from "@/lib/result";
import type { Offcut, Remnant, ScrapReason } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { item } from "../schema";
import { loadDrumAccounts, standingDrum } from "./drumViews";
import { ledgerReason } from "./ledgerReasons";
import type { By } from "./log";
import { recordMovement } from "./movements";
import { STANDING } from "./reports";

/**
 * Scrap of drums, the saw allowance of every cut, what crews reported as left of runs, and pieces that were lost; rows
 * taken back are left out. A run leaves the ledger when it is cut, so what is left of it is in no row and counted once.
 */
export function loadOffcuts(db: Db, from: CalendarDate, to: CalendarDate): Offcut[] {
  return db.$client
    .prepare(
      `SELECT m.item_code AS itemCode, m.effective_on AS "on", m.quantity_c AS lengthC,
              CASE WHEN m.run_id IS NOT NULL THEN 'saw allowance'
                   ELSE COALESCE(m.scrap_reason, 'no reason given') END AS reason,
              i.price_minor AS priceMinor, i.currency
       FROM movement m JOIN item i ON i.code = m.item_code
       WHERE m.kind = 'scrap' AND m.drum_serial IS NOT NULL AND m.effective_on BETWEEN @from AND @to
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       UNION ALL
       SELECT u.item_code, v.worked_on, u.left_c, 'left at the site', i.price_minor, i.currency
       FROM report_use u JOIN visit_report v ON v.id = u.report_id JOIN item i ON i.code = u.item_code
       WHERE u.run_id IS NOT NULL AND u.left_c > 0 AND ${STANDING} AND v.worked_on BETWEEN @from AND @to
       UNION ALL
       SELECT m.item_code, x.lost_on, m.quantity_c, 'lost after the cut', i.price_minor, i.currency
       FROM run_loss x JOIN movement m ON m.id = x.cut_id JOIN item i ON i.code = m.item_code
       WHERE x.lost_on BETWEEN @from AND @to
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       ORDER BY 2, 1`,
    )
    .all({ from, to }) as Offcut[];
}

/** Metres cut for runs in these days, by cable: what the offcuts are held against. */
export function cutByItem(db: Db, from: CalendarDate, to: CalendarDate): Map<string, number> {
  const rows = db.$client
    .prepare(
      `SELECT m.item_code AS itemCode, SUM(m.quantity_c) AS lengthC FROM movement m
       WHERE m.kind = 'cut' AND m.effective_on BETWEEN @from AND @to
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY m.item_code`,
    )
    .all({ from, to }) as { itemCode: string; lengthC: number }[];
  return new Map(rows.map((r) => [r.itemCode, r.lengthC]));
}

/** Drums of which something was taken and something is left, the shortest first. */
export function loadRemnants(db: Db): Remnant[] {
  const prices = new Map(
    db
      .select({ code: item.code, priceMinor: item.priceMinor, currency: item.currency })
      .from(item)
      .all()
      .map((i) => [i.code, i]),
  );
  return loadDrumAccounts(db)
    .flatMap(({ serial, itemCode, placeCode, remainingC, receivedC }) =>
      placeCode !== null && remainingC < receivedC
        ? [
            {
              serial,
              itemCode,
              placeCode,
              remainingC,
              receivedC,
              priceMinor: prices.get(itemCode)?.priceMinor ?? 0,
              currency: prices.get(itemCode)?.currency ?? "",
            },
          ]
        : [],
    )
    .sort((a, b) => a.remainingC - b.remainingC || (a.serial < b.serial ? -1 : 1));
}

export interface ScrapNote {
  serial: string;
  /** As the person who scraps it saw it: another figure means that somebody cut meanwhile. */
  remainingC: number;
  scrapReason: ScrapReason;
  /** In the person's own words; may be empty. */
  note: string;
  today: CalendarDate;
  key: string;
}

/** Scraps all that is left on a drum, with the reason. */
export function scrapRemnant(db: Db, scrap: ScrapNote, by: By): Result<{ id: number }> {
  const standing = standingDrum(db, scrap.serial);
  if (!standing)
    return refused({
      path: "serial",
      rule: "drum-empty",
      value: scrap.serial,
      ...sentences(
        phrase("Nothing is left on drum {{serial}}, or there is no such drum.", { serial: scrap.serial }),
        phrase("Reload the page."),
      ),
    });
  if (standing.remainingC !== scrap.remainingC)
    return refused({
      path: "remaining",
      rule: "drum-changed",
      value: scrap.remainingC / 100,
      ...sentences(
        phrase("Drum {{serial}} has {{remaining}} m left, not {{asked}} m.", {
          serial: scrap.serial,
          remaining: shortFigure(standing.remainingC / 100),
          asked: shortFigure(scrap.remainingC / 100),
        }),
        phrase("Reload the page, and decide by what is left now."),
      ),
    });
  return recordMovement(
    db,
    {
      kind: "scrap",
      itemCode: standing.itemCode,
      fromPlace: standing.placeCode,
      quantity: standing.remainingC / 100,
      drumSerial: scrap.serial,
      on: scrap.today,
      today: scrap.today,
      scrapReason: scrap.scrapReason,
      reason: scrap.note
        ? `${scrap.scrapReason}: ${scrap.note}`
        : ledgerReason("scrapped", { why: scrap.scrapReason }),
      key: scrap.key,
    },
    by,
  );
}
