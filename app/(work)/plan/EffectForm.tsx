"use client";

import { type FormEvent, type ReactNode, useEffect, useRef, useState } from "react";
import { ask } from "@/app/_client/ask";
import { newKey } from "@/app/_client/newKey";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Check } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import type { Problem, Result } from "@/lib/result";
import { type Effect, EffectShown } from "./EffectShown";
import { OtherChanges } from "./OtherChanges";

export interface EditDone {
  planId: number;
  revision: number;
  editNo: number;
}

export interface EffectFormProps {
  title: string;
  planId: number;
  revision: number;
  isInForce: boolean;
  /** The route that works out what it would do, and what it is asked with; undefined = nothing to ask yet. */
  path: string;
  query: Readonly<Record<string, string | number | undefined>> | undefined;
  /** The fields that say what is wanted. */
  children: ReactNode;
  submitWords: string;
  /** What has to be said before the rules that it breaks. */
  brokenLead?: (effect: Effect) => string | undefined;
  send: (
    wanted: { planId: number; revision: number; acceptsBroken: boolean },
    key: string,
  ) => Promise<Result<EditDone>>;
  onClose: () => void;
  onDone: (done: EditDone) => void;
  /** Shows the board as it is now. */
  onRefresh: () => void;
}

/** An edit of the plan by hand: what it would do is shown before it can be accepted, and what others did meanwhile. */
export function EffectForm(props: EffectFormProps) {
  const words = useWords();
  const { t } = words;
  const { title, planId, isInForce, path, query, send, onClose, onDone, onRefresh } = props;
  // Of the plan as the planner has read it; it follows when they choose to go on with what others did.
  const [revision, setRevision] = useState(props.revision);
  const [effect, setEffect] = useState<Effect>();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [isAsking, setIsAsking] = useState(false);
  const [isSaving, setIsSaving] = useState(false);
  const [acceptsBroken, setAcceptsBroken] = useState(false);
  const key = useRef<string>(undefined);
  const asked = query && JSON.stringify(query);

  // Asked anew a moment after the last change; a late answer to an older question is dropped.
  // biome-ignore lint/correctness/useExhaustiveDependencies: another revision is another question
  useEffect(() => {
    let isCurrent = true;
    setEffect(undefined);
    setAcceptsBroken(false);
    setProblems([]);
    key.current = undefined;
    if (!asked) return;
    const timer = setTimeout(async () => {
      setIsAsking(true);
      const answer = await ask<Effect>(path, { plan: planId, ...JSON.parse(asked) });
      if (!isCurrent) return;
      setIsAsking(false);
      setProblems(answer.ok ? [] : answer.problems);
      if (answer.ok) setEffect(answer.value);
    }, 250);
    return () => {
      isCurrent = false;
      clearTimeout(timer);
    };
  }, [path, planId, asked, revision]);

  async function accept(event: FormEvent): Promise<void> {
    event.preventDefault();
    if (!effect || isSaving) return;
    setIsSaving(true);
    key.current ??= newKey();
    const answer = await send({ planId, revision, acceptsBroken }, key.current);
    setIsSaving(false);
    if (answer.ok) onDone(answer.value);
    else setProblems(answer.problems);
  }

  const isStale = problems.some((p) => p.rule === "changed-meanwhile");
  const isUnchanged = effect?.shifts.length === 0;
  return (
    <Dialog open onClose={onClose} title={title} wide>
      <form className="ui-form" onSubmit={accept}>
        {props.children}
        <div className="grid gap-3 min-h-48 content-start" aria-live="polite" aria-busy={isAsking}>
          {problems.map((p) => (
            <Notice key={`${p.rule}${p.message}`} kind="problem" announce title={messageOf(p, words)}>
              {remedyOf(p, words)}
            </Notice>
          ))}
          {isStale ? (
            <OtherChanges
              planId={planId}
              since={revision}
              onGoOn={(now) => {
                setRevision(now);
                onRefresh();
              }}
              onLeave={() => {
                onClose();
                onRefresh();
              }}
            />
          ) : null}
          {!effect && problems.length === 0 ? (
            <p className="text-quiet">
              {asked ? (
                <>
                  <span className="ui-spinner" aria-hidden="true" />{" "}
                  {t("Working out what it would do: rules, times of the visits around it, cost.")}
                </>
              ) : (
                t("Say what is wanted above; what it would do is shown here.")
              )}
            </p>
          ) : null}
          {effect && !isStale ? (
            <EffectShown effect={effect} brokenLead={props.brokenLead?.(effect)} />
          ) : null}
          {effect && effect.broken.length > 0 && !isStale ? (
            <Check
              label={t(
                "Keep it in the draft all the same. A draft that breaks a hard rule cannot be put in force.",
              )}
              checked={acceptsBroken}
              onChange={(e) => setAcceptsBroken(e.target.checked)}
            />
          ) : null}
        </div>
        <p className="text-quiet">
          {isInForce
            ? t("The plan in force stays as it is: the move goes into a new draft, pinned.")
            : t("What is moved is pinned where you put it. You can undo it.")}
        </p>
        <div className="ui-form-actions justify-end">
          <Button onClick={onClose}>{t("Leave it")}</Button>
          <Button
            kind="primary"
            type="submit"
            busy={isSaving}
            disabled={!effect || isUnchanged || isStale || (effect.broken.length > 0 && !acceptsBroken)}
          >
            {props.submitWords}
          </Button>
        </div>
      </form>
    </Dialog>
  );
}
