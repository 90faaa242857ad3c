import type { Words } from "@/app/_ui/language/words";
import type { KitState } from "@/db/queries/kitRows";

export const PICK_WORDS: Record<KitState, string> = {
  planned: "To be picked at {{place}} on {{day}}.",
  picked: "Being picked at {{place}}, due on {{day}}.",
  issued: "Issued from {{place}}.",
};

/** Where a kit is picked and when; of one whose visit is done without it, where it was to be. */
export const pickWords = (
  { state, isNeverIssued }: { state: KitState; isNeverIssued: boolean },
  at: { place: string; day: string },
  t: Words["t"],
): string => (isNeverIssued ? t("Planned at {{place}}, pick day {{day}}.", at) : t(PICK_WORDS[state], at));
