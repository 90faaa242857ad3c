"use client";

import { type ReactNode, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button, LinkButton } from "@/app/_ui/Button";
import { formatCm, formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { StateMark } from "@/app/_ui/StateMark";
import { ridesOpened } from "@/db/queries/kitShort";
import type { KitLineView } from "@/db/queries/kitView";
import { isLeftOut } from "@/db/queries/vehicleOpened";
import { cutPath } from "../../stock/words";
import { pick } from "../actions";
import { claimWords, notOpenedWords, offeredC, runWords, transferWords } from "./lineWords";
import { ScanPick } from "./ScanPick";
import { SerialsField } from "./SerialsField";

export interface PickListProps {
  visitId: string;
  lines: readonly KitLineView[];
  placeName: string;
  readOnly: boolean;
  /** Why each line has its quantity, by its number. */
  reasons: Readonly<Record<number, ReactNode>>;
}

/** The list at the shelf: runs first, then items; a tick saves at once and can be taken back. */
export function PickList({ visitId, lines, placeName, readOnly, reasons }: PickListProps) {
  const { t } = useWords();
  const wanted = lines.filter((l) => !ridesOpened(l));
  const done = wanted.filter((l) => l.isWhole).length;
  const parts = lines.filter((l) => l.pickedC > 0 && !l.isWhole).length;
  return (
    <Panel
      title={t("Pick list")}
      note={t(
        "In picking order at {{placeName}}. Whole units go into the box even where less is used, unless the vehicle has one opened; first expired first out.",
        { placeName },
      )}
      foot={`${t("{{done}} of {{lines}} lines picked.", { done, lines: wanted.length })}${
        parts > 0 ? ` ${t("{{count}} lines in part.", { count: parts })}` : ""
      }`}
      flush
    >
      {readOnly ? null : <ScanPick visitId={visitId} lines={lines} />}
      <ul>
        {lines.map((l) => (
          <Line key={l.lineNo} visitId={visitId} line={l} readOnly={readOnly} reason={reasons[l.lineNo]} />
        ))}
      </ul>
    </Panel>
  );
}

interface LineProps {
  visitId: string;
  line: KitLineView;
  readOnly: boolean;
  reason: ReactNode;
}

function Line({ visitId, line: l, readOnly, reason }: LineProps) {
  const words = useWords();
  const { t, locale, amount } = words;
  const [quantity, setQuantity] = useState(String((l.pickedC || offeredC(l)) / 100));
  const { send, busy, problems } = useSend(pick);
  const isPicked = l.pickedC > 0;
  const isPart = isPicked && !l.isWhole;
  const isOnVehicle = ridesOpened(l);
  const name = `${l.itemCode} ${l.name}`;
  const waitsForCut = l.runId !== null && l.cut === null;

  function save(value: number): void {
    send({ visitId, lineNo: l.lineNo, quantity: value }, () => undefined);
  }

  return (
    <li className="grid gap-2 border-t border-line px-4 py-3" data-picked={l.isWhole && !isOnVehicle}>
      <div className="flex flex-wrap items-start gap-x-4 gap-y-2">
        <div className="min-w-0 flex-1 basis-64">
          <strong>{l.itemCode}</strong> {l.name}
          <p className="text-quiet">
            {isOnVehicle
              ? l.notOpened
                ? notOpenedWords(l.notOpened, words, readOnly)
                : t("By then the vehicle has enough of it opened: nothing to pick.")
              : whereWords(l, words)}
            {l.neededC !== l.boxC
              ? ` ${t("Used: {{quantity}}.", { quantity: amount(l.neededC / 100, l.unit) })}`
              : ""}
            {l.comesOver ? ` ${transferWords(l, words)}.` : ""}
            {isOnVehicle || readOnly ? "" : ` ${claimWords(l, words)}`}
            {isOnVehicle ? "" : ` ${thingsWords(l, t)}`}
            {readOnly && l.serials.length > 0
              ? ` ${t("Serials: {{serials}}.", { serials: l.serials.join(", ") })}`
              : ""}
          </p>
          <details>
            <summary className="text-quiet">{t("Why so much")}</summary>
            <p>{reason}</p>
          </details>
        </div>
        <div className="flex flex-wrap items-center gap-3">
          <span className="min-w-20 text-right font-semibold">
            {l.runId ? formatCm(l.cut?.quantityC ?? l.neededC, locale) : amount(l.boxC / 100, l.unit)}
          </span>
          {l.missingC > 0 ? (
            <StateMark state="short">
              {t("{{quantity}} short", { quantity: amount(l.missingC / 100, l.unit) })}
            </StateMark>
          ) : l.cutPlace ? (
            <StateMark state="short">
              {t("cut at {{place}}, not come over yet", { place: l.cutPlace })}
            </StateMark>
          ) : l.runId && !l.cut && l.shortC > 0 ? (
            <StateMark state="short" />
          ) : isPart && !readOnly ? (
            <StateMark state="short">{partWords(l, words)}</StateMark>
          ) : null}
          {isLeftOut(l.notOpened) ? <StateMark state="short">{t("not on the vehicle")}</StateMark> : null}
          {l.lostC > 0 ? (
            <StateMark state="short">
              {t("{{quantity}} on hold by a fault", { quantity: amount(l.lostC / 100, l.unit) })}
            </StateMark>
          ) : readOnly ? (
            <StateMark state={isPart ? "short" : isPicked || isOnVehicle ? "done" : "open"}>
              {isOnVehicle
                ? l.notOpened
                  ? t("not in the box")
                  : t("on the vehicle")
                : isPart
                  ? partWords(l, words)
                  : isPicked
                    ? amount(l.pickedC / 100, l.unit)
                    : t("not picked")}
            </StateMark>
          ) : waitsForCut ? (
            <LinkButton size="small" href={cutPath(l.runId ?? "")}>
              {t("Cut it first")} <span className="sr-only">{name}</span>
            </LinkButton>
          ) : (
            <>
              {l.runId ? null : (
                <label className="flex items-center gap-2">
                  <span className="sr-only">{t("Picked quantity of {{name}}", { name })}</span>
                  <input
                    type="number"
                    inputMode="decimal"
                    min={0}
                    step={l.unit === "m" ? 0.01 : 1}
                    className="ui-input"
                    style={{ width: "5.5rem" }}
                    value={quantity}
                    onChange={(e) => setQuantity(e.target.value)}
                    onBlur={() => {
                      const value = Number(quantity);
                      if (isPicked && quantity !== "" && value * 100 !== l.pickedC) save(value);
                    }}
                  />
                </label>
              )}
              <Button
                kind={isPicked || isOnVehicle ? "quiet" : "primary"}
                glyph={isPicked && l.isWhole ? "pass" : undefined}
                busy={busy}
                aria-pressed={isPicked}
                onClick={() =>
                  save(isPicked ? 0 : l.runId ? (l.cut?.quantityC ?? 0) / 100 : Number(quantity))
                }
              >
                {isPart
                  ? t("Part picked")
                  : isPicked
                    ? t("Picked")
                    : isOnVehicle
                      ? t("Pick all the same")
                      : t("Pick")}{" "}
                <span className="sr-only">{name}</span>
              </Button>
            </>
          )}
        </div>
      </div>
      {l.takesSerials && isPicked && !readOnly ? <SerialsField visitId={visitId} line={l} /> : null}
      <ProblemList problems={problems} />
    </li>
  );
}

const partWords = (l: KitLineView, { t, amount }: Words): string =>
  t("{{picked}} of {{wanted}} picked", {
    picked: amount(l.pickedC / 100, l.unit),
    wanted: amount(l.boxC / 100, l.unit),
  });

/** What the line adds to the count of the box; the sum is left to whoever counts. */
function thingsWords({ countedAs, things }: KitLineView, t: Words["t"]): string {
  if (countedAs === "bag") return t("Counts as one bag.");
  if (countedAs === "length") return t("Counts as one length.");
  return countedAs === "run" ? t("Counts as one run.") : t("Counts as {{count}} things.", { count: things });
}

function whereWords(l: KitLineView, words: Words): string {
  const { t, locale, amount } = words;
  if (l.runId) return runWords(l, words);
  if (l.sources.length === 0) return l.pickedC > 0 || l.refill.length > 0 ? "" : t("None on this shelf.");
  // One heap without a lot and nobody else's: nothing to say.
  const [only] = l.sources;
  if (l.sources.length === 1 && only && !only.lotCode && !only.isClaimed) return "";
  return `${l.sources
    .map((s) => {
      const lot = s.lotCode ? t("lot {{lot}}", { lot: s.lotCode }) : t("no lot");
      const good = s.expiresOn
        ? t(", good to {{day}}", { day: formatDate(s.expiresOn, "full", locale) })
        : "";
      const claimed = s.isClaimed ? t(", counted on by others that come first") : "";
      return `${amount(s.quantityC / 100, l.unit)}: ${lot}${good}${claimed}`;
    })
    .join("; ")}.`;
}
