/** Coils that were cut at another warehouse than the one that packs their kit, and have not come over. */
import { and, eq, sql } from "drizzle-orm";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { kit, kitLine } from "../schema";
import { runsToFollow } from "./kitLosses";
import { neverIssued } from "./kitShort";
import { cutsMade } from "./ledger";

export interface CoilOnItsWay {
  runId: string;
  visitId: string;
  /** Its line of the kit: ticked off when the coil lies there. */
  lineNo: number;
  itemCode: string;
  quantityC: number;
  fromPlace: string;
  toPlace: string;
  cutOn: CalendarDate;
  cutBy: string;
  pickOn: CalendarDate;
  /** Its kit has left: the coil goes after it. */
  isOut: boolean;
}

/**
 * Of the kits of a plan, also of an issued one that left without it, but not of visits that are done; the kit that is
 * picked first comes first.
 */
export function coilsOnTheirWay(db: Db, planId: number): CoilOnItsWay[] {
  const cuts = cutsMade(db);
  const following = runsToFollow(db);
  return db
    .select({
      runId: kitLine.runId,
      visitId: kit.visitId,
      lineNo: kitLine.lineNo,
      itemCode: kitLine.itemCode,
      pickedC: kitLine.pickedC,
      toPlace: kit.placeCode,
      state: kit.state,
      pickOn: kit.pickOn,
    })
    .from(kitLine)
    .innerJoin(kit, and(eq(kit.planId, kitLine.planId), eq(kit.visitId, kitLine.visitId)))
    .where(and(eq(kitLine.planId, planId), sql`NOT ${sql.raw(neverIssued("kit"))}`))
    .orderBy(kit.pickOn, kit.visitId, kitLine.lineNo)
    .all()
    .flatMap(({ runId, pickedC, state, ...line }) => {
      const cut = runId === null ? undefined : cuts.get(runId);
      const isOut = state === "issued";
      if (!cut || pickedC > 0 || cut.placeCode === line.toPlace) return [];
      if (isOut && !following.has(cut.runId)) return [];
      return [
        {
          ...line,
          isOut,
          runId: cut.runId,
          quantityC: cut.quantityC,
          fromPlace: cut.placeCode,
          cutOn: cut.effectiveOn,
          cutBy: cut.postedBy,
        },
      ];
    });
}
