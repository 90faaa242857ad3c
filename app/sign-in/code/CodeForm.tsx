"use client";

import { useActionState } from "react";
import { Button, LinkButton } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { enterCode } from "../actions";

export function CodeForm({ next }: { next: string }) {
  const [answer, action, busy] = useActionState(enterCode, null);
  const { t } = useWords();
  return (
    <form action={action} className="ui-form">
      {answer ? (
        <Notice kind="problem" announce title={t("Not signed in")}>
          {t(answer.problem)}
        </Notice>
      ) : null}
      <input type="hidden" name="next" value={next} />
      <TextInput
        label={t("Code")}
        name="code"
        autoComplete="one-time-code"
        autoCapitalize="none"
        spellCheck={false}
        hint={t("6 digits from the app, or a backup code. Lost both? Ask an administrator.")}
        autoFocus
        required
      />
      <Button kind="primary" type="submit" wide busy={busy}>
        {t("Sign in")}
      </Button>
      <LinkButton href="/sign-in" wide>
        {t("Begin again")}
      </LinkButton>
    </form>
  );
}
