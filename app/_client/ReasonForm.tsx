"use client";

import { type ReactNode, useState } from "react";
import { Button } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { T } from "@/app/_ui/language/T";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { Result } from "@/lib/result";
import { useSend } from "./useSend";

export interface ReasonFormProps<T> {
  /** What will happen, and whether it can be undone. */
  children: ReactNode;
  /** Words of the button that does it, and of the one that leaves it. */
  confirm: string;
  leave: string;
  isDanger?: boolean;
  /** The action, with the reason as its last word. */
  send: (reason: string, key?: string) => Promise<Result<T>>;
  /** Said when it was done. */
  done: (value: T) => string;
  onDone: () => void;
}

/** Asks why before something is done that its log must explain. Stands in a dialog. */
export function ReasonForm<T>(props: ReasonFormProps<T>) {
  const { children, confirm, leave, isDanger, done, onDone } = props;
  const [reason, setReason] = useState("");
  const { send, busy, problems } = useSend(props.send);
  return (
    <form
      className="ui-form"
      onSubmit={(e) => {
        e.preventDefault();
        send(reason, (value) => {
          onDone();
          return done(value);
        });
      }}
    >
      <p>{children}</p>
      <TextInput
        label={<T>Why</T>}
        required
        minLength={3}
        maxLength={300}
        value={reason}
        onChange={(e) => setReason(e.target.value)}
      />
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onDone}>{leave}</Button>
        <Button kind={isDanger ? "danger" : "primary"} type="submit" busy={busy}>
          {confirm}
        </Button>
      </div>
    </form>
  );
}
