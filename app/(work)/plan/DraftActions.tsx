"use client";

import { useRouter } from "next/navigation";
import { useRef, useState } from "react";
import { Button, LinkButton } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { useToast } from "@/app/_ui/Toast";
import type { Problem } from "@/lib/result";
import { discardDraft, putPlanInForce } from "./actions";

export interface DraftActionsProps {
  planId: number;
  /** As this page read it: a later edit by somebody else is not overwritten. */
  revision: number;
  /** The plan in force that this page shows beside it. */
  inForceId: number | null;
}

/** Put a draft in force or discard it. What refuses is named, nothing is half done. */
export function DraftActions({ planId, revision, inForceId }: DraftActionsProps) {
  const words = useWords();
  const { t } = words;
  const router = useRouter();
  const toast = useToast();
  const key = useRef<string>(undefined);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const isStale = problems.some((p) => p.rule === "changed-meanwhile");

  async function put(): Promise<void> {
    key.current ??= crypto.randomUUID();
    const answer = await putPlanInForce({ planId, revision, replaces: inForceId }, key.current);
    if (!answer.ok) {
      key.current = undefined;
      setProblems(answer.problems);
      return;
    }
    toast({
      kind: "good",
      text: t("Plan {{plan}} is in force. Needs and kits are netted anew.", { plan: String(planId) }),
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
        question={t("Put plan {{plan}} in force?", { plan: String(planId) })}
        consequence={
          <p>
            {inForceId === null
              ? t("Every hard rule is checked once more. Crews, kits and orders then follow this plan.")
              : t(
                  "Every hard rule is checked once more. Crews, kits and orders then follow this plan; plan {{plan}} becomes past and stays readable.",
                  { plan: String(inForceId) },
                )}
          </p>
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
