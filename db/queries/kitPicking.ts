/** Ticking a kit's lines off as they go into the box. */
import { phrase } from "@/lib/phrase";
import { ok, problem, type Result, refused } from "@/lib/result";
import type { Db } from "../open";
import { kitProblem } from "./kitProblem";
import { emptySerials, serialsInBox } from "./kitSerials";
import { cutsMade } from "./ledger";
import { addLogEntry, type By } from "./log";
import { loadKit, setKitState, setPicked } from "./plans";

/** Writes how much of a line is in the box. The first tick makes the kit "picked", so that it stays as it is. */
export function pickLine(
  db: Db,
  planId: number,
  visitId: string,
  lineNo: number,
  pickedC: number,
  by: By,
): Result<number> {
  const kit = loadKit(db, planId, visitId);
  const wrong = kitProblem(kit, visitId, "open");
  if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
  const line = kit.lines[lineNo - 1];
  if (!line || pickedC < 0)
    return refused(
      problem(
        `line ${lineNo}`,
        "kit-line",
        pickedC,
        phrase("There is no such line."),
        phrase("Reload the page."),
      ),
    );
  const cut = line.runId ? cutsMade(db).get(line.runId) : undefined;
  if (line.runId && pickedC > 0 && !cut)
    return refused(
      problem(
        `line ${lineNo} (${line.name})`,
        "run-not-cut",
        pickedC / 100,
        phrase("The run is not cut yet."),
        phrase("Confirm its cut on the drum first: Stock, Drums."),
      ),
    );
  setPicked(db, planId, visitId, lineNo, pickedC, pickedC > 0 ? by.name : null);
  // Fewer pieces than were read: which of them are left nobody said.
  if (!line.runId && (serialsInBox(db, visitId).get(line.itemCode) ?? []).length * 100 > pickedC)
    emptySerials(db, visitId, line.itemCode);
  if (cut && line.pickedC > 0 !== pickedC > 0) coilMoved(db, { cut, kit, cameOver: pickedC > 0 }, by);
  const others = kit.lines.some((l, i) => i !== lineNo - 1 && l.pickedC > 0);
  setKitState(db, planId, visitId, pickedC > 0 || others ? "picked" : "planned");
  return ok(pickedC);
}

/** The ledger knows the drum, which gave the metres away when it was cut: the way of a piece from elsewhere stands in the log. */
export function coilMoved(
  db: Db,
  of: {
    cut: { runId: string; placeCode: string; quantityC: number };
    kit: { visitId: string; placeCode: string };
    cameOver: boolean;
  },
  by: By,
): void {
  const { cut, kit, cameOver } = of;
  if (cut.placeCode === kit.placeCode) return;
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: cameOver ? "coil came over" : "coil not there after all",
    subject: `run ${cut.runId}`,
    detail: { visit: kit.visitId, from: cut.placeCode, to: kit.placeCode, metres: cut.quantityC / 100 },
  });
}

/**
 * A cut that was made for a kit of this plan is in its box when it was cut at the kit's warehouse. A coil from elsewhere
 * has to come over first: whoever lays it into the box ticks its line.
 */
export function pickCutRun(
  db: Db,
  planId: number,
  visitId: string,
  cut: { runId: string; quantityC: number; placeCode: string },
): void {
  const { runId, quantityC } = cut;
  const kit = loadKit(db, planId, visitId);
  const at = kit?.lines.findIndex((l) => l.runId === runId) ?? -1;
  if (!kit || at < 0 || kit.state === "issued" || kit.placeCode !== cut.placeCode) return;
  setPicked(db, planId, visitId, at + 1, quantityC);
  setKitState(db, planId, visitId, "picked");
}
