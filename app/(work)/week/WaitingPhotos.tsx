"use client";

import { usePhotos } from "@/app/_client/photos/usePhotos";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";

/** Photos that wait, on the week's page: sent from here, too. Nothing when nothing does. */
export function WaitingPhotos({ userId }: { userId: string }) {
  const { t } = useWords();
  const { photos, state, sendNow } = usePhotos(userId);
  const count = (photos ?? []).filter((p) => p.isReleased).length;
  if (count === 0) return null;
  return (
    <div className="mb-4 max-w-3xl">
      <Notice
        kind="info"
        title={t("{{count}} photos wait on this phone", { count })}
        announce
        action={
          <Button size="small" busy={state === "sending"} onClick={sendNow}>
            {t("Send now")}
          </Button>
        }
      >
        {t("They go out by themselves when this page is open with a signal.", { count })}
      </Notice>
    </div>
  );
}
