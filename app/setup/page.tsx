import type { Metadata } from "next";
import { connection } from "next/server";
import { serverWords } from "@/app/_server/language";
import { PASSWORD_LENGTH_MIN } from "@/app/_server/passwords";
import { LinkButton } from "@/app/_ui/Button";
import { Doorstep } from "@/app/sign-in/Doorstep";
import { database } from "@/db/open";
import { countAccounts } from "@/db/queries/accounts";
import { SetUpForm } from "./SetUpForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Set up") };
}

export default async function SetUpPage() {
  const { t } = await serverWords();
  await connection(); // whether anybody has an account is a matter of now, not of the build
  if (countAccounts(database()) > 0)
    return (
      <Doorstep
        title={t("Already set up")}
        note={t("This installation has accounts. Sign in, or ask an administrator for one.")}
      >
        <LinkButton kind="primary" href="/sign-in" wide>
          {t("Sign in")}
        </LinkButton>
      </Doorstep>
    );
  return (
    <Doorstep
      title={t("Set up")}
      note={t("Nobody has an account yet. Make the first administrator's; they add the others.")}
    >
      <SetUpForm
        passwordLengthMin={PASSWORD_LENGTH_MIN}
        zones={["UTC", ...Intl.supportedValuesOf("timeZone").filter((zone) => zone !== "UTC")]}
      />
    </Doorstep>
  );
}
