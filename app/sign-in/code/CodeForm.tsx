"use client";

import { useActionState } from "react";
import { Button, LinkButton } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { Notice } from "@/app/_ui/Notice";
import { enterCode } from "../actions";

export function CodeForm({ next }: { next: string }) {
  const [answer, action, busy] = useActionState(enterCode, null);
  return (
    <form action={action} className="ui-form">
      {answer ? (
        <Notice kind="problem" announce title="Not signed in">
          {answer.problem}
        </Notice>
      ) : null}
      <input type="hidden" name="next" value={next} />
      <TextInput
        label="Code"
        name="code"
        autoComplete="one-time-code"
        autoCapitalize="none"
        spellCheck={false}
        hint="6 digits from the app, or a backup code. Lost both? Ask an administrator."
        autoFocus
        required
      />
      <Button kind="primary" type="submit" wide busy={busy}>
        Sign in
      </Button>
      <LinkButton href="/sign-in" wide>
        Begin again
      </LinkButton>
    </form>
  );
}
