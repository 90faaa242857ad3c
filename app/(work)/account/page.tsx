import type { Metadata } from "next";
import { homeZone, machineNow } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { PASSWORD_LENGTH_MIN } from "@/app/_server/passwords";
import { requireRoleInRegions } from "@/app/_server/session";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { personById } from "@/db/queries/accounts";
import { openSessions } from "@/db/queries/sessions";
import { PasswordForm } from "./PasswordForm";
import { SecondFactor } from "./SecondFactor";
import { SessionsPanel } from "./SessionsPanel";
import { sessionRow } from "./sessionWords";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Your account") };
}

/** What everybody looks after for themselves: password, second factor, and where they are signed in. */
export default async function AccountPage() {
  const visitor = await requireRoleInRegions();
  const { t, locale } = await serverWords();
  const db = database();
  const zone = homeZone(db);
  const sessions = openSessions(db, machineNow(), visitor.userId);
  return (
    <>
      <PageHead
        title={t("Your account")}
        lead={t("{{name}}, {{role}}. You sign in as {{email}}.", {
          name: visitor.name,
          role: t(visitor.role === "manager" ? "rollout manager" : visitor.role),
          email: visitor.email,
        })}
      />
      <div className="grid max-w-3xl gap-4">
        <Panel title={t("Password")}>
          <PasswordForm passwordMin={PASSWORD_LENGTH_MIN} />
        </Panel>
        <SecondFactor isOn={personById(db, visitor.userId)?.twoFactorEnabled ?? false} />
        <SessionsPanel rows={sessions.map((s) => sessionRow(s, zone, visitor.sessionId, locale))} />
      </div>
    </>
  );
}
