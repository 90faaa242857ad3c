/** Words for the state of an import and for what it stored. */
import type { Words } from "@/app/_ui/language/words";
import type { StateName } from "@/app/_ui/states";
import {
  type ImportHead,
  type ImportState,
  type ImportSummary,
  isUnreadable,
  type TableHead,
} from "@/db/queries/imports";
import type { Fate } from "@/lib/exchange";

export const STATE_OF_IMPORT: Readonly<Record<ImportState, { state: StateName; word: string }>> = {
  read: { state: "open", word: "Not read yet" },
  previewed: { state: "warn", word: "Waits for your yes" },
  applied: { state: "done", word: "Brought in" },
  discarded: { state: "none", word: "Discarded" },
};

/** Of files without a table that could be read: one that waits for an answer, and one of which nothing can come. */
export const STATE_WITHOUT_TABLE = {
  asks: { state: "warn", word: "Waits for an answer" },
  isOver: { state: "fail", word: "Nothing to bring in" },
} as const;

export const FATE_WORDS: Readonly<Record<Fate, { state: StateName; word: string }>> = {
  new: { state: "planned", word: "New" },
  changed: { state: "dated", word: "Changed" },
  same: { state: "met", word: "Same" },
  refused: { state: "fail", word: "Refused" },
};

/** Hours of weather that a preview brings in, or that a file has without a change. */
export interface HourCounts {
  new: number;
  changed: number;
  same: number;
}

/** Over all tables; one with an open question brings none in. */
export function hourCounts(tables: readonly TableHead[]): HourCounts {
  const counts: HourCounts = { new: 0, changed: 0, same: 0 };
  for (const { weather } of tables) {
    if (!weather || weather.problems.length > 0) continue;
    for (const p of weather.places) {
      counts.new += p.newHours;
      counts.changed += p.changedHours;
      counts.same += p.sameHours;
    }
  }
  return counts;
}

/** Its state, and of one that was read whether there is anything to say yes to. */
export function stateOfImport({ state, summary }: Pick<ImportHead, "state" | "summary">): {
  state: StateName;
  word: string;
} {
  const isRead = summary.tables?.some((t) => t.totals || t.weather) ?? false;
  const asks = [...(summary.problems ?? []).map((p) => p.rule), ...(summary.tables ?? [])].length > 0;
  if (state !== "applied" && isUnreadable(summary)) return STATE_WITHOUT_TABLE.isOver;
  if (state === "previewed" && !isRead && asks) return STATE_WITHOUT_TABLE.asks;
  return STATE_OF_IMPORT[state];
}

/** "12 sites, 3 hops, 2 weather series". */
export function storedWords(
  { counts, weatherSeries }: NonNullable<ImportSummary["stored"]>,
  { t }: Words,
): string {
  const words = Object.entries(counts).map(([kind, count]) => `${count} ${t(kind)}`);
  if (weatherSeries > 0) words.push(t("{{count}} weather series", { count: weatherSeries }));
  return words.length > 0 ? words.join(", ") : t("nothing: everything stood already");
}
