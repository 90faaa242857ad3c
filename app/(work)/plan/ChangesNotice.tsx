"use client";

import { useEffect, useState } from "react";
import { ask } from "@/app/_client/ask";
import { Button, LinkButton } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { ChangeList } from "./OtherChanges";
import type { PlanChanges } from "./planChanges";

const EVERY_MILLIS = 5000;

/**
 * Tells a planner who has the plan open what others do to it, as they do it; nothing moves under the hand unasked. What two
 * looks in a row find is told: an edit of one's own is known here a moment before the page has it.
 */
export function ChangesNotice(props: { planId: number; revision: number; onRefresh: () => void }) {
  const { t } = useWords();
  const { planId, revision, onRefresh } = props;
  const [seen, setSeen] = useState<PlanChanges & { since: number }>();
  useEffect(() => {
    let isCurrent = true;
    let isDoubted = false;
    const look = async (): Promise<void> => {
      if (document.visibilityState !== "visible") return;
      const answer = await ask<PlanChanges>("/plan/changes", { plan: planId, since: revision });
      if (!isCurrent || !answer.ok) return;
      const isChanged = answer.value.state === "gone" || answer.value.revision !== revision;
      setSeen(isChanged && isDoubted ? { ...answer.value, since: revision } : undefined);
      isDoubted = isChanged;
    };
    const timer = setInterval(look, EVERY_MILLIS);
    document.addEventListener("visibilitychange", look);
    return () => {
      isCurrent = false;
      setSeen(undefined);
      clearInterval(timer);
      document.removeEventListener("visibilitychange", look);
    };
  }, [planId, revision]);

  if (seen?.state === "gone") {
    return (
      <Notice
        kind="warn"
        announce
        title={t("Draft {{plan}} was discarded meanwhile", { plan: String(planId) })}
        action={<LinkButton href="/plan">{t("Open the plan in force")}</LinkButton>}
      />
    );
  }
  // What was found of an earlier state of the plan says nothing of the one that the page shows.
  if (seen?.since !== revision) return null;
  return (
    <Notice
      kind="info"
      announce
      title={t("Plan {{plan}} was changed while you have it open", { plan: String(planId) })}
      action={<Button onClick={onRefresh}>{t("Show it as it is now")}</Button>}
    >
      <ChangeList changes={seen.changes} />
    </Notice>
  );
}
