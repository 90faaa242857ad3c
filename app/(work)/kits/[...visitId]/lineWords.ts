import { formatCm, formatDate } from "@/app/_ui/format";
import { visitName } from "@/app/_ui/language/visitName";
import type { Words } from "@/app/_ui/language/words";
import type { KitLineView } from "@/db/queries/kitView";
import type { NotOpened } from "@/db/queries/vehicleOpened";

/** What a press or a scan picks: what the box needs; where the vehicle has enough opened, one unit all the same. */
export const offeredC = ({ boxC }: Pick<KitLineView, "boxC">): number => boxC || 100;

/** Where the run of a line comes from: its drum, the marks, and whether it must come over from another warehouse. */
export function runWords(l: KitLineView, { t, locale }: Words): string {
  if (l.cut && l.cutPlace)
    return t("Cut from {{drum}} at {{place}} on {{day}}, not come over yet. Run {{run}}.", {
      drum: l.cut.drumSerial,
      place: l.cutPlace,
      day: formatDate(l.cut.effectiveOn, "day", locale),
      run: l.runId ?? "",
    });
  if (l.cut)
    return t("Cut from {{drum}} on {{day}}. Run {{run}}.", {
      drum: l.cut.drumSerial,
      day: formatDate(l.cut.effectiveOn, "day", locale),
      run: l.runId ?? "",
    });
  // The list that names another's drum is made anew after the loss; for a visit that is done there is none.
  if (!l.drumSerial && l.lostRun)
    return `${t("Lost, noted on {{day}} by {{name}}: {{reason}}", {
      day: formatDate(l.lostRun.lostOn, "day", locale),
      name: l.lostRun.recordedBy,
      reason: l.lostRun.reason,
    })}. ${t("Run {{run}}.", { run: l.runId ?? "" })}`;
  if (!l.drumSerial && l.isDone)
    return t("No cut of it is recorded, and its visit is done. Run {{run}}.", { run: l.runId ?? "" });
  if (!l.drumSerial) return t("No drum on hand gives it yet. Run {{run}}.", { run: l.runId ?? "" });
  const drum = l.drumPlace
    ? t("Drum {{drum}} at {{place}}", { drum: l.drumSerial, place: l.drumPlace })
    : t("Drum {{drum}}", { drum: l.drumSerial });
  const marks = l.marks
    ? t(", marks {{from}} to {{to}}", {
        from: formatCm(l.marks.fromCm, locale),
        to: formatCm(l.marks.toCm, locale),
      })
    : "";
  const run = t("Run {{run}}.", { run: l.runId ?? "" });
  const over = l.drumPlace
    ? ` ${t("It is cut at {{place}}; the coil comes over.", { place: l.drumPlace })}`
    : "";
  return `${drum}${marks}. ${run}${over}`;
}

/** Why what the plan has riding on the vehicle is not there, and what to do. */
export function notOpenedWords({ vehicle, broughtBy }: NotOpened, { t }: Words, hasLeft: boolean): string {
  if (hasLeft && !broughtBy)
    return t("{{vehicle}} has too little of it opened by the books: send one after the kit.", { vehicle });
  return broughtBy
    ? t("{{vehicle}} has none opened yet: the kit of {{visit}} brings it, and has not left.", {
        vehicle,
        visit: visitName(broughtBy, t),
      })
    : t(
        "{{vehicle}} has too little of it opened by the books, and no kit before this one brings it: pick one.",
        {
          vehicle,
        },
      );
}

/** Names of claims that a line has room for. */
const NAMED = 3;

/** "On the shelf: 10 pieces, of it 4 pieces for others first: 3 pieces for VH001 near, ..."; "" = all is free. */
export function claimWords(l: Pick<KitLineView, "claims" | "shelfC" | "unit">, { t, amount }: Words): string {
  const claimedC = Math.min(
    l.shelfC,
    l.claims.reduce((sum, c) => sum + c.quantityC, 0),
  );
  if (claimedC === 0) return "";
  const by = l.claims.slice(0, NAMED).map((c) => {
    const values = { kit: visitName(c.visitId, t), quantity: amount(c.quantityC / 100, l.unit) };
    return c.isReplacement
      ? t("{{quantity}} to replace what {{kit}} lost", values)
      : t("{{quantity}} for {{kit}}", values);
  });
  const more = l.claims.length - by.length;
  return t("On the shelf: {{shelf}}, of it {{claimed}} for others first: {{by}}.", {
    claimed: amount(claimedC / 100, l.unit),
    shelf: amount(l.shelfC / 100, l.unit),
    by: [...by, more > 0 ? t("{{count}} more", { count: more }) : ""].filter(Boolean).join(", "),
  });
}

/** On paper only what this kit would take of theirs has room; undefined = there is enough for all. */
export function takenFromOthers(
  l: Pick<KitLineView, "sources" | "unit">,
  { t, amount }: Words,
): string | undefined {
  const theirsC = l.sources.reduce((sum, s) => sum + (s.isClaimed ? s.quantityC : 0), 0);
  return theirsC > 0
    ? t("{{quantity}} for others first", { quantity: amount(theirsC / 100, l.unit) })
    : undefined;
}

/** "Transfer by Tue 17 Mar: 4 pieces from WH-WEST, here on Wed 18 Mar (proposed)"; undefined when nothing comes over. */
export function transferWords(l: KitLineView, { t, locale, amount }: Words): string | undefined {
  if (!l.comesOver) return undefined;
  const next = l.comesOver.transfer;
  if (!next) return t("What comes over by transfer goes to kits before it");
  const values = {
    send: formatDate(next.sendOn, "weekday", locale),
    quantity: amount(next.quantity, l.unit),
    from: next.fromPlace,
    arrive: formatDate(next.arriveOn, "weekday", locale),
    state: t(next.state),
  };
  return next.isTooLate
    ? t(
        "Transfer by {{send}}: {{quantity}} from {{from}}, here on {{arrive}}: too late for this kit ({{state}})",
        values,
      )
    : t("Transfer by {{send}}: {{quantity}} from {{from}}, here on {{arrive}} ({{state}})", values);
}
