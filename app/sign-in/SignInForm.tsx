"use client";

import { useActionState, useRef } from "react";
import { Button } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { signIn } from "./actions";

export interface DemoPerson {
  name: string;
  email: string;
  role: string;
}

export interface SignInFormProps {
  next: string;
  /** The demonstration's accounts, to sign in with one press; undefined when the data are the user's own. */
  demo?: { people: readonly DemoPerson[]; password: string };
}

export function SignInForm({ next, demo }: SignInFormProps) {
  const [answer, action, busy] = useActionState(signIn, null);
  const { t } = useWords();
  const form = useRef<HTMLFormElement>(null);

  const signInAs = (person: DemoPerson) => {
    const fields = form.current?.elements;
    (fields?.namedItem("email") as HTMLInputElement).value = person.email;
    (fields?.namedItem("password") as HTMLInputElement).value = demo?.password ?? "";
    form.current?.requestSubmit();
  };

  return (
    <>
      <form ref={form} action={action} className="ui-form">
        {answer ? (
          <Notice kind="problem" announce title={t("Not signed in")}>
            {t(answer.problem)}
          </Notice>
        ) : null}
        <input type="hidden" name="next" value={next} />
        <TextInput
          label={t("Sign-in name")}
          name="email"
          type="email"
          autoComplete="username"
          defaultValue={answer?.email}
          key={answer?.email}
          required
        />
        <TextInput
          label={t("Password")}
          name="password"
          type="password"
          autoComplete="current-password"
          required
        />
        <Button kind="primary" type="submit" wide busy={busy}>
          {t("Sign in")}
        </Button>
      </form>
      {demo ? (
        <section className="mt-6 grid gap-2" aria-labelledby="demo-accounts">
          <h2 id="demo-accounts">{t("Demonstration accounts")}</h2>
          <p className="text-quiet">
            {t("Invented people; the password of each is")}{" "}
            <code className="whitespace-nowrap">{demo.password}</code>.
          </p>
          <ul className="grid gap-2">
            {demo.people.map((person) => (
              <li key={person.email}>
                <Button wide onClick={() => signInAs(person)}>
                  {`${person.name}, ${t(person.role)}`}
                </Button>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </>
  );
}
