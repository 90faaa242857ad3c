import type { TakenDown } from "@/db/schema";

/** Why a radio does not hang there any more. */
export const TAKEN_DOWN_WORDS: Readonly<Record<TakenDown, string>> = {
  faulty: "found faulty",
  exchanged: "exchanged for another",
  moved: "moved to another place",
  "written wrong": "the serial was written wrong",
};
