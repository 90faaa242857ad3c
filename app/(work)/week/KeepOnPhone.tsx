"use client";

import { useEffect, useState } from "react";
import { formatInstant } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import type { WorkerMessage } from "@/app/sw.js/serviceWorker";

/** A page that is older than this came from the phone, not from the server. */
const FRESH_MILLIS = 120_000;

/** Asks the server's clock, since the phone's own may be wrong; no answer means no signal. */
async function isOlder(madeAtMillis: number): Promise<boolean> {
  try {
    const answer = await fetch("/api/health", { cache: "no-store" });
    return Date.parse(answer.headers.get("date") ?? "") - madeAtMillis > FRESH_MILLIS;
  } catch {
    return true;
  }
}

/** Keeps the week's pages on the phone, and says so when the page that is looked at is such a kept one. */
export function KeepOnPhone({
  userId,
  paths,
  madeAtMillis,
  shownMillis,
  zone,
}: {
  userId: string;
  /** Pages to keep besides this one. */
  paths: readonly string[];
  /** When the server made this page. */
  madeAtMillis: number;
  /** The same on the programme's own clock, which the demonstration sets to its day. */
  shownMillis: number;
  zone: string;
}) {
  const { t, locale } = useWords();
  const [isKept, setKept] = useState(false);
  const list = paths.join(" ");

  useEffect(() => {
    const look = () => void isOlder(madeAtMillis).then(setKept);
    look();
    window.addEventListener("online", look);
    window.addEventListener("offline", look);
    return () => {
      window.removeEventListener("online", look);
      window.removeEventListener("offline", look);
    };
  }, [madeAtMillis]);

  useEffect(() => {
    // Browsers give no worker to a page over plain http from another machine.
    if (process.env.NODE_ENV !== "production" || !("serviceWorker" in navigator)) return;
    void (async () => {
      await navigator.serviceWorker.register("/sw.js");
      const { active } = await navigator.serviceWorker.ready;
      const message: WorkerMessage = {
        kind: "keep",
        user: userId,
        paths: list.split(" "),
        words: {
          lang: locale,
          title: t("No signal"),
          said: t(
            "This page was not kept on this phone. My week and the visits and kits that it lists are, once it was opened with a signal. Reports that wait are not lost.",
          ),
          link: t("My week"),
        },
      };
      if (navigator.onLine) active?.postMessage(message);
    })();
  }, [userId, list, t, locale]);

  if (!isKept) return null;
  return (
    <div className="mb-4 max-w-3xl">
      <Notice kind="warn" title={t("Kept on this phone")} announce>
        {t("This is how it stood on {{when}}.", { when: formatInstant(shownMillis, zone, locale) })}{" "}
        {t("With a signal, load it again: the plan or the weather may have changed.")}
      </Notice>
    </div>
  );
}
