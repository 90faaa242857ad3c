import { kitLineName } from "@/app/_ui/language/kitLineName";
import type { Words } from "@/app/_ui/language/words";
import { ridesOpened } from "@/db/queries/kitShort";
import type { StoredUse } from "@/db/queries/reports";
import { usedAsPlanned } from "@/lib/programme";
import type { CatalogueItem } from "@/lib/site";
import type { ReportLine } from "./ReportForm";

interface KitLine {
  itemCode: string;
  name: string;
  runId: string | null;
  drumSerial: string | null;
  neededC: number;
  boxC: number;
  pickedC: number;
}

/**
 * Lines of the material that a report may tell of: the kit's, and what was reported of others. A kit that was never
 * issued goes with the work that is done, and its material would then be lost in a correction.
 */
export function reportLines(
  kitLines: readonly KitLine[],
  uses: readonly StoredUse[],
  {
    correctedId,
    isIssued,
    lostRuns,
    leftOut,
    items,
    words,
  }: {
    correctedId?: number;
    isIssued: boolean;
    /** By run: what was lost after the kit left. */
    lostRuns: ReadonlyMap<string, unknown>;
    /** Items that should be opened on the vehicle, and are not by the books. */
    leftOut: ReadonlySet<string>;
    items: readonly CatalogueItem[];
    words: Words;
  },
): ReportLine[] {
  const itemOf = new Map(items.map((i) => [i.code, i]));
  const isOf = (line: { itemCode: string; runId: string | null }) => (u: StoredUse) =>
    u.itemCode === line.itemCode && u.runId === line.runId;
  const others = uses.filter((u, at) => !kitLines.some((l) => isOf(l)(u)) && uses.findIndex(isOf(u)) === at);
  return [
    ...kitLines,
    ...others.map((u) => ({
      ...u,
      name: itemOf.get(u.itemCode)?.name ?? u.itemCode,
      neededC: 0,
      boxC: 0,
      pickedC: 0,
    })),
  ].map((l): ReportLine => {
    const own = uses.filter(isOf(l));
    const ofLast = own.filter((u) => u.reportId === correctedId);
    const unit = itemOf.get(l.itemCode)?.unit ?? "piece";
    const needed = l.neededC / 100;
    const isOnVehicle = l.neededC > 0 && ridesOpened(l);
    const isLeftOut = isOnVehicle && l.runId === null && leftOut.has(l.itemCode);
    return {
      itemCode: l.itemCode,
      name: kitLineName(l.name, words),
      runId: l.runId,
      drumSerial: l.drumSerial,
      needed,
      // A run is hung as it was cut, which need not be as it was listed.
      planned:
        l.runId && l.pickedC > 0 ? l.pickedC / 100 : onVehicle(l, usedAsPlanned(needed, unit), isIssued),
      // Nothing of it can be used unless the crew says so.
      missing: isLeftOut
        ? "not on the vehicle"
        : !isIssued || l.boxC === 0 || l.pickedC > 0
          ? undefined
          : l.runId && lostRuns.has(l.runId)
            ? "lost since"
            : "left behind",
      isOpened: isOnVehicle && !isLeftOut,
      isMetres: unit === "m",
      isInPieces: unit === "piece",
      reported:
        correctedId === undefined
          ? undefined
          : { used: sumOf(ofLast, "usedC"), left: sumOf(ofLast, "leftC") },
      usedBefore: sumOf(own, "usedC") - sumOf(ofLast, "usedC"),
    };
  });
}

/** Of whole needs no more than the crew has of an issued kit: it left with less, or a fault took some. */
const onVehicle = (
  { neededC, boxC, pickedC }: { neededC: number; boxC: number; pickedC: number },
  planned: number,
  isIssued: boolean,
): number =>
  isIssued && neededC % 100 === 0 && pickedC > 0 && pickedC < boxC
    ? Math.min(planned, pickedC / 100)
    : planned;

const sumOf = (uses: readonly StoredUse[], of: "usedC" | "leftC"): number =>
  uses.reduce((sum, u) => sum + u[of], 0) / 100;
