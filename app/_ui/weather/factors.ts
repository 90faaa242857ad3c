import type { HourVerdict, LimitingFactor, WorkClass } from "@/lib/weather";

/** Letter, word and pattern of each reason for which an hour does not count. The letter is in the cell. */
export const FACTOR_LOOK: Readonly<Record<LimitingFactor, { letter: string; word: string; look: HourLook }>> =
  {
    none: { letter: "", word: "limits met", look: "met" },
    wind: { letter: "W", word: "wind", look: "stopped" },
    gust: { letter: "G", word: "gust", look: "stopped" },
    rain: { letter: "R", word: "rain", look: "stopped" },
    "dry time": { letter: "D", word: "drying time", look: "stopped" },
    temperature: { letter: "T", word: "temperature", look: "stopped" },
    "wind chill": { letter: "C", word: "wind chill", look: "stopped" },
    "heat index": { letter: "H", word: "heat", look: "stopped" },
    daylight: { letter: "N", word: "night", look: "dark" },
    thunder: { letter: "L", word: "lightning", look: "stopped" },
    icing: { letter: "I", word: "icing", look: "stopped" },
    "no data": { letter: "?", word: "no data", look: "unknown" },
  };

export type HourLook = "met" | "stopped" | "dark" | "unknown";

export const CLASS_WORDS: Readonly<Record<WorkClass, string>> = {
  climb: "Climb",
  hoist: "Hoist",
  aloft: "Work aloft",
  "open connection": "Open connection",
  ground: "Ground",
  indoor: "Indoor",
  alignment: "Alignment",
};

/** How an hour looks, whatever lib says its factor is: a workable hour is never shown as stopped. */
export function lookOf(verdict: HourVerdict): { letter: string; look: HourLook; words: string } {
  if (verdict.workable) return { letter: "", look: "met", words: "planning limits met" };
  const { letter, look } = FACTOR_LOOK[verdict.factor];
  return { letter, look, words: "planning limits not met" };
}
