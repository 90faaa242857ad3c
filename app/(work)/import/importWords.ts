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
import type { Fate, KindName } from "@/lib/exchange";

export const STATE_OF_IMPORT: Readonly<Record<ImportState, { state: StateName; word: string }>> = {
  read: { state: "open", word: "Not read yet" },
  previewed: { state: "warn", word: "Waits for your yes" },
  applied: { state: "done", word: "Brought in" },
  discarded: { state: "none", word: "Discarded" },
};

/** Of a preview that has nothing to say yes to: it waits for an answer, all stands already, or nothing can come of it. */
export const STATE_WITHOUT_ROWS = {
  asks: { state: "warn", word: "Waits for an answer" },
  stands: { state: "met", word: "Nothing to bring in" },
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

/** Whether the table has a question that a person answers on its card: of its cells, its weather, or its columns. */
export const asksOf = ({ questions, weather, totals, matching }: AskingTable): boolean =>
  questions.length > 0 ||
  (weather?.problems.length ?? 0) > 0 ||
  ((totals?.refused ?? 0) > 0 && matching.missing.some((m) => m.required) && matching.unmatched.length > 0);

type AskingTable = Pick<TableHead, "questions" | "weather" | "totals" | "matching">;

/** Its state, and of one that was read whether there is anything to say yes to. */
export function stateOfImport({ state, summary }: Pick<ImportHead, "state" | "summary">): {
  state: StateName;
  word: string;
} {
  const { tables = [], problems = [], totals } = summary;
  if (state !== "applied" && isUnreadable(summary)) return STATE_WITHOUT_ROWS.isOver;
  if (state !== "previewed") return STATE_OF_IMPORT[state];
  const isRead = tables.some((t) => t.totals || t.weather);
  if (!isRead && problems.length + tables.length > 0) return STATE_WITHOUT_ROWS.asks;
  const hours = hourCounts(tables);
  const stored = (totals?.new ?? 0) + (totals?.changed ?? 0) + hours.new + hours.changed;
  if (!isRead || stored > 0) return STATE_OF_IMPORT.previewed;
  if (tables.some(asksOf) || problems.length > 0) return STATE_WITHOUT_ROWS.asks;
  const refused = (totals?.refused ?? 0) + tables.reduce((sum, t) => sum + (t.weather?.refusedRows ?? 0), 0);
  return refused > 0 ? STATE_WITHOUT_ROWS.isOver : STATE_WITHOUT_ROWS.stands;
}

/** How many rows of a kind were stored, in words. */
const STORED: Readonly<Record<KindName, (count: number, t: Words["t"]) => string>> = {
  sites: (count, t) => t("{{count}} sites", { count }),
  places: (count, t) => t("{{count}} storage places", { count }),
  items: (count, t) => t("{{count}} items", { count }),
  hops: (count, t) => t("{{count}} hops", { count }),
  ends: (count, t) => t("{{count}} ends", { count }),
  antennas: (count, t) => t("{{count}} antennas", { count }),
  radios: (count, t) => t("{{count}} radios", { count }),
  gates: (count, t) => t("{{count}} gates", { count }),
  stock: (count, t) => t("{{count}} stock rows", { count }),
  orders: (count, t) => t("{{count}} order lines", { count }),
  crews: (count, t) => t("{{count}} crews", { count }),
  "crew members": (count, t) => t("{{count}} crew members", { count }),
  "weather places": (count, t) => t("{{count}} weather places", { count }),
  weather: (count, t) => t("{{count}} weather series", { count }),
  "actual hours": (count, t) => t("{{count}} rows of actual hours", { count }),
};

/** "12 sites, 3 hops, 2 weather series". */
export function storedWords(
  { counts, weatherSeries }: NonNullable<ImportSummary["stored"]>,
  { t }: Words,
): string {
  const words = Object.entries(counts).map(([kind, count]) => STORED[kind as KindName](count, t));
  if (weatherSeries > 0) words.push(STORED.weather(weatherSeries, t));
  return words.length > 0 ? words.join(", ") : t("nothing: everything stood already");
}
