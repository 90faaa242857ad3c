/** Work at one place that is too long for a day on site: cut into visits where nobody is aloft. */
import { ascentSpans } from "./peopleResources";
import type { EndEstimate, WorkSegment } from "./types";

type Estimate = Pick<EndEstimate, "segments" | "sequence" | "tasks" | "setupMin">;

/**
 * Joint work ends on its day: two crews gain nothing by waiting for each other through a night. What is longer than a
 * day on site is done in several visits (common practice: the second path of a space-diversity hop has its own day),
 * about equally long. Each further visit pays the set-up again.
 *
 * @param longestMin set-up and work of one visit
 * @returns the segments of each visit, its set-up first; a piece that is too long and may not be cut stays whole
 */
export function visitParts(estimate: Estimate, longestMin: number): WorkSegment[][] {
  const pieces = piecesOf(estimate);
  const inParts = (limitMin: number) => partsUpTo(pieces, estimate.setupMin, limitMin);
  const fewest = inParts(longestMin).length;
  // The smallest limit that needs no more visits: 400 and 100 minutes become 250 and 250.
  let low = 0;
  let high = Math.ceil(longestMin);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (inParts(middle).length <= fewest) high = middle;
    else low = middle;
  }
  return inParts(high);
}

function partsUpTo(pieces: readonly WorkSegment[][], setupMin: number, limitMin: number): WorkSegment[][] {
  const again: WorkSegment = { workClass: "indoor", durationMin: Math.ceil(setupMin), splittable: true };
  const parts: WorkSegment[][] = [];
  for (const piece of pieces) {
    const part = parts.at(-1);
    if (part && minutesOf(part) + minutesOf(piece) <= limitMin) part.push(...piece);
    else parts.push(part ? [again, ...piece] : [...piece]);
  }
  return parts;
}

export const minutesOf = (segments: readonly WorkSegment[]): number =>
  segments.reduce((sum, s) => sum + s.durationMin, 0);

/** Cut between segments, after the set-up, wherever everybody is down. */
function piecesOf({ segments, sequence, tasks, setupMin }: Estimate): WorkSegment[][] {
  const at = new Map(sequence.map((s) => [s.taskId, s]));
  const aloft = ascentSpans(tasks).map(({ first, last }) => ({
    from: at.get(tasks[first]!.id)!.startMin,
    to: at.get(tasks[last]!.id)!.endMin,
  }));
  const pieces: WorkSegment[][] = [[]];
  let time = 0;
  for (const segment of segments) {
    const isDown = !aloft.some((a) => a.from < time - SLACK_MIN && a.to > time + SLACK_MIN);
    if (time > setupMin + SLACK_MIN && isDown) pieces.push([]);
    pieces.at(-1)!.push(segment);
    time += segment.durationMin;
  }
  return pieces;
}

/** Segments are rounded sums of the sequence's minutes. */
const SLACK_MIN = 0.01;
