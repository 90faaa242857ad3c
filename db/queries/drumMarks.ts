/** Where the cuts to make begin on their drums, by what the ledger says of them now. */
import { marksNow } from "@/lib/drums";
import { ON_ORDER } from "@/lib/programme";
import type { Db } from "../open";
import { loadDrumAccounts } from "./drumViews";
import { cutsMade } from "./ledger";
import { loadCutting } from "./plans";
import { rulesInForce } from "./programme";

/**
 * From which mark each cut that is not made begins, by run id, cm: on drums from which something of another length was cut
 * since the list was made the cable begins elsewhere, and whoever cuts must know before the list is made anew. A cut that
 * does not fit any more is left out.
 */
export function marksByRun(db: Db, planId: number): Map<string, number> {
  const drums = new Map(loadDrumAccounts(db).map((d) => [d.serial, d]));
  const made = cutsMade(db);
  const { sawAllowanceCm } = rulesInForce(db).cutPolicy;
  return new Map(
    loadCutting(db, planId)
      .flatMap((c) => c.drums)
      .flatMap(({ buy, drum: listed, cuts }) => {
        const now = buy || listed.placeId === ON_ORDER ? undefined : drums.get(listed.serial);
        if (!now) return [];
        const open = cuts.filter((c) => !made.has(c.runId));
        const from = { fromCm: now.receivedC - now.remainingC, receivedCm: now.receivedC };
        return marksNow(open, from, sawAllowanceCm).flatMap(({ runId, isCm }) =>
          isCm === undefined ? [] : [[runId, isCm] as const],
        );
      }),
  );
}

/** A listed cut where it begins by those marks; one that has none stays where the list has it. */
export function atMark<Cut extends { runId: string; fromMarkCm: number; lengthCm: number }>(
  cut: Cut,
  marks: ReadonlyMap<string, number>,
): Cut {
  const fromMarkCm = marks.get(cut.runId);
  return fromMarkCm === undefined ? cut : { ...cut, fromMarkCm, toMarkCm: fromMarkCm + cut.lengthCm };
}
