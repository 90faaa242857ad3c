/** A cut piece that left with its kit and was lost or spoilt: its run wants another; or it turned up again. */
import { eq } from "drizzle-orm";
import { phrase } from "@/lib/phrase";
import { ok, problem, type Result, refused } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { runLoss } from "../schema";
import { kitProblem } from "./kitProblem";
import { cutsMade, wholeOrNothing } from "./ledger";
import { addLogEntry, type By } from "./log";
import { loadKit, type PlanHead, setPicked } from "./plans";
import { usesOfVisit } from "./reports";

export interface LostRun {
  runId: string;
  cutId: number;
  drumSerial: string;
  quantityC: number;
  lostOn: CalendarDate;
  reason: string;
  recordedBy: string;
}

/** What was lost of a visit's runs, by run, the last loss of each; cuts that were taken back are left out. */
export function lostRunsOf(db: Db, visitId: string): Map<string, LostRun> {
  const rows = db.$client
    .prepare(
      `SELECT m.run_id AS runId, m.id AS cutId, m.drum_serial AS drumSerial, m.quantity_c AS quantityC,
              x.lost_on AS lostOn, x.reason, x.recorded_by AS recordedBy
       FROM run_loss x JOIN movement m ON m.id = x.cut_id
       WHERE m.visit_id = ? AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       ORDER BY m.id`,
    )
    .all(visitId) as LostRun[];
  return new Map(rows.map((r) => [r.runId, r]));
}

export interface LostNote {
  visitId: string;
  lineNo: number;
  reason: string;
  today: CalendarDate;
}

/** Takes a piece out of its issued kit; its metres stay gone from the drum. */
export function loseRun(db: Db, plan: Pick<PlanHead, "id">, note: LostNote, by: By): Result<number> {
  return wholeOrNothing(db, () => {
    const { visitId, lineNo, reason, today } = note;
    const kit = loadKit(db, plan.id, visitId);
    const wrong = kitProblem(kit, visitId, "issued");
    if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
    const line = kit.lines[lineNo - 1];
    const cut = line?.runId ? cutsMade(db).get(line.runId) : undefined;
    if (!line || !cut || line.pickedC === 0)
      return refused(
        problem(
          `line ${lineNo}`,
          "run-not-out",
          lineNo,
          phrase("No cut piece of this run left with the kit."),
          phrase("Reload the page; somebody may have noted it already."),
        ),
      );
    if (usesOfVisit(db, visitId).some((u) => u.runId === cut.runId && u.usedC > 0))
      return refused(
        problem(
          `line ${lineNo}`,
          "run-used",
          lineNo,
          phrase("The crew reported the run as used."),
          phrase("Let the crew correct its report first."),
        ),
      );
    db.insert(runLoss)
      .values({ cutId: cut.id, lostOn: today, reason, recordedBy: by.name, recordedAt: by.at })
      .run();
    setPicked(db, plan.id, visitId, lineNo, 0);
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "run lost",
      subject: `run ${cut.runId}`,
      detail: { visit: visitId, metres: cut.quantityC / 100, reason },
    });
    return ok(cut.quantityC);
  });
}

/** The lost piece is there after all: as long as no other was cut for its run. */
export function findRunAgain(
  db: Db,
  plan: Pick<PlanHead, "id">,
  { visitId, lineNo }: Pick<LostNote, "visitId" | "lineNo">,
  by: By,
): Result<number> {
  return wholeOrNothing(db, () => {
    const kit = loadKit(db, plan.id, visitId);
    const wrong = kitProblem(kit, visitId, "issued");
    if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
    const runId = kit.lines[lineNo - 1]?.runId ?? "";
    const lost = lostRunsOf(db, visitId).get(runId);
    if (!lost || cutsMade(db).has(runId))
      return refused(
        problem(
          `line ${lineNo}`,
          "run-not-lost",
          lineNo,
          phrase("The run is not lost, or another was cut for it."),
          phrase("Take the newer cut back in the ledger first if the old piece goes up."),
        ),
      );
    db.delete(runLoss).where(eq(runLoss.cutId, lost.cutId)).run();
    setPicked(db, plan.id, visitId, lineNo, lost.quantityC, by.name);
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "run found again",
      subject: `run ${runId}`,
      detail: { visit: visitId, metres: lost.quantityC / 100 },
    });
    return ok(lost.quantityC);
  });
}
