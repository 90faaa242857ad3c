import type { Metadata } from "next";
import { headers } from "next/headers";
import { clientAddress, noteFailure, rests } from "@/app/_server/attempts";
import { PASSWORD_LENGTH_MIN } from "@/app/_server/auth";
import { invitedBy, VOID } from "@/app/_server/invitations";
import { LinkButton } from "@/app/_ui/Button";
import { Doorstep } from "@/app/sign-in/Doorstep";
import { database } from "@/db/open";
import { InvitationForm } from "./InvitationForm";

export const metadata: Metadata = { title: "Choose your password" };

const KIND = "invitation by address";

/** Where a person who was invited, or whose password was reset, chooses a password. */
export default async function InvitationPage({ params }: { params: Promise<{ secret: string }> }) {
  const { secret } = await params;
  const db = database();
  const from = clientAddress(await headers());
  const person = rests(db, KIND, from) ? undefined : invitedBy(db, secret);
  if (!person) {
    noteFailure(db, KIND, from);
    return (
      <Doorstep title="Nothing to accept here" note={`${VOID.message} ${VOID.remedy}`}>
        <LinkButton kind="primary" href="/sign-in" wide>
          Sign in
        </LinkButton>
      </Doorstep>
    );
  }
  return (
    <Doorstep
      title={`Welcome, ${person.name}`}
      note={`You will sign in as ${person.email}. Choose your password.`}
    >
      <InvitationForm secret={secret} email={person.email} passwordMin={PASSWORD_LENGTH_MIN} />
    </Doorstep>
  );
}
