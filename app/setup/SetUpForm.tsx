"use client";

import { useActionState } from "react";
import { Button } from "@/app/_ui/Button";
import { Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { setUpAdministrator } from "./actions";

export function SetUpForm({
  passwordLengthMin,
  zones,
}: {
  passwordLengthMin: number;
  zones: readonly string[];
}) {
  const [answer, action, busy] = useActionState(setUpAdministrator, null);
  const words = useWords();
  const { t } = words;
  const problem = (path: string) => {
    const found = answer?.problems.find((p) => p.path === path);
    return found && problemWords(found, words);
  };
  const general = problem("");
  return (
    <form action={action} className="ui-form">
      {answer ? (
        <Notice kind="problem" announce title={t("Nobody was added")}>
          {general ?? t("Correct what is marked below and send it again.")}
        </Notice>
      ) : null}
      <TextInput
        label={t("Set-up token")}
        name="token"
        autoComplete="off"
        spellCheck={false}
        hint={t("Printed in the window in which the programme was started.")}
        error={problem("token")}
        required
      />
      <TextInput
        label={t("Your name")}
        name="name"
        autoComplete="name"
        defaultValue={answer?.name}
        key={`name ${answer?.name}`}
        error={problem("name")}
        required
      />
      <TextInput
        label={t("Sign-in name")}
        name="email"
        type="email"
        autoComplete="username"
        hint={t("In the form of an e-mail address. Nothing is sent to it.")}
        defaultValue={answer?.email}
        key={`email ${answer?.email}`}
        error={problem("email")}
        required
      />
      <TextInput
        label={t("Password")}
        name="password"
        type="password"
        autoComplete="new-password"
        minLength={passwordLengthMin}
        hint={t("At least {{min}} characters.", { min: passwordLengthMin })}
        error={problem("password")}
        required
      />
      <Select
        label={t("Time zone")}
        name="zone"
        hint={t("Where the rollout is: decides which day is today.")}
        defaultValue="UTC"
        choices={zones.map((zone) => ({ value: zone, label: zone }))}
        error={problem("zone")}
      />
      <Button kind="primary" type="submit" wide busy={busy}>
        {t("Make the first administrator")}
      </Button>
    </form>
  );
}
