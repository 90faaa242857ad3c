"use client";

import { useRouter } from "next/navigation";
import { useState, useTransition } from "react";
import { Button } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";

import { Notice } from "@/app/_ui/Notice";
import type { Problem } from "@/lib/result";
import { applyImport, discard, previewImport } from "../actions";

interface ImportActionsProps {
  importId: string;
  /** Of the preview on show; undefined while there is none. */
  digest?: string;
  /** Rows that would be stored. */
  rows: number;
  /** Weather hours that would be stored. */
  hours: number;
  refused: number;
  /** False when no table could be read: there is nothing to say yes to. */
  isRead: boolean;
  /** A table waits for an answer; it stands above. */
  asks: boolean;
}

/** Brings all accepted rows in, or throws the import away. */
export function ImportActions({ importId, digest, rows, hours, refused, isRead, asks }: ImportActionsProps) {
  const words = useWords();
  const { t } = words;
  const router = useRouter();
  const [busy, start] = useTransition();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const run = (work: () => Promise<{ ok: boolean; problems?: readonly Problem[] }>) =>
    start(async () => {
      const answer = await work();
      setProblems(answer.ok ? [] : (answer.problems ?? []));
      router.refresh();
    });
  const isEmpty = rows + hours === 0;
  const what = [
    ...(rows > 0 ? [t("{{count}} rows", { count: rows })] : []),
    ...(hours > 0 ? [t("{{count}} hours", { count: hours })] : []),
  ].join(` ${t("and")} `);
  return (
    <div className="grid gap-2">
      {problems.map((p) => (
        <Notice key={p.rule} kind="problem" announce title={messageOf(p, words)}>
          {remedyOf(p, words)}
        </Notice>
      ))}
      <div className="ui-form-actions">
        {digest === undefined ? (
          <Button kind="primary" busy={busy} onClick={() => run(() => previewImport({ importId }))}>
            {t("Read the files")}
          </Button>
        ) : isRead && isEmpty && !asks ? (
          // Data that came since may let refused rows in.
          <Button kind="plain" busy={busy} onClick={() => run(() => previewImport({ importId }))}>
            {t("Read the files again")}
          </Button>
        ) : isRead && !isEmpty ? (
          <Button
            kind="primary"
            glyph="import"
            busy={busy}
            onClick={() => run(() => applyImport({ importId, digest }))}
          >
            {t("Bring {{what}} in", { what })}
          </Button>
        ) : null}
        <ConfirmButton
          kind="danger"
          question={t("Discard this import?")}
          consequence={t("The files are forgotten. What stands in the programme stays as it is.")}
          confirmWords={t("Discard")}
          onConfirm={async () => run(() => discard({ importId }))}
        >
          {t("Discard")}
        </ConfirmButton>
        <span className="text-quiet">
          {!isRead
            ? t("No table could be read yet: what is wrong and what to answer stands below.")
            : isEmpty && asks
              ? t("Waits for an answer: give it above and read the table again.")
              : isEmpty
                ? t("There is nothing to bring in: no row is new or changed.")
                : refused > 0
                  ? t("All of them or nothing. {{count}} refused rows are left out.", { count: refused })
                  : t("All of them or nothing.")}{" "}
          {asks && !isEmpty ? t("What waits for an answer above is left out.") : null}
        </span>
      </div>
    </div>
  );
}
