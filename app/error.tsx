"use client";

import { useEffect } from "react";
import { Button, LinkButton } from "./_ui/Button";
import { Notice } from "./_ui/Notice";

/** Last stop of an exception below the root layout. The digest ties it to the server's log. */
export default function ErrorPage({
  error,
  retry,
}: {
  error: Error & { digest?: string };
  retry: () => void;
}) {
  useEffect(() => {
    console.error(error);
  }, [error]);
  const message = error instanceof Error ? error.message : "";
  const digest = error instanceof Error && "digest" in error ? String(error.digest) : "";
  return (
    <div className="mx-auto grid max-w-xl gap-4 px-4 py-16">
      <title>Something broke · Bothends</title>
      <h1>Something broke on our side</h1>
      <Notice kind="problem" title={message || "No message came with it"}>
        Nothing that you saved before is lost.
        {digest ? ` Reference for your administrator: ${digest}.` : ""}
      </Notice>
      <div className="ui-form-actions">
        <Button kind="primary" onClick={() => retry()}>
          Try again
        </Button>
        <LinkButton href="/">Go to the start</LinkButton>
      </div>
    </div>
  );
}
