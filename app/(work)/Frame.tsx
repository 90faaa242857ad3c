import Link from "next/link";
import type { ReactNode } from "react";
import { demoClockNote } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import type { Visitor } from "@/app/_server/session";
import { FocusKeeper } from "@/app/_ui/FocusKeeper";
import { T } from "@/app/_ui/language/T";
import { Shell } from "@/app/_ui/Shell";
import { FindAnything } from "./find/FindAnything";
import { SignOut } from "./SignOut";

/** The frame of a page for somebody who is signed in. */
export async function Frame({ visitor, children }: { visitor: Visitor; children: ReactNode }) {
  const demoNote = demoClockNote(undefined, await serverWords());
  return (
    <Shell
      role={visitor.role}
      regions={visitor.regions ?? undefined}
      userName={visitor.name}
      find={<FindAnything />}
      isDemo={demoNote !== undefined}
      demoNote={demoNote}
      userMenu={
        <Link href="/account">
          <T>Your account</T>
        </Link>
      }
      signOut={<SignOut />}
    >
      {children}
      <FocusKeeper />
    </Shell>
  );
}
