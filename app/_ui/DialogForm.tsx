"use client";

import type { FormEvent, ReactNode } from "react";
import type { Problem } from "@/lib/result";
import { Button } from "./Button";
import { T } from "./language/T";
import { ProblemList } from "./ProblemList";

export interface DialogFormProps {
  children: ReactNode;
  problems: readonly Problem[];
  busy: boolean;
  /** On the button that sends. */
  words: string;
  onClose: () => void;
  onSend: (form: FormData) => void;
}

/** A form in a dialog: its fields, what is wrong with them, and the two ways out. */
export function DialogForm({ children, problems, busy, words, onClose, onSend }: DialogFormProps) {
  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    onSend(new FormData(event.currentTarget));
  }
  return (
    <form className="ui-form" onSubmit={submit} noValidate>
      {children}
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onClose}>
          <T>Leave as it is</T>
        </Button>
        <Button kind="primary" type="submit" busy={busy}>
          {words}
        </Button>
      </div>
    </form>
  );
}
