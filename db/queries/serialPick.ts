/** A piece goes into a kit's box by the serial on its label: its line is ticked and the serial is kept. */
import { phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import { isSameSerial } from "@/lib/stock";
import type { Db } from "../open";
import { pickLine } from "./kitPicking";
import { kitProblem } from "./kitProblem";
import { keepSerials, serialProblems, serialsInBox } from "./kitSerials";
import { lastMoveOf, wholeOrNothing } from "./ledger";
import type { By } from "./log";
import { loadKit } from "./plans";
import { serialAsKept } from "./serials";

export interface PickedPiece {
  itemCode: string;
  name: string;
  /** Serials of the item that are read into the box, this one included. */
  read: number;
  /** It lay there already. */
  isAgain: boolean;
}

/** Sent again it writes the same. A serial that the ledger does not know names no variant, so it ticks nothing. */
export function pickBySerial(
  db: Db,
  planId: number,
  { visitId, serial: typed }: { visitId: string; serial: string },
  by: By,
): Result<PickedPiece> {
  return wholeOrNothing(db, (): Result<PickedPiece> => {
    const kit = loadKit(db, planId, visitId);
    const wrong = kitProblem(kit, visitId, "open");
    if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
    const serial = serialAsKept(db, typed);
    const itemCode = lastMoveOf(db, serial)?.itemCode;
    const at = kit.lines.findIndex((l) => l.itemCode === itemCode && l.runId === null);
    const line = kit.lines[at];
    if (!line) return refused(notWanted(serial, itemCode));
    const inBox = serialsInBox(db, visitId).get(line.itemCode) ?? [];
    const { name } = line;
    if (inBox.some((other) => isSameSerial(other, serial)))
      return ok({ itemCode: line.itemCode, name, read: inBox.length, isAgain: true });
    const serials = [...inBox, serial];
    const problems = serialProblems(db, {
      ...{ visitId, itemCode: line.itemCode, serials },
      units: Math.floor(Math.max(line.boxC, line.pickedC) / 100),
      path: `line ${at + 1} (${line.itemCode})`,
    });
    if (problems.length > 0) return refused(...problems);
    const pickedC = Math.max(line.pickedC, serials.length * 100);
    const picked = pickLine(db, planId, visitId, at + 1, pickedC, by);
    if (!picked.ok) return picked;
    keepSerials(db, visitId, new Map([[line.itemCode, [serial]]]), by);
    return ok({ itemCode: line.itemCode, name, read: serials.length, isAgain: false });
  });
}

const notWanted = (serial: string, itemCode: string | undefined): Problem =>
  itemCode === undefined
    ? problem(
        "serial",
        "serial-unknown",
        serial,
        phrase("{{code}} is not wanted by this kit; nothing was ticked.", { code: serial }),
        phrase("If it is a new radio's serial, scan its shelf label and enter the serial under its line."),
      )
    : problem(
        "serial",
        "other-variant",
        serial,
        phrase("{{serial}} is {{item}} by the ledger.", { serial, item: itemCode }),
        phrase("Check the label: variants do not stand in for each other."),
      );
