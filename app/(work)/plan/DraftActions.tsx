"use client";

import { useRouter } from "next/navigation";
import { useId, useRef, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { Button, LinkButton } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { useToast } from "@/app/_ui/Toast";
import type { InForceEffect } from "@/lib/programme";
import type { Problem } from "@/lib/result";
import { discardDraft, judgeDraft, putPlanInForce } from "./actions";

export interface DraftActionsProps {
  planId: number;
  /** As this page read it: a later edit by somebody else is not overwritten. */
  revision: number;
  /** The plan in force that this page shows beside it. */
  inForceId: number | null;
  /** Hard rules that it breaks, where the page judged it; else the judge is asked when the button is pressed. */
  broken?: number;
  /** What changes for crews, kits and orders. */
  effect: InForceEffect;
}

/** Put a draft in force or discard it. What refuses is named, nothing is half done. */
export function DraftActions({ planId, revision, inForceId, broken, effect }: DraftActionsProps) {
  const words = useWords();
  const { t } = words;
  const router = useRouter();
  const toast = useToast();
  const key = useRef<string>(undefined);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const isStale = problems.some((p) => p.rule === "changed-meanwhile");

  const reasonId = useId();
  const isRefused = (broken ?? 0) > 0;

  /** A draft that the judge refuses is told so at once, not after a question that is none. */
  async function mayAsk(): Promise<boolean> {
    const answer = await judgeDraft({ planId, revision });
    setProblems(answer.ok ? [] : answer.problems);
    return answer.ok;
  }

  async function put(): Promise<void> {
    key.current ??= newKey();
    const answer = await putPlanInForce({ planId, revision, replaces: inForceId }, key.current);
    if (!answer.ok) {
      key.current = undefined;
      setProblems(answer.problems);
      return;
    }
    toast({
      kind: "good",
      text:
        effect.crews.length > 0
          ? t("Plan {{plan}} is in force. Needs and kits are netted anew. Tell crews {{crews}}.", {
              plan: String(planId),
              crews: effect.crews.join(", "),
            })
          : t("Plan {{plan}} is in force. Needs and kits are netted anew.", { plan: String(planId) }),
    });
    router.push("/plan");
    router.refresh();
  }

  async function discard(): Promise<void> {
    const answer = await discardDraft({ planId, revision });
    if (!answer.ok) return setProblems(answer.problems);
    toast({ kind: "good", text: t("Draft {{plan}} is discarded.", { plan: String(planId) }) });
    router.push("/plan");
    router.refresh();
  }

  return (
    <>
      <ConfirmButton
        kind="primary"
        disabled={isRefused}
        describedBy={isRefused ? reasonId : undefined}
        askFirst={mayAsk}
        question={t("Put plan {{plan}} in force?", { plan: String(planId) })}
        consequence={
          <>
            <p>
              {inForceId === null
                ? t("Every hard rule is checked once more. Crews, kits and orders then follow this plan.")
                : t(
                    "Every hard rule is checked once more. Crews, kits and orders then follow this plan; plan {{plan}} becomes past and stays readable.",
                    { plan: String(inForceId) },
                  )}
            </p>
            <WhatChanges effect={effect} />
          </>
        }
        confirmWords={t("Put in force")}
        onConfirm={put}
      >
        {t("Put in force")}
      </ConfirmButton>
      <ConfirmButton
        question={t("Discard draft {{plan}}?", { plan: String(planId) })}
        consequence={
          <p>{t("The draft and its moves by hand are gone. The plan in force stays as it is.")}</p>
        }
        confirmWords={t("Discard the draft")}
        onConfirm={discard}
      >
        {t("Discard")}
      </ConfirmButton>
      {isRefused ? (
        <p id={reasonId} className="basis-full">
          {t("It cannot be put in force: it breaks {{count}} hard rules.", { count: broken ?? 0 })}
        </p>
      ) : null}
      {problems.length > 0 ? (
        <div className="basis-full">
          <Notice
            kind="problem"
            announce
            title={
              isStale
                ? messageOf(problems[0]!, words)
                : t("Plan {{plan}} stays a draft: it breaks {{count}} hard rules", {
                    plan: String(planId),
                    count: problems.length,
                  })
            }
            action={
              isStale ? (
                <div className="flex flex-wrap gap-2">
                  <Button
                    onClick={() => {
                      setProblems([]);
                      router.refresh();
                    }}
                  >
                    {t("Show it as it is now")}
                  </Button>
                  <LinkButton href={`/plan/compare?plan=${planId}`}>{t("Compare anew")}</LinkButton>
                </div>
              ) : undefined
            }
          >
            {isStale ? (
              remedyOf(problems[0]!, words)
            ) : (
              <ul>
                {problems.slice(0, 12).map((p) => (
                  <li key={`${p.rule}${p.message}`}>
                    <strong>{p.rule}</strong>: {messageOf(p, words)}
                  </li>
                ))}
                {problems.length > 12 ? (
                  <li>{t("and {{more}} more", { more: problems.length - 12 })}</li>
                ) : null}
                <li>{remedyOf(problems[0]!, words)}</li>
              </ul>
            )}
          </Notice>
        </div>
      ) : null}
    </>
  );
}

/** Who does something else from when on, and that somebody has to tell them. */
function WhatChanges({ effect }: { effect: InForceEffect }) {
  const { t, locale } = useWords();
  const { changed, counts, crews, firstOn, kits } = effect;
  const parts = [
    counts.day > 0 ? t("{{count}} on another day", { count: counts.day }) : "",
    counts.crew > 0 ? t("{{count}} with another crew", { count: counts.crew }) : "",
    counts.new > 0 ? t("{{count}} newly placed", { count: counts.new }) : "",
    counts.gone > 0 ? t("{{count}} without a place from now on", { count: counts.gone }) : "",
    counts.hours > 0 ? t("{{count}} with other hours only", { count: counts.hours }) : "",
  ].filter((part) => part !== "");
  return (
    <ul>
      <li>
        {changed === 0
          ? t("Crews: no visit has another crew, day, start or end.")
          : t("Crews {{crews}}: {{visits}} change.", {
              crews: crews.join(", "),
              visits: t("{{count}} visits", { count: changed }),
            })}
        {parts.length > 0 ? ` ${parts.join("; ")}.` : ""}
        {firstOn
          ? ` ${t("The first day that changes is {{day}}.", { day: formatDate(firstOn, "weekday", locale) })}`
          : ""}
      </li>
      <li>
        {kits === 0
          ? t("Kits: each is picked on the same day as before.")
          : t(
              "Kits: {{count}} are picked on another day, new, or no longer wanted. What was picked or issued stays with its visit.",
              {
                count: kits,
              },
            )}
      </li>
      <li>
        {t("Orders: none is sent or cancelled. Needs are netted anew; Stock then shows what to order.")}
      </li>
      {changed > 0 ? (
        <li>
          {t(
            "Nobody is sent a message: crews see it in My week, and in their calendars once these are read again. Tell those who go out first.",
          )}
        </li>
      ) : null}
    </ul>
  );
}
