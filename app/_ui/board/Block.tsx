"use client";

import { type DragEvent, type MouseEvent, memo } from "react";
import { Glyph, type GlyphName } from "../Glyph";
import { useWords } from "../language/LanguageProvider";
import type { PlacedBlock } from "./geometry";
import { type BoardVisit, KIND_LOOK, KIT_LOOK, type PickHow, REPORT_LOOK, WEATHER_LOOK } from "./types";

export interface BlockProps {
  block: PlacedBlock;
  /** Left edge of the cell it hangs in, px. */
  cellLeftPx: number;
  lanePx: number;
  words: string;
  isSelected: boolean;
  /** One of several that are picked to be changed together. */
  isPicked: boolean;
  /** The other end of the selected visit. */
  isPartner: boolean;
  isFrozen: boolean;
  canDrag: boolean;
  onSelect: (id: string) => void;
  onPick: (id: string, how: PickHow) => void;
  onPoint: (id: string | undefined) => void;
}

/** Data type under which a dragged visit travels. */
export const DRAG_TYPE = "application/x-bothends-visit";

/** One visit on the board. Kind by sign and fill; late, pinned, weather and kit by signs of their own. */
export const Block = memo(function Block(props: BlockProps) {
  const { t } = useWords();
  const { block, cellLeftPx, lanePx, words, isSelected, isPicked, isPartner, isFrozen, canDrag } = props;
  const { onSelect, onPick, onPoint } = props;
  const { visit, leftPx, widthPx, lane } = block;
  const report = visit.report && REPORT_LOOK[visit.report.state];
  // A tall block has room for a code on two lines, so it may be narrower.
  const codePx = lanePx >= 56 ? 36 : 50;
  const size = widthPx >= 84 ? "full" : widthPx >= codePx ? "code" : widthPx >= 14 ? "sign" : "bare";
  return (
    <button
      type="button"
      tabIndex={-1}
      className="ui-visit"
      data-kind={visit.kind}
      data-size={size}
      data-selected={isSelected}
      data-picked={isPicked || undefined}
      data-faint={visit.isFaint || undefined}
      data-partner={isPartner}
      data-late={visit.isLate}
      data-report={visit.report?.state}
      aria-pressed={isSelected || isPicked}
      aria-label={isPicked ? t("Picked. {{visit}}", { visit: words }) : words}
      style={{ left: leftPx - cellLeftPx, width: widthPx - 2, top: lane * lanePx + 3, height: lanePx - 6 }}
      draggable={canDrag && !isFrozen && !visit.isPinned}
      onDragStart={(event: DragEvent) => {
        event.dataTransfer.setData(DRAG_TYPE, visit.id);
        event.dataTransfer.effectAllowed = "move";
        onSelect(visit.id);
      }}
      onClick={(event: MouseEvent) => {
        event.stopPropagation();
        if (event.shiftKey) onPick(visit.id, "range");
        else if (event.ctrlKey || event.metaKey) onPick(visit.id, "toggle");
        else onSelect(visit.id);
      }}
      onPointerEnter={() => onPoint(visit.id)}
      onPointerLeave={() => onPoint(undefined)}
    >
      {size === "bare" ? null : (
        <span className="ui-visit-head">
          <Glyph name={size === "sign" && report ? report.glyph : KIND_LOOK[visit.kind].glyph} />
          {size === "full" ? <span className="ui-visit-code">{visit.hopCode}</span> : null}
          {size === "code" ? <Troubles visit={visit} most={report ? 1 : 2} /> : null}
          {size === "code" && report ? <Glyph name={report.glyph} /> : null}
          {size === "full" && visit.isPinned ? <Glyph name="pinned" /> : null}
        </span>
      )}
      {size === "code" ? <BrokenCode code={visit.hopCode} /> : null}
      {size === "sign" && lanePx >= 40 ? <Troubles visit={visit} most={1} /> : null}
      {size === "full" ? (
        <span className="ui-visit-foot">
          <span className="ui-visit-site">{visit.siteCode}</span>
          {report ? <Glyph name={report.glyph} /> : null}
          {visit.isLate ? <Glyph name="late" /> : null}
          {visit.weather ? <Glyph name={WEATHER_LOOK[visit.weather.state].glyph} /> : null}
          {visit.kit ? <Glyph name={KIT_LOOK[visit.kit.state].glyph} /> : null}
        </span>
      ) : null}
    </button>
  );
});

/** A code that may go on on a second line: between its letters and its number, where a reader would part it. */
function BrokenCode({ code }: { code: string }) {
  const [letters = "", rest = code] = code.split(/(?<=^\D+)(?=\d)/);
  return (
    <span className="ui-visit-code">
      {rest === code ? null : letters}
      <wbr />
      {rest}
    </span>
  );
}

/** Where there is room for few signs only: what needs a person's eye, worst first. */
function Troubles({ visit, most }: { visit: BoardVisit; most: number }) {
  const weather = visit.weather?.state;
  const signs: GlyphName[] = [];
  if (weather === "not met") signs.push(WEATHER_LOOK[weather].glyph);
  if (visit.kit?.state === "short") signs.push(KIT_LOOK.short.glyph);
  if (visit.isLate) signs.push("late");
  if (weather === "tight") signs.push(WEATHER_LOOK[weather].glyph);
  return signs.slice(0, most).map((name) => <Glyph key={name} name={name} />);
}
