/**
 * Which signs a block carries and where they stand. A row draws all signs of its blocks as one drawing (BoardSigns):
 * thousands of small drawings of their own made scrolling jerk.
 */
import { type GlyphName, glyphLinesAt } from "../Glyph";
import type { PlacedBlock } from "./geometry";
import { type BoardVisit, KIND_LOOK, KIT_LOOK, REPORT_LOOK, WEATHER_LOOK } from "./types";

export type BlockSize = "full" | "code" | "sign" | "bare";

/** A block in so high a lane has room for a code on two lines below its signs. */
export const hasTwoLines = (lanePx: number): boolean => lanePx >= 56;

/** What a block has room for. */
export function sizeOf(widthPx: number, lanePx: number): BlockSize {
  const codePx = hasTwoLines(lanePx) ? 36 : 56;
  return widthPx >= 84 ? "full" : widthPx >= codePx ? "code" : widthPx >= 14 ? "sign" : "bare";
}

/** Where there is room for few signs only: what needs a person's eye, worst first. */
function troublesOf(visit: BoardVisit): readonly GlyphName[] {
  const weather = visit.weather?.state;
  const signs: GlyphName[] = [];
  if (weather === "not met") signs.push(WEATHER_LOOK[weather].glyph);
  if (visit.crewShort) signs.push("people-short");
  if (visit.kit?.state === "short") signs.push(KIT_LOOK.short.glyph);
  if (visit.isLate) signs.push("late");
  if (weather === "tight") signs.push(WEATHER_LOOK[weather].glyph);
  return signs;
}

/** Signs that fit below the kind's where there is no room beside it. */
const roomBelowKind = (lanePx: number): number => (hasTwoLines(lanePx) ? 2 : lanePx >= 40 ? 1 : 0);

/** What goes beside a block's kind where room is short: its worst trouble, that a person holds it there, the rest. */
function besideKind(visit: BoardVisit): readonly GlyphName[] {
  const [worst, ...others] = troublesOf(visit);
  return [...(worst ? [worst] : []), ...(visit.isPinned ? (["pinned"] as const) : []), ...others];
}

const reportOf = (visit: BoardVisit): readonly GlyphName[] =>
  visit.report ? [REPORT_LOOK[visit.report.state].glyph] : [];

/** Signs beside the site on a block's second line. */
export function footSigns(visit: BoardVisit): readonly GlyphName[] {
  const signs = [...reportOf(visit)];
  if (visit.crewShort) signs.push("people-short");
  if (visit.isLate) signs.push("late");
  if (visit.weather) signs.push(WEATHER_LOOK[visit.weather.state].glyph);
  if (visit.kit) signs.push(KIT_LOOK[visit.kit.state].glyph);
  return signs;
}

/** Height and width of a sign by what the block has room for, and what is left free beside each. */
const SIGN_PX = { full: 13, code: 12, sign: 14 };
const GAP_PX = 3;
/** From a block's edge to its signs. */
const EDGE_PX = { full: 7, code: 5 };
/** Lines of a full block: the hop, the site, and what is free between them. Held in board.css too. */
const HEAD_PX = 16;
const FOOT_PX = 15;
const LINE_GAP_PX = 1;

/** Room that `count` signs take beside words in a full block. */
export const signsWidePx = (count: number): number => count * (SIGN_PX.full + GAP_PX);

/** From the top of a block of size "code" to its words: its signs stand above them. */
export const codeTopPx = (lanePx: number): number => signsTopPx(lanePx) + SIGN_PX.code + 1;
const signsTopPx = (lanePx: number): number => (hasTwoLines(lanePx) ? 8 : lanePx >= 44 ? 5 : 2);

/** Room that a letter takes at most in a name, in a site below it, and in a code (capitals and digits), in a note of a crew on the mean. */
const LETTER_PX = { head: 10, foot: 9, code: 9, note: 6.4 };
/** What of a block's width no word can have: its frame, the narrower drawing, and the room before and behind words. */
const FRAME_PX = 20;
/** What of the column of names is left free beside them. */
const NOTE_FRAME_PX = 25;

