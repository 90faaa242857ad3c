import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatCm, formatDate, formatQuantity } from "@/app/_ui/format";
import { kitLineName } from "@/app/_ui/language/kitLineName";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { KIT_STATES } from "@/app/_ui/states";
import { pickWords } from "@/app/(work)/kits/pickWords";
import type { Db } from "@/db/open";
import { lostOfKits } from "@/db/queries/kitLosses";
import { issuedShortWhy } from "@/db/queries/kitOut";
import { isShortSinceIssue, lineShortC, ridesOpened } from "@/db/queries/kitShort";
import { cutsMade } from "@/db/queries/ledger";
import type { LostRun } from "@/db/queries/lostRuns";
import { loadPlaces } from "@/db/queries/places";
import type { StoredKit } from "@/db/queries/plans";
import { isLeftOut, notOpenedOn } from "@/db/queries/vehicleOpened";
import type { DrumCut } from "@/lib/drums";
import type { CalendarDate } from "@/lib/time";

/** What is in the box, or what of the vehicle's opened unit it uses. */
const boxC = (l: StoredKit["lines"][number]): number => l.pickedC || l.boxC;

/** What the crew takes along, short lines first, each with its quantity as the kit's own page says it. */
export async function KitPart({
  db,
  planId,
  kit,
  vehicle,
  today,
  lostRuns,
  isDone,
  unitOf,
  cutting,
}: {
  db: Db;
  planId: number;
  kit: StoredKit;
  /** Where it was issued into, else what its crew drives. */
  vehicle: string | null;
  today: CalendarDate;
  /** By run: what was lost after the kit left. */
  lostRuns: ReadonlyMap<string, LostRun>;
  isDone: boolean;
  unitOf: ReadonlyMap<string, string>;
  cutting: readonly (DrumCut & { serial: string })[];
}) {
  const words = await serverWords();
  const { t, locale, amount } = words;
  const made = cutsMade(db);
  const cutOf = new Map(cutting.map((c) => [c.runId, c]));
  const unitOfLine = (l: StoredKit["lines"][number]) => unitOf.get(l.itemCode) ?? "piece";
  const lines = kit.lines
    .map((l) => ({
      ...l,
      lacksC: lineShortC(l, { state: kit.state, isDone }),
      lostRun: l.runId && l.pickedC === 0 ? lostRuns.get(l.runId) : undefined,
    }))
    .sort((a, b) => Number(b.lacksC > 0) - Number(a.lacksC > 0));
  const notOpened = notOpenedOn(db, { planId, kit, vehicle, isDone }, today);
  const isGone = (l: (typeof lines)[number]) => ridesOpened(l) && isLeftOut(notOpened.get(l.itemCode));
  const shortCount = lines.filter((l) => l.lacksC > 0 || isGone(l)).length;
  // As the kit's own page counts: what the vehicle has opened is not a line to pick.
  const opened = lines.filter((l) => ridesOpened(l) && !isGone(l)).length;
  const wanted = lines.filter((l) => !ridesOpened(l)).length;
  const isIssued = kit.state === "issued";
  const isNeverIssued = isDone && !isIssued;
  const lost = lostOfKits(db, kit.visitId).get(kit.visitId);
  const isShortLong = isShortSinceIssue(lines.map((l) => ({ ...l, lostC: lost?.get(l.itemCode) ?? 0 })));
  const why = isIssued && isShortLong ? issuedShortWhy(db, kit.visitId) : null;
  return (
    <Panel
      title={t("Kit")}
      note={`${pickWords(
        { state: kit.state, isNeverIssued },
        {
          place: [kit.placeCode, loadPlaces(db).find((p) => p.code === kit.placeCode)?.name]
            .filter(Boolean)
            .join(" "),
          day: formatDate(kit.pickOn, "weekday", locale),
        },
        t,
      )} ${formatQuantity(kit.massKg, "kg", 0, locale)}.`}
      actions={<Link href={`/kits/${kit.visitId}`}>{t("Pick list")}</Link>}
    >
      <p>
        {isNeverIssued ? (
          <StateMark state="warn">{t("No kit issued by the books")}</StateMark>
        ) : isIssued && shortCount > 0 ? (
          <StateMark state="short">{t("Issued, short by {{count}} lines", { count: shortCount })}</StateMark>
        ) : (
          <StateMark state={KIT_STATES[kit.state].state}>{t(KIT_STATES[kit.state].word)}</StateMark>
        )}
      </p>
      {why ? <p>{t("Said when it was issued: {{why}}", { why })}</p> : null}
      <Disclosure
        summary={`${t("{{count}} lines", { count: wanted })}${opened > 0 ? t(", {{opened}} more opened on the vehicle", { opened }) : ""}${shortCount > 0 ? t(", {{short}} short", { short: shortCount }) : ""}`}
        open={shortCount > 0}
        isOpenOnPaper
      >
        <ScrollRegion label={t("Kit")}>
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">{t("Item")}</th>
                <th scope="col" data-align="end">
                  {t("Quantity")}
                </th>
                <th scope="col">{t("From")}</th>
              </tr>
            </thead>
            <tbody>
              {lines.map((l) => {
                const unit = unitOfLine(l);
                const cut = l.runId ? cutOf.get(l.runId) : undefined;
                const isCut = l.runId ? made.get(l.runId) : undefined;
                return (
                  <tr key={`${l.itemCode} ${l.runId ?? ""} ${l.reason}`}>
                    <th scope="row">
                      {kitLineName(l.name, words)} <span className="text-quiet">{l.itemCode}</span>
                      {l.lacksC > 0 ? (
                        <StateMark state="short">
                          {l.lostRun
                            ? t("Lost after it was issued: {{reason}}", { reason: l.lostRun.reason })
                            : t("Short by {{quantity}}", { quantity: amount(l.lacksC / 100, unit) })}
                        </StateMark>
                      ) : null}
                    </th>
                    <td data-align="end">
                      {l.runId
                        ? formatCm(isCut?.quantityC ?? l.neededC, locale)
                        : amount(boxC(l) / 100, unit)}
                    </td>
                    <td>
                      {boxC(l) === 0
                        ? isGone(l)
                          ? t("not on the vehicle by the books: ask logistics")
                          : t("opened on the vehicle")
                        : cut
                          ? `${cut.serial}, ${formatCm(cut.fromMarkCm, locale)} ${t("to")} ${formatCm(cut.toMarkCm, locale)}`
                          : (isCut?.drumSerial ?? l.lotCode ?? "")}
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </ScrollRegion>
      </Disclosure>
    </Panel>
  );
}
