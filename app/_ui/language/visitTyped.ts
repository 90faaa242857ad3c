import { typedVisitParts } from "@/lib/visitIds";
import type { Words } from "./words";

/** The words of a visit's name in the reader's language, each with that of its id. */
function ownWords(t: Words["t"]): Map<string, string> {
  const own = new Map<string, string>();
  for (const word of ["near", "far", "install", "alignment", "acceptance", "revisit", "part"])
    own.set(t(word).toLowerCase(), word);
  for (const side of ["near", "far"]) {
    const [first, last] = t(`${side} end`).toLowerCase().split(" ");
    if (first) own.set(first, side);
    if (last) own.set(last, "end");
  }
  return own;
}

/** What was typed, in the words of a visit's id: the server finds the visit. */
export const visitTyped = (text: string, t: Words["t"]): string =>
  typedVisitParts(text, ownWords(t)).join("/");
