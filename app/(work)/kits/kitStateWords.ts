import type { Words } from "@/app/_ui/language/words";
import type { KitState } from "@/db/queries/kitRows";
import { LOOK } from "./KitStateMark";

/** One word for one state of a kit everywhere, and how far it is while somebody picks it. */
export const kitStateWords = (
  { state, pickedCount, lineCount }: { state: KitState; pickedCount: number; lineCount: number },
  t: Words["t"],
): string =>
  state === "picked"
    ? t("Picking, {{picked}} of {{count}} lines", { picked: String(pickedCount), count: lineCount })
    : t(LOOK[state].word);
