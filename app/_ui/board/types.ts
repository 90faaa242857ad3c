import type { VisitKind } from "@/lib/schedule";
import type { GlyphName } from "../Glyph";
import type { Tone } from "../states";

/** One day of a crew. */
export interface BoardDay {
  works: boolean;
  /** Why not: leave, holiday, certificate ran out. */
  why?: string;
}

export interface BoardCrew {
  id: string;
  code: string;
  /** Second line: depot, people. */
  note?: string;
  /** One per day of the board. */
  days: readonly BoardDay[];
}

/** How the weather stands for a visit: planning limits met, met with little to spare, not met, or no forecast yet. */
export type WeatherState = "met" | "tight" | "not met" | "climate";
export type KitState = "ready" | "expected" | "short" | "issued";

/** What its crew reported; or that a revisit was taken back. */
export type ReportState = "done" | "part done" | "hold" | "withdrawn";

export interface BoardVisit {
  id: string;
  /** null = in the tray of visits that no plan has placed. */
  crewId: string | null;
  kind: VisitKind;
  /** Of work that takes several visits: which one, from 2 on. */
  part?: number;
  hopCode: string;
  siteCode: string;
  /** Day indices and wall-clock minutes; meaningless while unplaced. */
  startDay: number;
  startMin: number;
  endDay: number;
  endMin: number;
  weather?: { state: WeatherState; text: string };
  kit?: { state: KitState; text: string };
  report?: { state: ReportState; text: string };
  /** What its crew lacks for the work as its people are now, and from which day. */
  crewShort?: string;
  isPinned?: boolean;
  isLate?: boolean;
  /** Its hop has a visit that is planned before a gate opens. */
  isBeforeGate?: boolean;
  /** Visit at the other end that starts at the same minute with another crew. */
  togetherId?: string;
  /** Unplaced only: the rule that stops it, and the detail. */
  rule?: string;
  detail?: string;
  /** Does not pass the filter: drawn faintly, for it still takes its crew's time. */
  isFaint?: boolean;
}

/** How a press adds to the visits that are picked: one by one (by a key held down or by the press alone), or all between the last one and this. */
export type PickHow = "toggle" | "press" | "range";

export type Zoom = "day" | "week" | "4 weeks" | "12 weeks";

/** `chunkDays`: days that are mounted and dropped together while scrolling. */
export const ZOOMS: Readonly<Record<Zoom, { dayPx: number; rowPx: number; chunkDays: number }>> = {
  day: { dayPx: 520, rowPx: 60, chunkDays: 7 },
  week: { dayPx: 136, rowPx: 60, chunkDays: 7 },
  "4 weeks": { dayPx: 44, rowPx: 44, chunkDays: 14 },
  "12 weeks": { dayPx: 16, rowPx: 36, chunkDays: 14 },
};

export const KIND_LOOK: Readonly<Record<VisitKind, { word: string; glyph: GlyphName }>> = {
  install: { word: "Install", glyph: "install" },
  alignment: { word: "Alignment", glyph: "alignment" },
  acceptance: { word: "Acceptance", glyph: "acceptance" },
  revisit: { word: "Revisit", glyph: "revisit" },
};

export const WEATHER_LOOK: Readonly<Record<WeatherState, { word: string; glyph: GlyphName; tone: Tone }>> = {
  met: { word: "weather: limits met", glyph: "heat", tone: "good" },
  tight: { word: "weather: close to a limit", glyph: "warn", tone: "warn" },
  "not met": { word: "weather: over a limit", glyph: "fail", tone: "problem" },
  climate: { word: "weather: no forecast yet", glyph: "no-data", tone: "plain" },
};

export const REPORT_LOOK: Readonly<Record<ReportState, { word: string; glyph: GlyphName }>> = {
  done: { word: "reported done", glyph: "pass" },
  "part done": { word: "reported part done", glyph: "doing" },
  hold: { word: "reported on hold", glyph: "hold" },
  withdrawn: { word: "withdrawn: not needed any more", glyph: "close" },
};

export const KIT_LOOK: Readonly<Record<KitState, { word: string; glyph: GlyphName; tone: Tone }>> = {
  ready: { word: "kit: ready", glyph: "kits", tone: "good" },
  issued: { word: "kit: with the crew", glyph: "met", tone: "good" },
  expected: { word: "kit: on order", glyph: "dated", tone: "info" },
  short: { word: "kit: short", glyph: "stock", tone: "problem" },
};
