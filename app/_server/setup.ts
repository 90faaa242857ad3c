/** The first administrator of an installation without demonstration data. */

import { z } from "zod";
import { type Db, writing } from "@/db/open";
import { countAccounts, createAccount } from "@/db/queries/accounts";
import { readSetting, removeSetting, writeSetting } from "@/db/queries/settings";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { type InstantMillis, isKnownZone } from "@/lib/time";
import { problemsOf } from "./carryOut";
import { chosenPassword } from "./passwords";
import { isSecretOf } from "./secrets";

export interface SetUpInput {
  token: string;
  name: string;
  email: string;
  password: string;
  /** IANA zone in which the installation means "today". */
  zone: string;
}

export function setUpInput(raw: unknown): Result<SetUpInput> {
  const parsed = z
    .object({
      token: z.string().trim().min(1, "Enter the token that was printed when the programme started."),
      name: z.string().trim().min(1, "Enter your name."),
      email: z.email("Enter a sign-in name in the form of an e-mail address."),
      password: chosenPassword("The password"),
      zone: z.string().refine(isKnownZone, "Choose a time zone by its name, such as Europe/Oslo, or UTC."),
    })
    .safeParse(raw);
  return parsed.success ? ok(parsed.data) : refused(...problemsOf(parsed.error));
}

const ALREADY: Problem = {
  path: "",
  rule: "already-set-up",
  ...sentences(
    phrase("This installation has accounts already."),
    phrase("Sign in, or ask an administrator for an account."),
  ),
};

const WRONG_TOKEN: Problem = {
  path: "token",
  rule: "wrong-token",
  ...sentences(
    phrase("This is not the token of this start."),
    phrase("Copy it from what the programme printed when it was last started; each start makes a new one."),
  ),
};

/** Makes the first administrator; the token is used up. Refused once there is any account. */
export async function setUp(
  db: Db,
  input: SetUpInput,
  hash: (password: string) => Promise<string>,
  now: InstantMillis,
): Promise<Result<string>> {
  if (countAccounts(db) > 0) return refused(ALREADY);
  const tokenHash = readSetting(db, "setupTokenHash");
  if (tokenHash === undefined || !isSecretOf(input.token, tokenHash)) return refused(WRONG_TOKEN);
  const passwordHash = await hash(input.password);
  return writing(db, (): Result<string> => {
    if (countAccounts(db) > 0) return refused(ALREADY); // somebody was quicker while the password was hashed
    const made = createAccount(db, {
      name: input.name,
      email: input.email,
      passwordHash,
      role: "administrator",
      now,
    });
    if (made.ok) {
      removeSetting(db, "setupTokenHash");
      writeSetting(db, "homeZone", input.zone);
    }
    return made;
  });
}
