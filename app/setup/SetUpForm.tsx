"use client";

import { useActionState } from "react";
import { Button } from "@/app/_ui/Button";
import { Select, TextInput } from "@/app/_ui/Field";
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
  const problem = (path: string) => {
    const found = answer?.problems.find((p) => p.path === path);
    return found ? `${found.message} ${found.remedy}` : undefined;
  };
  const general = problem("");
  return (
    <form action={action} className="ui-form">
      {answer ? (
        <Notice kind="problem" announce title="Nobody was added">
          {general ?? "Correct what is marked below and send it again."}
        </Notice>
      ) : null}
      <TextInput
        label="Set-up token"
        name="token"
        autoComplete="off"
        spellCheck={false}
        hint="Printed in the window in which the programme was started."
        error={problem("token")}
        required
      />
      <TextInput
        label="Your name"
        name="name"
        autoComplete="name"
        defaultValue={answer?.name}
        key={`name ${answer?.name}`}
        error={problem("name")}
        required
      />
      <TextInput
        label="Sign-in name"
        name="email"
        type="email"
        autoComplete="username"
        hint="In the form of an e-mail address. Nothing is sent to it."
        defaultValue={answer?.email}
        key={`email ${answer?.email}`}
        error={problem("email")}
        required
      />
      <TextInput
        label="Password"
        name="password"
        type="password"
        autoComplete="new-password"
        minLength={passwordLengthMin}
        hint={`At least ${passwordLengthMin} characters.`}
        error={problem("password")}
        required
      />
      <Select
        label="Time zone"
        name="zone"
        hint="Where the rollout is: decides which day is today."
        defaultValue="UTC"
        choices={zones.map((zone) => ({ value: zone, label: zone }))}
        error={problem("zone")}
      />
      <Button kind="primary" type="submit" wide busy={busy}>
        Make the first administrator
      </Button>
    </form>
  );
}
