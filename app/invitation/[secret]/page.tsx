import type { Metadata } from "next";
import { headers } from "next/headers";
import { clientAddress, noteFailure, rests } from "@/app/_server/attempts";
import { invitedBy, VOID } from "@/app/_server/invitations";
import { serverWords } from "@/app/_server/language";
import { PASSWORD_LENGTH_MIN } from "@/app/_server/passwords";
import { LinkButton } from "@/app/_ui/Button";
import { problemWords } from "@/app/_ui/language/problemWords";
import { Doorstep } from "@/app/sign-in/Doorstep";
import { database } from "@/db/open";
import { InvitationForm } from "./InvitationForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Choose your password") };
}

const KIND = "invitation by address";

/** Where a person who was invited, or whose password was reset, chooses a password. */
export default async function InvitationPage({ params }: { params: Promise<{ secret: string }> }) {
  const { secret } = await params;
  const words = await serverWords();
  const { t } = words;
  const db = database();
  const from = clientAddress(await headers());
  const person = rests(db, KIND, from) ? undefined : invitedBy(db, secret);
  if (!person) {
    noteFailure(db, KIND, from);
    return (
      <Doorstep title={t("Nothing to accept here")} note={problemWords(VOID, words)}>
        <LinkButton kind="primary" href="/sign-in" wide>
          {t("Sign in")}
        </LinkButton>
      </Doorstep>
    );
  }
  return (
    <Doorstep
      title={t("Welcome, {{name}}", { name: person.name })}
      note={t("You will sign in as {{email}}. Choose your password.", { email: person.email })}
    >
      <InvitationForm secret={secret} email={person.email} passwordMin={PASSWORD_LENGTH_MIN} />
    </Doorstep>
  );
}
