"use client";

import { createContext, type ReactNode, useContext, useMemo } from "react";
// What the page of an error, that of a refusal and the frame all show: here a browser loads it once, there three times.
import "../Button";
import en from "./catalogue/en/common.json";
import { type Language, OWN_LANGUAGE } from "./languages";
import { type Entries, makeWords, type Words } from "./words";

const Spoken = createContext<Words | undefined>(undefined);

/** Hands the reader's language to what runs in the browser. */
export function LanguageProvider({
  language,
  entries,
  isFeetToo,
  children,
}: {
  language: Language;
  entries: Entries;
  isFeetToo: boolean;
  children: ReactNode;
}) {
  const words = useMemo(() => makeWords(language, entries, isFeetToo), [language, entries, isFeetToo]);
  return <Spoken value={words}>{children}</Spoken>;
}

const OWN_WORDS = makeWords(OWN_LANGUAGE, en);

/** Texts in the reader's language; outside of a provider English. */
export const useWords = (): Words => useContext(Spoken) ?? OWN_WORDS;
