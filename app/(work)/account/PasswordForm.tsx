"use client";

import { type FormEvent, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, problemWords, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import type { Problem } from "@/lib/result";
import { changeOwnPassword } from "./actions";

const FIELD: Record<string, string> = { "Current password": "current" };

export function PasswordForm({ passwordMin }: { passwordMin: number }) {
  const { send, busy, problems } = useSend(changeOwnPassword);
  const words = useWords();
  const { t } = words;
  const [isDone, setIsDone] = useState(false);
  const of = (field: string) => {
    const p = problems.find((x: Problem) => (FIELD[x.path] ?? x.path) === field);
    return p && problemWords(p, words);
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
        <Notice kind="good" announce title={t("Password changed")}>
          {t("Your sessions on other devices have ended.")}
        </Notice>
      ) : null}
      {other.map((p) => (
        <Notice key={p.rule} kind="problem" announce title={messageOf(p, words)}>
          {remedyOf(p, words)}
        </Notice>
      ))}
      {problems.length > 0 && other.length === 0 ? (
        <Notice kind="problem" announce title={t("The password was not changed")}>
          {t("See what is said at the fields.")}
        </Notice>
      ) : null}
      <TextInput
        label={t("Current password")}
        name="current"
        type="password"
        autoComplete="current-password"
        error={of("current")}
        required
      />
      <TextInput
        label={t("New password")}
        name="next"
        type="password"
        autoComplete="new-password"
        hint={t("At least {{min}} characters", { min: passwordMin })}
        error={of("next")}
        required
      />
      <TextInput
        label={t("New password again")}
        name="again"
        type="password"
        autoComplete="new-password"
        error={of("again")}
        required
      />
      <div className="ui-form-actions">
        <Button kind="primary" type="submit" busy={busy}>
          {t("Change the password")}
        </Button>
      </div>
    </form>
  );
}
