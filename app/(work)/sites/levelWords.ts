import type { RoundingLevel } from "@/lib/takeoff";

/** What a quantity is rounded over. */
export const LEVEL_WORDS: Readonly<Record<RoundingLevel, string>> = {
  run: "run",
  end: "end",
  site: "site",
  order: "order (purchase)",
};
