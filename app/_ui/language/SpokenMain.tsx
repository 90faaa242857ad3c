"use client";

import { usePathname } from "next/navigation";
import type { ReactNode } from "react";
import { useWords } from "./LanguageProvider";
import { LANGUAGES, OWN_LANGUAGE } from "./languages";

/** Pages whose content is said in every language. The others are English as yet. */
const SPOKEN: readonly RegExp[] = [
  /^\/week(\/sheet|\/visit\/.*)?$/,
  /^\/(kits|stock)(\/.*)?$/,
  /^\/plan(\/(list|solve|compare))?$/,
  /^\/account$/,
  /^\/rules$/,
  /^\/import(\/.*)?$/,
  /^\/sites(\/.*)?$/,
  /^\/hops(\/.*)?$/,
  /^\/programme(\/.*)?$/,
  /^\/(weather|jobs)$/,
  /^\/map(\/ground)?$/,
];

/** The content of a page, marked with the language that it is really in: a screen reader speaks it accordingly. */
export function SpokenMain({ children }: { children: ReactNode }) {
  const { language } = useWords();
  const path = usePathname();
  const isSpoken = SPOKEN.some((place) => place.test(path));
  return (
    <main
      id="main"
      className="ui-shell-main"
      tabIndex={-1}
      lang={LANGUAGES[isSpoken ? language : OWN_LANGUAGE].locale}
    >
      {children}
    </main>
  );
}
