"use client";

import { English } from "./English";
import { useWords } from "./LanguageProvider";

/** Where a figure comes from: in the reader's language where the product says it, as it stands where a person wrote it. */
export function SaidSource({ text }: { text: string }) {
  const { t } = useWords();
  const said = t(text);
  return said === text ? <English>{text}</English> : said;
}
