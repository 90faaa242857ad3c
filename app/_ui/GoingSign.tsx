"use client";

import { usePathname, useSearchParams } from "next/navigation";
import { useEffect } from "react";
import { endGoing, linkAway, showGoing } from "../_client/going";
import { useWords } from "./language/LanguageProvider";

/** A line over the page from the press on a link until the other page is there; lies over everything, moves nothing. */
export function GoingSign() {
  const { t } = useWords();
  const address = `${usePathname()}?${useSearchParams()}`;
  // biome-ignore lint/correctness/useExhaustiveDependencies: another address means that the page has come
  useEffect(endGoing, [address]);
  useEffect(() => {
    const hear = (event: MouseEvent): void => {
      const link = linkAway(event, window.location.href);
      if (link) showGoing(link);
    };
    document.addEventListener("click", hear, true);
    // Back from the browser's memory of pages: what was pressed there is long done.
    window.addEventListener("pageshow", endGoing);
    return () => {
      document.removeEventListener("click", hear, true);
      window.removeEventListener("pageshow", endGoing);
    };
  }, []);
  return (
    <div className="ui-going ui-no-print" role="status">
      <span className="sr-only">{t("The page is on its way")}</span>
    </div>
  );
}
