"use client";

import { useEffect, useState } from "react";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";

/** Says that reports wait on this phone, to whom their session ended with: nothing while none does. */
export function WaitingHere({ hasEnded }: { hasEnded: boolean }) {
  const [count, setCount] = useState(0);
  useEffect(() => {
    // Asked for after the page is there: most who sign in have nothing that waits.
    import("@/app/_client/outbox/store")
      .then(({ waitingReports }) => waitingReports())
      .then((reports) => setCount(reports.length))
      .catch(() => undefined);
  }, []);
  return <WaitingNotice count={count} hasEnded={hasEnded} />;
}

export function WaitingNotice({ count, hasEnded }: { count: number; hasEnded: boolean }) {
  const { t } = useWords();
  if (count === 0) return null;
  return (
    <div className="mb-4">
      <Notice kind="hold" announce>
        {hasEnded
          ? t("Your session has ended: sign in; the {{count}} reports that wait on this phone stay.", {
              count,
            })
          : t("Sign in: the {{count}} reports that wait on this phone stay.", { count })}
      </Notice>
    </div>
  );
}
