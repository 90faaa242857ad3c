"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { formatAmount, formatCm, formatDate } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { StateMark } from "@/app/_ui/StateMark";
import type { KitLineView } from "@/db/queries/kits";
import { pick } from "../actions";
import { runWords, transferWords } from "./lineWords";
import { ScanPick } from "./ScanPick";

export interface PickListProps {
  visitId: string;
  lines: readonly KitLineView[];
  placeName: string;
  readOnly: boolean;
}

/** The list at the shelf: runs first, then items; a tick saves at once and can be taken back. */
export function PickList({ visitId, lines, placeName, readOnly }: PickListProps) {
  const done = lines.filter((l) => l.pickedC > 0).length;
  return (
    <Panel
      title="Pick list"
      note={`In picking order at ${placeName}. Whole units go into the box even where less is used; first expired first out.`}
      foot={`${done} of ${lines.length} lines picked.`}
      flush
    >
      {readOnly ? null : <ScanPick visitId={visitId} lines={lines} />}
      <ul>
        {lines.map((l) => (
          <Line key={l.lineNo} visitId={visitId} line={l} readOnly={readOnly} />
        ))}
      </ul>
    </Panel>
  );
}

function Line({ visitId, line: l, readOnly }: { visitId: string; line: KitLineView; readOnly: boolean }) {
  const [quantity, setQuantity] = useState(String((l.pickedC || l.boxC) / 100));
  const { send, busy, problems } = useSend(pick);
  const isPicked = l.pickedC > 0;
  const name = `${l.itemCode} ${l.name}`;
  const waitsForCut = l.runId !== null && l.cut === null;

  function save(value: number): void {
    send({ visitId, lineNo: l.lineNo, quantity: value }, () => undefined);
  }

  return (
    <li className="grid gap-2 border-t border-line px-4 py-3" data-picked={isPicked}>
      <div className="flex flex-wrap items-start gap-x-4 gap-y-2">
        <div className="min-w-0 flex-1 basis-64">
          <strong>{l.itemCode}</strong> {l.name}
          <p className="text-quiet">
            {whereWords(l)}
            {l.neededC !== l.boxC ? ` Used: ${formatAmount(l.neededC / 100, l.unit)}.` : ""}
            {l.transfers.length > 0 ? ` ${transferWords(l)}.` : ""}
          </p>
          <details>
            <summary className="text-quiet">Why so much</summary>
            <p>{l.reason}</p>
          </details>
        </div>
        <div className="flex flex-wrap items-center gap-3">
          <span className="min-w-20 text-right font-semibold">
            {l.runId ? formatCm(l.cut?.quantityC ?? l.neededC) : formatAmount(l.boxC / 100, l.unit)}
          </span>
          {l.missingC > 0 ? (
            <StateMark state="short">{formatAmount(l.missingC / 100, l.unit)} short</StateMark>
          ) : l.runId && !l.cut && l.shortC > 0 ? (
            <StateMark state="short" />
          ) : null}
          {readOnly ? (
            <StateMark state={isPicked ? "done" : "open"}>
              {isPicked ? formatAmount(l.pickedC / 100, l.unit) : "not picked"}
            </StateMark>
          ) : waitsForCut ? (
            <StateMark state="open">Cut it first</StateMark>
          ) : (
            <>
              {l.runId ? null : (
                <label className="flex items-center gap-2">
                  <span className="sr-only">Picked quantity of {name}</span>
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
                kind={isPicked ? "quiet" : "primary"}
                glyph={isPicked ? "pass" : undefined}
                busy={busy}
                aria-pressed={isPicked}
                onClick={() =>
                  save(isPicked ? 0 : l.runId ? (l.cut?.quantityC ?? 0) / 100 : Number(quantity))
                }
              >
                {isPicked ? "Picked" : "Pick"} <span className="sr-only">{name}</span>
              </Button>
            </>
          )}
        </div>
      </div>
      <ProblemList problems={problems} />
    </li>
  );
}

function whereWords(l: KitLineView): string {
  if (l.runId) return runWords(l);
  if (l.sources.length === 0) return l.pickedC > 0 ? "" : "None on this shelf.";
  return `${l.sources
    .map((s) => {
      const lot = s.lotCode ? `lot ${s.lotCode}` : "no lot";
      const good = s.expiresOn ? `, good to ${formatDate(s.expiresOn, "day")}` : "";
      const claimed = s.isClaimed ? ", counted on by a kit that is picked earlier" : "";
      return `${formatAmount(s.quantityC / 100, l.unit)}: ${lot}${good}${claimed}`;
    })
    .join("; ")}.`;
}
