import type { Metadata } from "next";
import { currentVisitor } from "./_server/session";
import { LinkButton } from "./_ui/Button";
import { Frame } from "./(work)/Frame";
import NothingHere from "./(work)/not-found";
import { Doorstep } from "./sign-in/Doorstep";

export const metadata: Metadata = { title: "Not found" };

/** An address that leads nowhere: inside the frame for whoever is signed in. */
export default async function NotFound() {
  const visitor = await currentVisitor();
  if (visitor)
    return (
      <Frame visitor={visitor}>
        <NothingHere />
      </Frame>
    );
  return (
    <Doorstep title="There is nothing at this address" note="Sign in to search for what you were after.">
      <LinkButton kind="primary" href="/sign-in" wide>
        Sign in
      </LinkButton>
    </Doorstep>
  );
}
