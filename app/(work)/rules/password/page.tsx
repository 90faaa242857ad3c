import type { Metadata } from "next";
import { PASSWORD_LENGTH_MIN } from "@/app/_server/auth";
import { requireRole } from "@/app/_server/session";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { PasswordForm } from "./PasswordForm";

export const metadata: Metadata = { title: "Your password" };

export default async function PasswordPage() {
  const visitor = await requireRole();
  return (
    <>
      <PageHead
        title="Your password"
        lead={`You sign in as ${visitor.email}.`}
        crumbs={[{ label: "Rules", href: "/rules" }]}
      />
      <Panel>
        <PasswordForm passwordMin={PASSWORD_LENGTH_MIN} />
      </Panel>
    </>
  );
}
