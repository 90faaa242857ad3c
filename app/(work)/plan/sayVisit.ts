import type { Words } from "@/app/_ui/language/words";
import { visitPhrase } from "@/lib/visitIds";

/** "VH028 near install", in the reader's language. */
export function sayVisit(id: string, { say }: Words): string {
  const named = visitPhrase(id);
  return typeof named === "string" ? named : say(named);
}
