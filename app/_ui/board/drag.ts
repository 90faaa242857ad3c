/** How a visit travels under the pointer. */
import type { DragEvent } from "react";
import type { PlacedBlock } from "./geometry";
import { signLines } from "./signs";

/** Data type under which a dragged visit travels. */
export const DRAG_TYPE = "application/x-bothends-visit";

export function startDrag(event: DragEvent, visitId: string): void {
  event.dataTransfer.setData(DRAG_TYPE, visitId);
  event.dataTransfer.effectAllowed = "move";
}

const SVG = "http://www.w3.org/2000/svg";
/** A block hangs so far below its lane's edge (Block). */
const BLOCK_TOP_PX = 3;

/**
 * A block draws no signs of its own (its row does), so the browser's picture of it would have none. Made as the drag
 * begins and taken away once the browser has its picture: nothing more is drawn while the pointer moves.
 */
export function pictureWithSigns(event: DragEvent<HTMLElement>, block: PlacedBlock, lanePx: number): void {
  const element = event.currentTarget;
  const { left, top, width, height } = element.getBoundingClientRect();
  const picture = document.createElement("div");
  picture.className = "ui-visit-picture";
  picture.style.width = `${width}px`;
  picture.style.height = `${height}px`;
  const copy = element.cloneNode(true) as HTMLElement;
  copy.style.margin = "0";
  const signs = document.createElementNS(SVG, "svg");
  signs.setAttribute("class", "ui-board-signs");
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("d", signLines({ ...block, leftPx: 0, lane: 0 }, lanePx));
  path.setAttribute("transform", `translate(0 ${-BLOCK_TOP_PX})`);
  path.dataset.kind = block.visit.kind;
  if (block.visit.report) path.dataset.report = block.visit.report.state;
  if (block.visit.isFaint) path.dataset.faint = "true";
  signs.append(path);
  picture.append(copy, signs);
  // Beside the block, where its colours hold; out of view (board.css).
  element.closest(".ui-board-frame")?.append(picture);
  event.dataTransfer.setDragImage(picture, event.clientX - left, event.clientY - top);
  setTimeout(() => picture.remove(), 0);
}
