import type { ReactNode } from "react";
import { Button } from "@/app/_ui/Button";
import { Shell } from "@/app/_ui/Shell";
import { signOut } from "@/app/sign-in/actions";
import { database } from "@/db/open";
import { readSetting } from "@/db/queries/settings";
import type { Visitor } from "./carryOut";
import { demoClockNote } from "./clock";

/** The frame of a signed-in page, filled in for this visitor. */
export function Frame({ visitor, children }: { visitor: Visitor; children: ReactNode }) {
  const db = database();
  const isDemo = readSetting(db, "demoLoadedOn") !== undefined;
  return (
    <Shell
      role={visitor.role}
      userName={visitor.name}
      isDemo={isDemo}
      notice={isDemo ? <p className="text-quiet px-4 py-1 text-center text-sm">{demoClockNote(db)}</p> : null}
      signOut={
        <form action={signOut}>
          <Button type="submit" wide>
            Sign out
          </Button>
        </form>
      }
    >
      {children}
    </Shell>
  );
}
