import type { ReactNode } from "react";
import { readBack } from "@/lib/phrase";
import { CHECK_TEXTS } from "@/lib/takeoff";
import { English } from "./English";
import { OWN_LANGUAGE } from "./languages";
import type { Words } from "./words";

/** What a design check found or advises, in the reader's language; what cannot be read back stays English. */
export function checkText(text: string, { language, say }: Words): ReactNode {
  if (language === OWN_LANGUAGE) return text;
  const read = readBack(text, CHECK_TEXTS);
  return CHECK_TEXTS.includes(read.text) ? say(read) : <English>{text}</English>;
}
