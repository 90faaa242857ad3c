import { readBack } from "@/lib/phrase";
import { OWN_LANGUAGE } from "./languages";
import type { Words } from "./words";

/** A sentence that is kept or made in English, said in the reader's language where one of `sentences` fits it. */
export const sayKept = (text: string, sentences: readonly string[], { language, say }: Words): string =>
  language === OWN_LANGUAGE ? text : say(readBack(text, sentences));
