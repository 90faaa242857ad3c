import type { ReactNode } from "react";
import { readBack } from "@/lib/phrase";
import { English } from "./English";
import { OWN_LANGUAGE } from "./languages";
import type { Words } from "./words";

/** A sentence that is kept or made in English, in the reader's language; what none of `sentences` fits stays English, marked. */
export function keptText(text: string, sentences: readonly string[], { language, say }: Words): ReactNode {
  if (language === OWN_LANGUAGE) return text;
  const read = readBack(text, sentences);
  return sentences.includes(read.text) ? say(read) : <English>{text}</English>;
}
