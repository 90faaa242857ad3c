"use client";

import { useEffect } from "react";
import { Button, LinkButton } from "./_ui/Button";
import { useWords } from "./_ui/language/LanguageProvider";
import { Notice } from "./_ui/Notice";

/** Last stop of an exception below the root layout. The digest ties it to the server's log. */
export default function ErrorPage({
  error,
  retry,
}: {
  error: Error & { digest?: string };
  retry: () => void;
}) {
  const { t } = useWords();
  useEffect(() => {
    console.error(error);
  }, [error]);
  const message = error instanceof Error ? error.message : "";
  const digest = error instanceof Error && "digest" in error ? String(error.digest) : "";
  return (
    <div className="mx-auto grid max-w-xl gap-4 px-4 py-16">
      <title>{t("Something broke · Bothends")}</title>
      <h1>{t("Something broke on our side")}</h1>
      <Notice
        kind="problem"
        title={message ? <span lang="en">{message}</span> : t("No message came with it")}
      >
        {t("Nothing that you saved before is lost.")}
        {digest ? ` ${t("Reference for your administrator: {{digest}}.", { digest })}` : ""}
      </Notice>
      <div className="ui-form-actions">
        <Button kind="primary" onClick={() => retry()}>
          {t("Try again")}
        </Button>
        <LinkButton href="/">{t("Go to the start")}</LinkButton>
      </div>
    </div>
  );
}
