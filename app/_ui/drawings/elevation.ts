/** Vertical scale of an elevation drawing. */
export interface Elevation {
  y: (heightM: number) => number;
  pxPerM: number;
  /** Heights that get a mark on the scale, m. */
  marks: readonly number[];
}

/**
 * Ground at `groundPx`, `topM` (rounded up to a mark) at `topPx`. Marks every 5, 10 or 20 m.
 * @throws RangeError unless topM > 0
 */
export function elevationOf(topM: number, topPx: number, groundPx: number): Elevation {
  if (!(topM > 0)) throw new RangeError(`topM must be > 0, got ${topM} m`);
  const step = topM <= 30 ? 5 : topM <= 70 ? 10 : 20;
  const top = Math.ceil(topM / step) * step;
  const pxPerM = (groundPx - topPx) / top;
  return {
    y: (heightM) => groundPx - heightM * pxPerM,
    pxPerM,
    marks: Array.from({ length: top / step + 1 }, (_, i) => i * step),
  };
}

/**
 * Moves labels apart vertically so that none is nearer than `gapPx` to the next and none lies below `mostPx`;
 * keeps their order. Labels move down first, and back up where the bottom is full.
 */
export function spreadLabels(
  wantedPx: readonly number[],
  gapPx: number,
  mostPx = Number.POSITIVE_INFINITY,
): readonly number[] {
  const order = wantedPx.map((y, at) => ({ y, at })).sort((a, b) => a.y - b.y || a.at - b.at);
  const out = [...wantedPx];
  let above = Number.NEGATIVE_INFINITY;
  for (const { y, at } of order) {
    above = Math.max(y, above + gapPx);
    out[at] = above;
  }
  let below = mostPx;
  for (const { at } of order.reverse()) {
    below = Math.min(out[at] ?? below, below);
    out[at] = below;
    below -= gapPx;
  }
  return out;
}
