import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { serverWords } from "@/app/_server/language";
import { homeOf } from "@/app/_server/roles";
import { currentVisitor, safeNext } from "@/app/_server/session";
import { type Db, database } from "@/db/open";
import { accounts, countAccounts } from "@/db/queries/accounts";
import { readSetting } from "@/db/queries/settings";
import { Doorstep } from "./Doorstep";
import { type DemoPerson, SignInForm } from "./SignInForm";
import { WaitingHere } from "./WaitingHere";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Sign in") };
}

/** Accounts that came with the demonstration; one added or invited since has a password of its own. */
function demoPeople(db: Db): DemoPerson[] {
  const known = readSetting(db, "demoAccounts") ?? [];
  return accounts(db)
    .filter((person) => !person.disabledAt && known.includes(person.email))
    .map(({ name, email, role }) => ({ name, email, role }));
}

export default async function SignInPage({
  searchParams,
}: {
  searchParams: Promise<{ next?: string | string[]; again?: string }>;
}) {
  const { next, again } = await searchParams;
  const wanted = safeNext(typeof next === "string" ? next : undefined);
  const visitor = await currentVisitor();
  if (visitor) redirect(wanted ?? homeOf(visitor));
  const db = database();
  if (countAccounts(db) === 0) redirect("/setup");
  const { t } = await serverWords();
  const password = readSetting(db, "demoPassword");
  return (
    <Doorstep
      title={t("Sign in")}
      note={
        again
          ? t("The second step took too long or too many tries. Begin again with your password.")
          : undefined
      }
    >
      <WaitingHere hasEnded={wanted !== undefined} />
      <SignInForm next={wanted ?? ""} demo={password ? { password, people: demoPeople(db) } : undefined} />
    </Doorstep>
  );
}
