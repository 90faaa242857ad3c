import type { Metadata } from "next";
import { LinkButton } from "./_ui/Button";
import { EmptyState } from "./_ui/EmptyState";

export const metadata: Metadata = { title: "Not found" };

/** An address that leads nowhere, or a thing that is gone. */
export default function NotFound() {
  return (
    <main className="mx-auto max-w-2xl px-4 py-16">
      <h1 className="sr-only">Not found</h1>
      <EmptyState
        level={2}
        title="There is nothing at this address"
        actions={
          <>
            <LinkButton kind="primary" href="/">
              Go to the start
            </LinkButton>
            <LinkButton href="/sites">Search sites and hops</LinkButton>
          </>
        }
      >
        It may have been renamed or withdrawn. Search for its code in Sites and hops, or go back to the start.
      </EmptyState>
    </main>
  );
}
