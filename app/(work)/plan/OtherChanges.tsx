"use client";

import { useEffect, useState } from "react";
import { ask } from "@/app/_client/ask";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { type PlanChanges, placeWords } from "./planChanges";

export interface OtherChangesProps {
  planId: number;
  /** The revision that this planner has read. */
  since: number;
  /** To go on with one's own on top of what others did; gives the revision that one has read then. */
  onGoOn: (revision: number) => void;
  onLeave: () => void;
}

const MOST = 12;

/** For the second of two planners: what the others did since, and the choice. */
export function OtherChanges({ planId, since, onGoOn, onLeave }: OtherChangesProps) {
  const { t } = useWords();
  const [seen, setSeen] = useState<PlanChanges>();
  useEffect(() => {
    let isCurrent = true;
    ask<PlanChanges>("/plan/changes", { plan: planId, since }).then((answer) => {
      if (isCurrent && answer.ok) setSeen(answer.value);
    });
    return () => {
      isCurrent = false;
    };
  }, [planId, since]);
  if (!seen) return null;
  const mayGoOn = seen.state === "draft" || seen.state === "in force";
  return (
    <section className="grid gap-2" aria-label={t("What changed meanwhile")}>
      <ChangeList changes={seen.changes} />
      <div className="flex flex-wrap gap-2">
        {mayGoOn ? (
          <Button kind="primary" onClick={() => onGoOn(seen.revision)}>
            {t("Work mine out on top of it")}
          </Button>
        ) : null}
        <Button onClick={onLeave}>{t("Leave mine, show theirs")}</Button>
      </div>
    </section>
  );
}

/** Who did what, each visit with its place before and after. */
export function ChangeList({ changes }: { changes: PlanChanges["changes"] }) {
  const words = useWords();
  const { t, say } = words;
  return (
    <ul className="grid gap-1">
      {changes.slice(-MOST).map((c) => (
        <li key={c.no}>
          {say(c.sentence)}
          {c.isOwn ? t(" (you, in another window)") : ""}
          <ul className="text-quiet">
            {c.visits.slice(0, 4).map(({ before, after }) => (
              <li key={after.visitId}>
                {after.visitId}: {placeWords(before, words)} → {placeWords(after, words)}
              </li>
            ))}
            {c.visits.length > 4 ? <li>{t("and {{more}} more", { more: c.visits.length - 4 })}</li> : null}
          </ul>
        </li>
      ))}
      {changes.length > MOST ? <li>{t("and {{more}} earlier", { more: changes.length - MOST })}</li> : null}
    </ul>
  );
}
