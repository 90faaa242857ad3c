import type { Metadata } from "next";
import { serverWords } from "@/app/_server/language";
import { currentVisitor } from "./_server/session";
import { LinkButton } from "./_ui/Button";
import { Frame } from "./(work)/Frame";
import NothingHere from "./(work)/not-found";
import { Doorstep } from "./sign-in/Doorstep";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Not found") };
}

/** An address that leads nowhere: inside the frame for whoever is signed in. */
export default async function NotFound() {
  const visitor = await currentVisitor();
  const { t } = await serverWords();
  if (visitor)
    return (
      <Frame visitor={visitor}>
        <NothingHere />
      </Frame>
    );
  return (
    <Doorstep
      title={t("There is nothing at this address")}
      note={t("Sign in to search for what you were after.")}
    >
      <LinkButton kind="primary" href="/sign-in" wide>
        {t("Sign in")}
      </LinkButton>
    </Doorstep>
  );
}
