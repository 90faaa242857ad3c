"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { TextInput } from "@/app/_ui/Field";
import { formatCm, formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { KitLineView } from "@/db/queries/kitView";
import { foundRun, lostRun } from "../actions";
import { runWords } from "./lineWords";

export interface LostRunsPanelProps {
  visitId: string;
  /** Of an issued kit: runs that it left with, and those of which the piece was lost. */
  lines: readonly KitLineView[];
}

/** The cut runs of an issued kit: one that was lost or spoilt wants another, until it turns up. */
export function LostRunsPanel({ visitId, lines }: LostRunsPanelProps) {
  const words = useWords();
  const { t, locale } = words;
  const [lineNo, setLineNo] = useState<number>();
  const [reason, setReason] = useState("");
  const lose = useSend(lostRun);
  const find = useSend(foundRun);
  const asked = lines.find((l) => l.lineNo === lineNo);
  return (
    <Panel
      title={t("Cut runs")}
      note={t(
        "They left the ledger when they were cut. One that is lost or spoilt is cut anew and goes after the kit.",
      )}
      flush
    >
      <ul>
        {lines.map((l) => (
          <li key={l.lineNo} className="flex flex-wrap items-center gap-3 border-t border-line px-4 py-3">
            <span className="min-w-0 flex-1 basis-64">
              <strong>{l.itemCode}</strong> {l.name}, {formatCm(l.cut?.quantityC ?? l.neededC, locale)}{" "}
              <span className="text-quiet">
                {l.lostRun
                  ? t("Lost, noted on {{day}} by {{name}}: {{reason}}", {
                      day: formatDate(l.lostRun.lostOn, "day", locale),
                      name: l.lostRun.recordedBy,
                      reason: l.lostRun.reason,
                    })
                  : runWords(l, words)}
              </span>
            </span>
            {l.lostRun === null ? (
              <Button size="small" onClick={() => setLineNo(l.lineNo)}>
                {t("Lost or spoilt")} <span className="sr-only">{l.name}</span>
              </Button>
            ) : l.cut === null ? (
              <Button
                size="small"
                busy={find.busy}
                onClick={() =>
                  find.send({ visitId, lineNo: l.lineNo }, () => t("The run is in the kit again"))
                }
              >
                {t("It is there after all")} <span className="sr-only">{l.name}</span>
              </Button>
            ) : null}
          </li>
        ))}
      </ul>
      <ProblemList problems={find.problems} />
      <Dialog
        open={asked !== undefined}
        onClose={() => setLineNo(undefined)}
        title={t("Is the run lost or spoilt?")}
      >
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            lose.send({ visitId, lineNo: lineNo ?? 0, reason }, () => {
              setLineNo(undefined);
              setReason("");
              return t("Noted: the run is wanted again");
            });
          }}
        >
          <p>
            {asked ? `${asked.itemCode} ${asked.name}. ${runWords(asked, words)} ` : ""}
            {t("Its metres stay gone from the drum; the cutting list gives it another piece.")}
          </p>
          <TextInput
            label={t("What happened")}
            required
            minLength={3}
            maxLength={300}
            autoFocus
            value={reason}
            onChange={(e) => setReason(e.target.value)}
          />
          <ProblemList problems={lose.problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setLineNo(undefined)}>{t("Cancel")}</Button>
            <Button kind="danger" type="submit" busy={lose.busy}>
              {t("Cut another")}
            </Button>
          </div>
        </form>
      </Dialog>
    </Panel>
  );
}
