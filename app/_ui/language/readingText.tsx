import type { ReactNode } from "react";
import { READING_TEXTS } from "@/lib/acceptance";
import { keptText } from "./keptText";
import type { Words } from "./words";

/** What is said of acceptance readings, in the reader's language: figure and limit, what failed, what a revisit is for. */
export const readingText = (text: string, words: Words): ReactNode => keptText(text, READING_TEXTS, words);
