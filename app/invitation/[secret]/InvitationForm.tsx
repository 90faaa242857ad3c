"use client";

import { useActionState } from "react";
import { Button } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { acceptInvitation } from "./actions";

export interface InvitationFormProps {
  secret: string;
  /** Told to the browser's store of passwords. */
  email: string;
  passwordMin: number;
}

export function InvitationForm({ secret, email, passwordMin }: InvitationFormProps) {
  const [problems, action, busy] = useActionState(acceptInvitation, []);
  const words = useWords();
  const { t } = words;
  const of = (path: string) => {
    const found = problems.find((p) => p.path === path);
    return found && problemWords(found, words);
  };
  return (
    <form action={action} className="ui-form">
      {problems.length > 0 ? (
        <Notice kind="problem" announce title={t("The password was not set")}>
          {of("") ?? t("Correct what is marked below and send it again.")}
        </Notice>
      ) : null}
      <input type="hidden" name="secret" value={secret} />
      <input type="hidden" name="username" autoComplete="username" value={email} />
      <TextInput
        label={t("Password")}
        name="password"
        type="password"
        autoComplete="new-password"
        hint={t("At least {{min}} characters.", { min: passwordMin })}
        error={of("password")}
        required
      />
      <TextInput
        label={t("Password again")}
        name="again"
        type="password"
        autoComplete="new-password"
        error={of("again")}
        required
      />
      <Button kind="primary" type="submit" wide busy={busy}>
        {t("Set the password and sign in")}
      </Button>
    </form>
  );
}
