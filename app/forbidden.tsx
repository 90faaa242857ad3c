import type { Metadata } from "next";
import { rolesInWords } from "./_server/roles";
import { currentVisitor, refusedPage } from "./_server/session";
import { LinkButton } from "./_ui/Button";
import { EmptyState } from "./_ui/EmptyState";

export const metadata: Metadata = { title: "Not for this role" };

/** A page that exists but is for others: says for whom. Drawn inside the frame, which brings the main landmark. */
export default async function Forbidden() {
  const visitor = await currentVisitor();
  // Next draws this page beside the one that refuses, not after it: one turn of the loop lets that one speak first.
  await new Promise((resolve) => setImmediate(resolve));
  const { roles, isForAllRegions } = refusedPage();
  return (
    <div className="mx-auto max-w-2xl px-4 py-16">
      <h1 className="sr-only">Not for this role</h1>
      <EmptyState
        title={
          isForAllRegions
            ? "This is outside your regions"
            : roles.length > 0
              ? `This page is for ${rolesInWords(roles)}`
              : "This page is for another role"
        }
        actions={
          <LinkButton kind="primary" href="/">
            Go to the start
          </LinkButton>
        }
      >
        {visitor ? `You are signed in as ${visitor.name} (${visitor.role}).` : ""}{" "}
        {isForAllRegions
          ? `Your account is for ${visitor?.regions?.join(", ") || "no region"}. Ask somebody who works with all regions, or ask an administrator to change your regions.`
          : "Ask one of them, or ask an administrator to change your role."}
      </EmptyState>
    </div>
  );
}
