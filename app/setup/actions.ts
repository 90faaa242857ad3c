"use server";

import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { auth, hashPassword } from "@/app/_server/auth";
import { nowMillis } from "@/app/_server/clock";
import { setUp, setUpInput } from "@/app/_server/setup";
import { database } from "@/db/open";
import type { Problem } from "@/lib/result";

export interface SetUpAnswer {
  problems: readonly Problem[];
  /** Given back, so that they need not be typed again. */
  name: string;
  email: string;
}

/** Makes the first administrator, signs them in and opens the rules. Only while nobody has an account. */
export async function setUpAdministrator(
  _previous: SetUpAnswer | null,
  form: FormData,
): Promise<SetUpAnswer> {
  const raw = Object.fromEntries(
    ["token", "name", "email", "password", "zone"].map((name) => [name, form.get(name)]),
  );
  const typed = { name: String(raw.name ?? ""), email: String(raw.email ?? "") };
  const input = setUpInput(raw);
  if (!input.ok) return { problems: input.problems, ...typed };
  const db = database();
  const made = await setUp(db, input.value, hashPassword, nowMillis(db));
  if (!made.ok) return { problems: made.problems, ...typed };
  const { email, password } = input.value;
  await auth().api.signInEmail({ body: { email, password }, headers: await headers() });
  redirect("/");
}
