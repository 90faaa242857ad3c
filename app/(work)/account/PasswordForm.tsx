"use client";

import { type FormEvent, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { Notice } from "@/app/_ui/Notice";
import type { Problem } from "@/lib/result";
import { changeOwnPassword } from "./actions";

const FIELD: Record<string, string> = { "Current password": "current" };

export function PasswordForm({ passwordMin }: { passwordMin: number }) {
  const { send, busy, problems } = useSend(changeOwnPassword);
  const [isDone, setIsDone] = useState(false);
  const of = (field: string) => {
    const p = problems.find((x: Problem) => (FIELD[x.path] ?? x.path) === field);
    return p ? `${p.message} ${p.remedy}` : undefined;
  };
  const other = problems.filter((p) => !["current", "next", "again", "Current password"].includes(p.path));

  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const element = event.currentTarget;
    const form = new FormData(element);
    const text = (name: string) => String(form.get(name) ?? "");
    setIsDone(false);
    send({ current: text("current"), next: text("next"), again: text("again") }, () => {
      element.reset();
      setIsDone(true);
      return undefined;
    });
  }

  return (
    <form className="ui-form max-w-md" onSubmit={submit} noValidate>
      {isDone ? (
        <Notice kind="good" announce title="Password changed">
          Your sessions on other devices have ended.
        </Notice>
      ) : null}
      {other.map((p) => (
        <Notice key={p.rule} kind="problem" announce title={p.message}>
          {p.remedy}
        </Notice>
      ))}
      {problems.length > 0 && other.length === 0 ? (
        <Notice kind="problem" announce title="The password was not changed">
          See what is said at the fields.
        </Notice>
      ) : null}
      <TextInput
        label="Current password"
        name="current"
        type="password"
        autoComplete="current-password"
        error={of("current")}
        required
      />
      <TextInput
        label="New password"
        name="next"
        type="password"
        autoComplete="new-password"
        hint={`At least ${passwordMin} characters`}
        error={of("next")}
        required
      />
      <TextInput
        label="New password again"
        name="again"
        type="password"
        autoComplete="new-password"
        error={of("again")}
        required
      />
      <div className="ui-form-actions">
        <Button kind="primary" type="submit" busy={busy}>
          Change the password
        </Button>
      </div>
    </form>
  );
}
