"use client";

import { useEffect, useState } from "react";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";

/** Says that reports and photos wait on this phone, to whom their session ended with: nothing while none does. */
export function WaitingHere({ hasEnded }: { hasEnded: boolean }) {
  const [count, setCount] = useState(0);
  const [photos, setPhotos] = useState(0);
  useEffect(() => {
    // Asked for after the page is there: most who sign in have nothing that waits.
    import("@/app/_client/outbox/store")
      .then(({ waitingReports }) => waitingReports())
      .then((reports) => setCount(reports.length))
      .catch(() => undefined);
    import("@/app/_client/photos/store")
      .then(({ photosToSend }) => photosToSend())
      .then(setPhotos)
      .catch(() => undefined);
  }, []);
  return <WaitingNotice count={count} photos={photos} hasEnded={hasEnded} />;
}

export function WaitingNotice(props: { count: number; photos: number; hasEnded: boolean }) {
  const { count, photos, hasEnded } = props;
  const { t } = useWords();
  if (count === 0 && photos === 0) return null;
  const reports = hasEnded
    ? t("Your session has ended: sign in; the {{count}} reports that wait on this phone stay.", { count })
    : t("Sign in: the {{count}} reports that wait on this phone stay.", { count });
  return (
    <div className="mb-4">
      <Notice kind="hold" announce>
        {count > 0 ? <p>{reports}</p> : null}
        {photos > 0 ? <p>{t("{{count}} photos wait on this phone", { count: photos })}</p> : null}
      </Notice>
    </div>
  );
}
