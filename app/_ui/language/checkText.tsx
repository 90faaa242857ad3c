import type { ReactNode } from "react";
import { CHECK_TEXTS } from "@/lib/takeoff";
import { keptText } from "./keptText";
import type { Words } from "./words";

/** What a design check found or advises, in the reader's language. */
export const checkText = (text: string, words: Words): ReactNode => keptText(text, CHECK_TEXTS, words);