/**
 * May a block's words reach over its edge? Only then are they cut off: what cuts off is dear to a browser that paints
 * thousands of blocks (docs/decisions/043), so of most blocks nothing is.
 */
export function isTight({ visit, widthPx }: PlacedBlock, lanePx: number): boolean {
  const size = sizeOf(widthPx, lanePx);
  const roomPx = widthPx - FRAME_PX;
  if (size === "code") {
    const parts = hasTwoLines(lanePx) ? visit.hopCode.split(BREAK) : [visit.hopCode];
    return Math.max(...parts.map((part) => part.length)) * LETTER_PX.code > roomPx;
  }
  if (size !== "full") return false;
  const headPx = visit.hopCode.length * LETTER_PX.head + signsWidePx(visit.isPinned ? 2 : 1);
  const footPx = visit.siteCode.length * LETTER_PX.foot + signsWidePx(footSigns(visit).length);
  return Math.max(headPx, footPx) > roomPx;
}

/** May the words below a crew's name reach over the column of names? Then they are cut off. */
export const isNoteTight = (note: string, crewPx: number): boolean =>
  note.length * LETTER_PX.note > crewPx - NOTE_FRAME_PX;

/** Where a code may go on on a second line: between its letters and its number, where a reader would part it. */
export const BREAK = /(?<=^\D+)(?=\d)/;

/** Lines of all signs of a block, in px from the first day's left edge and the row's top. */
export function signLines({ visit, leftPx, widthPx, lane }: PlacedBlock, lanePx: number): string {
  const size = sizeOf(widthPx, lanePx);
  if (size === "bare") return "";
  const own = KIND_LOOK[visit.kind].glyph;
  const px = SIGN_PX[size];
  const middlePx = (lane + 0.5) * lanePx;
  // A block is drawn two pixels narrower than its time, so that neighbours stay apart.
  const rightPx = leftPx + widthPx - 2;
  if (size === "sign") {
    const signs = [reportOf(visit)[0] ?? own, ...besideKind(visit).slice(0, roomBelowKind(lanePx))];
    const topPx = middlePx - (signs.length * (px + 1) - 1) / 2;
    const signLeftPx = (leftPx + rightPx - px) / 2;
    return signs.map((name, at) => glyphLinesAt(name, signLeftPx, topPx + at * (px + 1), px)).join("");
  }
  /** Signs side by side that end at the block's right edge. */
  const atRight = (signs: readonly GlyphName[], topPx: number): string =>
    signs
      .map((name, at) => {
        const fromRightPx = (signs.length - at) * (px + GAP_PX) - GAP_PX;
        return glyphLinesAt(name, rightPx - EDGE_PX[size] - fromRightPx, topPx, px);
      })
      .join("");
  if (size === "code") {
    const topPx = lane * lanePx + 3 + signsTopPx(lanePx);
    const room = Math.floor((rightPx - leftPx - 2 * EDGE_PX.code + GAP_PX) / (px + GAP_PX)) - 1;
    const report = reportOf(visit);
    const troubles = besideKind(visit).slice(0, Math.max(0, Math.min(2, room) - report.length));
    return (
      glyphLinesAt(own, leftPx + EDGE_PX.code, topPx, px) +
      atRight([...troubles, ...report].slice(0, room), topPx)
    );
  }
  const headTopPx = middlePx - (HEAD_PX + LINE_GAP_PX + FOOT_PX) / 2;
  const inHeadPx = headTopPx + (HEAD_PX - px) / 2;
  return (
    glyphLinesAt(own, leftPx + EDGE_PX.full, inHeadPx, px) +
    (visit.isPinned ? atRight(["pinned"], inHeadPx) : "") +
    atRight(footSigns(visit), headTopPx + HEAD_PX + LINE_GAP_PX + (FOOT_PX - px) / 2)
  );
}
