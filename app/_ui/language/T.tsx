"use client";

import { useWords } from "./LanguageProvider";

/** One text in the reader's language, where a whole component need not know of languages. */
export function T({ children }: { children: string }) {
  return useWords().t(children);
}
