import type { Metadata } from "next";
import { PASSWORD_LENGTH_MIN } from "@/app/_server/auth";
import { homeZone, machineNow } from "@/app/_server/clock";
import { requireRoleInRegions } from "@/app/_server/session";
import { ROLE_WORDS } from "@/app/_ui/nav";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { personById } from "@/db/queries/accounts";
import { openSessions } from "@/db/queries/sessions";
import { PasswordForm } from "./PasswordForm";
import { SecondFactor } from "./SecondFactor";
import { SessionsPanel } from "./SessionsPanel";
import { sessionRow } from "./sessionWords";

export const metadata: Metadata = { title: "Your account" };

/** What everybody looks after for themselves: password, second factor, and where they are signed in. */
export default async function AccountPage() {
  const visitor = await requireRoleInRegions();
  const db = database();
  const zone = homeZone(db);
  const sessions = openSessions(db, machineNow(), visitor.userId);
  return (
    <>
      <PageHead
        title="Your account"
        lead={`${visitor.name}, ${ROLE_WORDS[visitor.role].toLowerCase()}. You sign in as ${visitor.email}.`}
      />
      <div className="grid max-w-3xl gap-4">
        <Panel title="Password">
          <PasswordForm passwordMin={PASSWORD_LENGTH_MIN} />
        </Panel>
        <SecondFactor isOn={personById(db, visitor.userId)?.twoFactorEnabled ?? false} />
        <SessionsPanel rows={sessions.map((s) => sessionRow(s, zone, visitor.sessionId))} />
      </div>
    </>
  );
}
