import type { Metadata } from "next";
import { serverWords } from "@/app/_server/language";
import { rolesInWords } from "./_server/roles";
import { currentVisitor, refusedPage } from "./_server/session";
import { LinkButton } from "./_ui/Button";
import { EmptyState } from "./_ui/EmptyState";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Not for this role") };
}

/** A page that exists but is for others: says for whom. Drawn inside the frame, which brings the main landmark. */
export default async function Forbidden() {
  const visitor = await currentVisitor();
  const words = await serverWords();
  const { t, locale } = words;
  // Next draws this page beside the one that refuses, not after it: one turn of the loop lets that one speak first.
  await new Promise((resolve) => setImmediate(resolve));
  const { roles, isForAllRegions } = refusedPage();
  return (
    <div className="mx-auto max-w-2xl px-4 py-16" lang={locale}>
      <h1 className="sr-only">{t("Not for this role")}</h1>
      <EmptyState
        title={
          isForAllRegions
            ? t("This is outside your regions")
            : roles.length > 0
              ? t("This page is for {{roles}}", { roles: rolesInWords(roles, words) })
              : t("This page is for another role")
        }
        actions={
          <LinkButton kind="primary" href="/">
            {t("Go to the start")}
          </LinkButton>
        }
      >
        {visitor
          ? t("You are signed in as {{name}} ({{role}}).", { name: visitor.name, role: t(visitor.role) })
          : ""}{" "}
        {isForAllRegions
          ? t(
              "Your account is for {{regions}}. Ask somebody who works with all regions, or ask an administrator to change your regions.",
              { regions: visitor?.regions?.join(", ") || t("no region") },
            )
          : t("Ask one of them, or ask an administrator to change your role.")}
      </EmptyState>
    </div>
  );
}
