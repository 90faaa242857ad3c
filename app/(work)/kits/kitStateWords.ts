import type { Words } from "@/app/_ui/language/words";
import { KIT_STATES } from "@/app/_ui/states";
import type { KitState } from "@/db/queries/kitRows";

/** One word for one state of a kit everywhere, and how far it is while somebody picks it. */
export const kitStateWords = (
  { state, pickedCount, lineCount }: { state: KitState; pickedCount: number; lineCount: number },
  t: Words["t"],
): string =>
  state === "picked"
    ? t("Picking, {{picked}} of {{count}} lines", { picked: String(pickedCount), count: lineCount })
    : t(KIT_STATES[state].word);
