"use client";

import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import type { BoardVisit } from "@/app/_ui/PlanBoard";
import { useToast } from "@/app/_ui/Toast";
import { pin } from "./actions";

/** What can be done with the visits that are picked. */
export function GroupBar(props: {
  planId: number;
  revision: number;
  picked: readonly BoardVisit[];
  onMove: () => void;
  onDone: () => void;
  onLetGo: () => void;
}) {
  const words = useWords();
  const { t } = words;
  const { planId, revision, picked, onMove, onDone, onLetGo } = props;
  const toast = useToast();
  const [busy, setBusy] = useState<"pin" | "free">();
  const crews = new Set(picked.map((v) => v.crewId)).size;

  async function setPinned(isPinned: boolean): Promise<void> {
    setBusy(isPinned ? "pin" : "free");
    const answer = await pin({ planId, revision, visitIds: picked.map((v) => v.id), isPinned });
    setBusy(undefined);
    const problem = answer.ok ? undefined : answer.problems[0];
    toast(
      problem
        ? { kind: "problem", text: problemWords(problem, words) }
        : {
            kind: "good",
            text: isPinned
              ? t("Pinned: {{count}} visits.", { count: picked.length })
              : t("Unpinned: {{count}} visits.", { count: picked.length }),
          },
    );
    onDone();
  }

  return (
    <section className="ui-board-group" aria-label={t("Picked visits")}>
      <strong>
        {t("{{visits}} of {{crews}} picked", {
          visits: t("{{count}} visits", { count: picked.length }),
          crews: t("{{count}} crews", { count: crews }),
        })}
      </strong>
      <Button size="small" kind="primary" onClick={onMove}>
        {t("Move them …")}
      </Button>
      <Button size="small" glyph="pinned" busy={busy === "pin"} onClick={() => setPinned(true)}>
        {t("Pin")}
      </Button>
      <Button size="small" busy={busy === "free"} onClick={() => setPinned(false)}>
        {t("Unpin")}
      </Button>
      <Button size="small" kind="plain" onClick={onLetGo}>
        {t("Let go")}
      </Button>
    </section>
  );
}
