/** What the server says of edits by hand since a revision. */
import { formatClock, formatDate } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { NewPlace } from "@/db/schema";
import type { Phrase } from "@/lib/phrase";

export interface PlanChanges {
  state: "draft" | "in force" | "past" | "gone";
  revision: number;
  changes: readonly {
    no: number;
    isOwn: boolean;
    /** "Rita moved VH001/near/install". */
    sentence: Phrase;
    visits: readonly { before: NewPlace; after: NewPlace }[];
  }[];
}

/** A place in words: crew, day and minute, or that there is none. */
export function placeWords(
  p: Pick<NewPlace, "crewCode" | "startOn" | "startMin" | "isPinned">,
  { t, locale }: Words,
): string {
  if (p.crewCode === null) return t("no place");
  return `${p.crewCode}, ${formatDate(p.startOn, "weekday", locale)} ${formatClock(p.startMin)}${p.isPinned ? t(", pinned") : ""}`;
}
