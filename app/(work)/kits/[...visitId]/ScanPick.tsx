"use client";

import { useState } from "react";
import { ScanField } from "@/app/_client/scan/ScanField";
import { useSend } from "@/app/_client/useSend";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { KitLineView } from "@/db/queries/kitView";
import { lineOfScan, readLabel } from "@/lib/labels";
import { pick, pickPiece } from "../actions";
import { offeredC } from "./lineWords";
import { otherLotWords } from "./otherLotWords";

export interface ScanPickProps {
  visitId: string;
  lines: readonly KitLineView[];
}

/** Ticks the line of what is scanned, with the quantity that goes into the box; says so when the kit does not want it. */
export function ScanPick({ visitId, lines }: ScanPickProps) {
  const { t } = useWords();
  const { send, problems } = useSend(pick);
  const piece = useSend(pickPiece);
  const takesSerials = lines.some((l) => l.takesSerials);
  const [said, setSaid] = useState("");
  const [wrong, setWrong] = useState("");

  function take(text: string): void {
    const { kind, code } = readLabel(text);
    const scan = lineOfScan(
      lines.map((l) => ({
        lineNo: l.lineNo,
        itemCode: l.itemCode,
        lotCodes: l.sources.map((s) => s.lotCode).filter(Boolean),
        otherLotCodes: l.otherLots.map((o) => o.lotCode),
        cutFrom: l.cut?.drumSerial ?? null,
        isPicked: l.pickedC > 0,
      })),
      text,
    );
    const line = scan.found === "none" ? undefined : lines.find((l) => l.lineNo === scan.lineNo);
    const quantityC = line?.runId ? (line.cut?.quantityC ?? 0) : line ? offeredC(line) : 0;
    setSaid("");
    setWrong("");
    piece.clear();
    if (!line && kind === undefined && takesSerials)
      piece.send({ visitId, serial: code }, ({ itemCode, name, read, isAgain }) => {
        const item = { item: itemCode, name, serial: code };
        setSaid(
          isAgain
            ? t("{{item}} {{name}} {{serial}} is in the box already.", item)
            : t("{{item}} {{name}} {{serial}} ticked; {{count}} serials read.", { ...item, count: read }),
        );
        return undefined;
      });
    else if (!line) setWrong(t("{{code}} is not wanted by this kit; nothing was ticked.", { code }));
    else if (scan.found === "other lot") setWrong(otherLotWords(line, code, t));
    else if (scan.found === "picked")
      setSaid(t("{{item}} {{name}} is in the box already.", { item: line.itemCode, name: line.name }));
    else if (quantityC === 0)
      setWrong(t("{{item}} {{name}}: the run is not cut yet.", { item: line.itemCode, name: line.name }));
    else
      send({ visitId, lineNo: line.lineNo, quantity: quantityC / 100 }, () => {
        setSaid(t("{{item}} {{name}} ticked.", { item: line.itemCode, name: line.name }));
        return undefined;
      });
  }

  return (
    <div className="grid gap-2 px-4 py-3">
      <ScanField
        label={t("Scan what you put into the box")}
        hint={
          takesSerials
            ? t("A shelf label, a lot, a radio's serial, or the drum a run was cut from.")
            : t("A shelf label, a lot, or the drum a run was cut from.")
        }
        error={wrong || undefined}
        onScan={take}
      />
      <p role="status">{said}</p>
      <ProblemList problems={[...problems, ...piece.problems]} />
    </div>
  );
}
