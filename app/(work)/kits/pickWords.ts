import type { KitState } from "@/db/queries/kitRows";

/** Where a kit is picked and when, by its state. */
export const PICK_WORDS: Record<KitState, string> = {
  planned: "To be picked at {{place}} on {{day}}.",
  picked: "Being picked at {{place}}, due on {{day}}.",
  issued: "Issued from {{place}}.",
};
