"use client";

import { type CSSProperties, type DragEvent, type MouseEvent, memo } from "react";
import { useWords } from "../language/LanguageProvider";
import { pictureWithSigns, startDrag } from "./drag";
import { namesAgainPx, type PlacedBlock, WORDS_PX } from "./geometry";
import { BREAK, codeTopPx, footSigns, hasTwoLines, isTight, signsWidePx, sizeOf } from "./signs";
import type { PickHow } from "./types";

export interface BlockProps {
  block: PlacedBlock;
  /** Left edge of the cell it hangs in, px. */
  cellLeftPx: number;
  lanePx: number;
  dayPx: number;
  words: string;
  isSelected: boolean;
  /** One of several that are picked to be changed together. */
  isPicked: boolean;
  /** The other end of the selected visit. */
  isPartner: boolean;
  /** No hand moves it: a drag that begins is told why (PlanBoard). */
  isSettled: boolean;
  canDrag: boolean;
  onSelect: (id: string) => void;
  onPick: (id: string, how: PickHow) => void;
  onPoint: (id: string | undefined) => void;
}

/**
 * One visit on the board. Kind by sign and fill; late, pinned, weather and kit by signs of their own. The signs are
 * drawn by its row (BoardSigns); here is the room for them.
 */
export const Block = memo(function Block(props: BlockProps) {
  const { t } = useWords();
  const { block, cellLeftPx, lanePx, dayPx, words, isSelected, isPicked, isPartner, isSettled, canDrag } =
    props;
  const { onSelect, onPick, onPoint } = props;
  const { visit } = block;
  return (
    <button
      type="button"
      tabIndex={-1}
      className="ui-visit"
      data-kind={visit.kind}
      data-size={sizeOf(block.widthPx, lanePx)}
      data-tight={isTight(block, lanePx) || undefined}
      data-selected={isSelected}
      data-picked={isPicked || undefined}
      data-faint={visit.isFaint || undefined}
      data-partner={isPartner}
      data-late={visit.isLate}
      data-report={visit.report?.state}
      aria-pressed={isSelected || isPicked}
      aria-label={isPicked ? t("Picked. {{visit}}", { visit: words }) : words}
      style={blockStyle(block, cellLeftPx, lanePx)}
      // A pinned one too: what a move would do is shown before, and says that it is pinned.
      draggable={canDrag}
      data-settled={canDrag && isSettled ? visit.id : undefined}
      // Shown only once it is let go: the panel takes room, and the days would move away under the hand.
      onDragStart={(event: DragEvent<HTMLElement>) => {
        if (isSettled) return;
        startDrag(event, visit.id);
        pictureWithSigns(event, block, lanePx);
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
      <BlockWords block={block} lanePx={lanePx} againPx={namesAgainPx(block, cellLeftPx, dayPx)} />
    </button>
  );
});

/** Where a block stands in its cell, and where its words begin. */
export function blockStyle(
  { leftPx, widthPx, lane }: PlacedBlock,
  cellLeftPx: number,
  lanePx: number,
): CSSProperties {
  const isCode = sizeOf(widthPx, lanePx) === "code";
  return {
    marginLeft: leftPx - cellLeftPx,
    width: widthPx - 2,
    marginTop: lane * lanePx + 3,
    height: lanePx - 6,
    ...(isCode ? { paddingTop: codeTopPx(lanePx) } : null),
    ...(isCode && !hasTwoLines(lanePx) ? { whiteSpace: "nowrap" } : null),
  };
}

/** What a block has room to say; its signs are drawn by its row. `againPx`: where its name stands again, from its left. */
export function BlockWords({
  block: { visit, widthPx },
  lanePx,
  againPx = [],
}: {
  block: PlacedBlock;
  lanePx: number;
  againPx?: readonly number[];
}) {
  const size = sizeOf(widthPx, lanePx);
  return (
    <>
      {size === "code" ? <BrokenCode code={visit.hopCode} /> : null}
      {size === "full" ? (
        <>
          <span
            className="ui-visit-head"
            style={{ paddingLeft: signsWidePx(1), paddingRight: signsWidePx(visit.isPinned ? 1 : 0) }}
          >
            {againPx.length === 0
              ? visit.hopCode
              : [WORDS_PX + signsWidePx(1), ...againPx].map((fromPx, i, all) => (
                  <span
                    key={fromPx}
                    className="ui-visit-again"
                    style={{ width: all[i + 1] === undefined ? undefined : all[i + 1]! - fromPx }}
                  >
                    {visit.hopCode}
                  </span>
                ))}
          </span>
          <span className="ui-visit-foot" style={{ paddingRight: signsWidePx(footSigns(visit).length) }}>
            {visit.siteCode}
          </span>
        </>
      ) : null}
    </>
  );
}

/** A code that may go on on a second line. */
function BrokenCode({ code }: { code: string }) {
  const [letters = "", rest = code] = code.split(BREAK);
  return (
    <span>
      {rest === code ? null : letters}
      <wbr />
      {rest}
    </span>
  );
}
