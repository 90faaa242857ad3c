"use client";

import { type FormEvent, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { changeOwnPassword } from "./actions";
import { useProblemsAt } from "./useProblemsAt";

const FIELDS = ["current", "next", "again"];

export function PasswordForm({ passwordMin }: { passwordMin: number }) {
  const { send, busy, problems } = useSend(changeOwnPassword);
  const words = useWords();
  const { t } = words;
  const [isDone, setIsDone] = useState(false);
  const { at, others } = useProblemsAt(problems, FIELDS);

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
      {others.map((p) => (
        <Notice key={p.rule} kind="problem" announce title={messageOf(p, words)}>
          {remedyOf(p, words)}
        </Notice>
      ))}
      {problems.length > 0 && others.length === 0 ? (
        <Notice kind="problem" announce title={t("The password was not changed")}>
          {t("See what is said at the fields.")}
        </Notice>
      ) : null}
      <TextInput
        label={t("Current password")}
        {...at("current")}
        type="password"
        autoComplete="current-password"
        required
      />
      <TextInput
        label={t("New password")}
        {...at("next")}
        type="password"
        autoComplete="new-password"
        hint={t("At least {{min}} characters", { min: passwordMin })}
        required
      />
      <TextInput
        label={t("New password again")}
        {...at("again")}
        type="password"
        autoComplete="new-password"
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
