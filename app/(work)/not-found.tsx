import type { Metadata } from "next";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";

export const metadata: Metadata = { title: "Not found" };

/** A thing that is gone, or never was; the frame stands around it. */
export default function NothingHere() {
  return (
    <>
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
    </>
  );
}
