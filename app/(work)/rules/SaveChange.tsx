"use client";

import { type FormEvent, type ReactNode, useState } from "react";
import { useJob } from "@/app/_client/useJob";
import { useSend } from "@/app/_client/useSend";
import type { RuleChange, WantedChange } from "@/app/_server/ruleChange";
import type { EffectOutcome } from "@/app/_server/ruleJobs";
import { Button } from "@/app/_ui/Button";
import { TextArea } from "@/app/_ui/Field";
import { English } from "@/app/_ui/language/English";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ProgressBar } from "@/app/_ui/ProgressBar";
import type { Problem } from "@/lib/result";
import { saveRules, showEffect } from "./actions";
import { EffectView } from "./EffectView";
import { HoursEffectView } from "./HoursEffectView";

export interface SaveChangeProps {
  kind: WantedChange["kind"];
  /** The version this page shows. */
  basedOn: number;
  /** Must the effect on the programme be shown before it may be saved? */
  effectFirst: boolean;
  /** Reads the fields; problems when they cannot be read. */
  readChange: (form: FormData) => RuleChange | Problem;
  onClose: () => void;
  reasonHint?: string;
  /** The fields. A change in them makes a shown effect void. */
  children: ReactNode;
}

const isProblem = (x: RuleChange | Problem): x is Problem => "rule" in x;

/** The lower part of every dialog that changes rule data: effect, reason, save. */
export function SaveChange(props: SaveChangeProps) {
  const { t } = useWords();
  const { kind, basedOn, effectFirst, readChange, onClose, reasonHint, children } = props;
  const [own, setOwn] = useState<readonly Problem[]>([]);
  const [effect, setEffect] = useState<{ id: string; change: RuleChange } | null>(null);
  const save = useSend(saveRules);
  const ask = useSend(showEffect);
  const job = useJob<{ done: number; of: number }, EffectOutcome>(effect?.id);
  const isRunning = job !== null && ["connecting", "queued", "running"].includes(job.state);
  const outcome = job?.state === "done" ? job.result : null;
  const shown = outcome && ("lines" in outcome || "hours" in outcome) ? outcome : null;

  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    if (isRunning) return;
    const form = new FormData(event.currentTarget);
    const change = readChange(form);
    save.clear();
    ask.clear();
    setOwn(isProblem(change) ? [change] : []);
    if (isProblem(change)) return;
    if (effectFirst && !shown) {
      ask.send({ kind, basedOn, change }, (id) => {
        setEffect({ id, change });
        return undefined;
      });
      return;
    }
    save.send(
      { kind, basedOn, change, reason: String(form.get("reason") ?? ""), effectJobId: effect?.id },
      (made) => {
        onClose();
        const { version } = made;
        return made.jobId
          ? t(
              "Saved as version {{version}}. Take-off and hours are being brought up to date. A new plan takes it up.",
              { version },
            )
          : t("Saved as version {{version}}. A new plan takes it up.", { version });
      },
    );
  }

  const told = outcome && "problems" in outcome ? outcome.problems : [];
  return (
    <form className="ui-form" onSubmit={submit} noValidate>
      {/* Hears the changes of the fields inside. */}
      <div className="ui-form" onChange={() => setEffect(null)}>
        {children}
      </div>
      {isRunning ? (
        <ProgressBar
          label={
            job.state === "running"
              ? t("Working the programme out, as it is and as it would be")
              : t("Waiting for the worker")
          }
          share={job.progress ? job.progress.done / Math.max(1, job.progress.of) : undefined}
          words={
            job.progress
              ? t("hop {{done}} of {{of}}", { done: job.progress.done, of: job.progress.of })
              : undefined
          }
          onCancel={job.cancel}
        />
      ) : null}
      {job?.state === "cancelled" ? (
        <Notice kind="info" announce title={t("Stopped")}>
          {t("The effect was not worked out, so nothing can be saved yet.")}
        </Notice>
      ) : null}
      {job?.state === "failed" ? (
        <Notice kind="problem" announce title={t("The effect could not be worked out")}>
          <English>{job.error}</English>{" "}
          {t("Nothing was saved. Show the effect again; if it fails again, look at Long work.")}
        </Notice>
      ) : null}
      {shown && "lines" in shown ? <EffectView effect={shown} /> : null}
      {shown && "hours" in shown ? <HoursEffectView effect={shown.hours} /> : null}
      {!effectFirst || shown ? (
        <TextArea
          label={t("Reason")}
          name="reason"
          rows={2}
          required
          maxLength={300}
          hint={reasonHint ?? t("Kept in the history and the log.")}
        />
      ) : null}
      <ProblemList problems={[...own, ...told, ...ask.problems, ...save.problems]} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onClose}>{t("Leave as it is")}</Button>
        <Button kind="primary" type="submit" busy={save.busy || ask.busy || isRunning}>
          {effectFirst && !shown ? t("Show the effect") : t("Save as a new version")}
        </Button>
      </div>
    </form>
  );
}
