/** Words for the state of an import and for what it stored. */
import type { Words } from "@/app/_ui/language/words";
import type { StateName } from "@/app/_ui/states";
import type { ImportState, ImportSummary } from "@/db/queries/imports";
import type { Fate } from "@/lib/exchange";

export const STATE_OF_IMPORT: Readonly<Record<ImportState, { state: StateName; word: string }>> = {
  read: { state: "open", word: "Not read yet" },
  previewed: { state: "warn", word: "Waits for your yes" },
  applied: { state: "done", word: "Brought in" },
  discarded: { state: "none", word: "Discarded" },
};

export const FATE_WORDS: Readonly<Record<Fate, { state: StateName; word: string }>> = {
  new: { state: "planned", word: "New" },
  changed: { state: "dated", word: "Changed" },
  same: { state: "met", word: "Same" },
  refused: { state: "fail", word: "Refused" },
};

/** "12 sites, 3 hops, 2 weather series". */
export function storedWords(
  { counts, weatherSeries }: NonNullable<ImportSummary["stored"]>,
  { t }: Words,
): string {
  const words = Object.entries(counts).map(([kind, count]) => `${count} ${t(kind)}`);
  if (weatherSeries > 0) words.push(t("{{count}} weather series", { count: weatherSeries }));
  return words.length > 0 ? words.join(", ") : t("nothing: everything stood already");
}
