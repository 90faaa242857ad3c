"use server";

import { APIError } from "better-auth/api";
import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { clientAddress, noteFailure, rests } from "@/app/_server/attempts";
import { auth, hashPassword } from "@/app/_server/auth";
import { nowMillis } from "@/app/_server/clock";
import { accept, acceptanceOf, VOID } from "@/app/_server/invitations";
import { database } from "@/db/open";
import type { Problem } from "@/lib/result";

const KIND = "invitation by address";

/** Sets the password that an invited person chose, and signs them in. */
export async function acceptInvitation(
  _previous: readonly Problem[],
  form: FormData,
): Promise<readonly Problem[]> {
  const input = acceptanceOf(Object.fromEntries(form));
  if (!input.ok) return input.problems;
  const db = database();
  const given = await headers();
  const from = clientAddress(given);
  if (rests(db, KIND, from)) return [VOID];
  const accepted = await accept(db, input.value, hashPassword, nowMillis(db));
  if (!accepted.ok) {
    noteFailure(db, KIND, from);
    return accepted.problems;
  }
  const { email } = accepted.value;
  let next: string;
  try {
    const body = { email, password: input.value.password };
    next = "user" in (await auth().api.signInEmail({ body, headers: given })) ? "/" : "/sign-in/code";
  } catch (thrown) {
    if (!(thrown instanceof APIError)) throw thrown;
    next = "/sign-in"; // the password is set; only signing in has to wait, and that page says why
  }
  redirect(next);
}
