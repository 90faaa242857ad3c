"use client";

import { useRouter } from "next/navigation";
import { useEffect } from "react";
import { useOutbox } from "@/app/_client/outbox/useOutbox";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { OutboxPanel } from "./OutboxPanel";

/** Reports that wait, on the week's page: sent from here, too, and the page shown anew when one arrived. */
export function WaitingReports({ userId }: { userId: string }) {
  const router = useRouter();
  const { t } = useWords();
  const outbox = useOutbox(userId);
  const { size } = outbox.arrived;
  useEffect(() => {
    if (size > 0) router.refresh();
  }, [size, router]);
  return (
    <>
      {size > 0 ? (
        <div className="mb-4 max-w-3xl">
          <Notice kind="good" announce>
            {t("{{count}} reports that waited have arrived.", { count: size })}
          </Notice>
        </div>
      ) : null}
      <OutboxPanel outbox={outbox} />
    </>
  );
}
