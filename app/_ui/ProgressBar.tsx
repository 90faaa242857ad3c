"use client";

import { type ReactNode, useId } from "react";
import { Button } from "./Button";
import { useWords } from "./language/LanguageProvider";

export interface ProgressBarProps {
  /** What is being done: "Placing 812 visits". */
  label: ReactNode;
  /** 0..1; undefined while the amount is unknown. */
  share?: number;
  /** Where it stands: "iteration 42,000, best cost 1,204,300". */
  words?: ReactNode;
  onCancel?: () => void;
  cancelWords?: string;
}

/** Long work with its share done, what it is at, and a way to stop it. */
export function ProgressBar({ label, share, words, onCancel, cancelWords }: ProgressBarProps) {
  const id = useId();
  const { t } = useWords();
  const percent = share === undefined ? undefined : Math.round(Math.min(1, Math.max(0, share)) * 100);
  return (
    <div className="ui-progress">
      <div className="ui-progress-words">
        <span id={id} className="font-semibold">
          {label}
        </span>
        <span className="text-quiet">{words}</span>
      </div>
      <div className="ui-progress-line">
        <div
          className="ui-progress-track"
          role="progressbar"
          aria-labelledby={id}
          aria-valuemin={0}
          aria-valuemax={100}
          aria-valuenow={percent}
        >
          <div
            // A bar of its own once the share is known: it would shrink from what only said "at work".
            key={String(percent === undefined)}
            className="ui-progress-fill"
            data-unknown={percent === undefined}
            style={percent === undefined ? undefined : { width: `${percent}%` }}
          />
        </div>
        <span className="min-w-10 text-right font-semibold">
          {percent === undefined ? "…" : `${percent} %`}
        </span>
        {onCancel ? (
          <Button size="small" onClick={onCancel}>
            {cancelWords ?? t("Stop")}
          </Button>
        ) : null}
      </div>
    </div>
  );
}
