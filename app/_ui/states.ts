import type { KitState } from "@/db/queries/kitRows";
import type { GlyphName } from "./Glyph";

/** The weight of a message. Colour follows it, and so do a sign and a word: colour never stands alone. */
export type Tone = "good" | "warn" | "problem" | "hold" | "info" | "active" | "plain";

/** Every state that the product shows, under one name each. */
export type StateName =
  | "pass"
  | "warn"
  | "fail"
  | "late"
  | "hold"
  | "open"
  | "dated"
  | "met"
  | "planned"
  | "under way"
  | "done"
  | "unplaced"
  | "pinned"
  | "short"
  | "none";

interface StateLook {
  tone: Tone;
  glyph: GlyphName;
  word: string;
}

/** Sign, tone and default word of each state. No two states share both sign and word. */
export const STATES: Readonly<Record<StateName, StateLook>> = {
  pass: { tone: "good", glyph: "pass", word: "Within limits" },
  warn: { tone: "warn", glyph: "warn", word: "Check" },
  fail: { tone: "problem", glyph: "fail", word: "Over limit" },
  late: { tone: "problem", glyph: "late", word: "Late" },
  hold: { tone: "hold", glyph: "hold", word: "On hold" },
  open: { tone: "warn", glyph: "open", word: "Open" },
  dated: { tone: "info", glyph: "dated", word: "Dated" },
  met: { tone: "good", glyph: "met", word: "Met" },
  planned: { tone: "active", glyph: "planned", word: "Planned" },
  "under way": { tone: "active", glyph: "doing", word: "Under way" },
  done: { tone: "good", glyph: "pass", word: "Done" },
  unplaced: { tone: "warn", glyph: "unplaced", word: "Not placed" },
  pinned: { tone: "info", glyph: "pinned", word: "Pinned" },
  short: { tone: "problem", glyph: "stock", word: "Short" },
  none: { tone: "plain", glyph: "none", word: "No state" },
};

/** How the states of a kit are shown. */
export const KIT_STATES: Readonly<Record<KitState, { state: StateName; word: string }>> = {
  planned: { state: "open", word: "To pick" },
  picked: { state: "under way", word: "Picking" },
  issued: { state: "done", word: "Issued" },
};
