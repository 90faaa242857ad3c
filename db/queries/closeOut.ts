/** What went out for each hop, and what became of it. */
import { parseVisitId } from "@/lib/programme";
import { closeOut, type HopCloseOut, type HopMaterial } from "@/lib/stock";
import type { Db } from "../open";

interface MaterialRow extends Omit<HopMaterial, "hopCode"> {
  visitId: string;
}

/**
 * Rows of the ledger that name a visit, and what crews reported of runs; rows taken back are left out. The saw allowance
 * is the drum's loss, not the hop's. What went from the vehicle onto hold has come back; what was installed and then
 * failed was accounted for as installed. A run leaves the ledger when it is cut, so its use is what the report says.
 */
export function loadCloseOut(db: Db): HopCloseOut[] {
  const rows = db.$client
    .prepare(
      `SELECT m.visit_id AS visitId, m.item_code AS itemCode,
              SUM(CASE WHEN m.kind IN ('issue','cut') THEN m.quantity_c ELSE 0 END) AS issuedC,
              SUM(CASE WHEN m.kind IN ('return','quality hold') THEN m.quantity_c ELSE 0 END) AS returnedC,
              SUM(CASE WHEN m.kind = 'installed' THEN m.quantity_c ELSE 0 END) AS installedC,
              SUM(CASE WHEN m.kind = 'scrap' THEN m.quantity_c ELSE 0 END) AS scrappedC
       FROM movement m
       WHERE m.visit_id IS NOT NULL AND m.kind IN ('issue','cut','return','quality hold','installed','scrap')
         AND NOT (m.kind = 'quality hold' AND m.from_place IS NULL)
         AND (m.run_id IS NULL OR m.kind = 'cut')
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY m.visit_id, m.item_code
       UNION ALL
       SELECT v.visit_id, u.item_code, 0, 0, SUM(u.used_c), SUM(u.left_c)
       FROM report_use u JOIN visit_report v ON v.id = u.report_id
       WHERE u.run_id IS NOT NULL
         AND EXISTS (SELECT 1 FROM movement m WHERE m.run_id = u.run_id AND m.kind = 'cut'
                     AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id))
       GROUP BY v.visit_id, u.item_code`,
    )
    .all() as MaterialRow[];
  return closeOut(
    rows.flatMap(({ visitId, ...row }) => {
      const visit = parseVisitId(visitId);
      return visit ? [{ ...row, hopCode: visit.hopCode }] : [];
    }),
  );
}
