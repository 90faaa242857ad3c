/** Small moves, each of which lowers the whole cost: a run to another drum, or two runs exchanged. */

import type { Effort } from "./effort";
import type { Layout } from "./layout";
import { compareCost, leftoverCost } from "./packing";

const NEVER = Number.POSITIVE_INFINITY;

/** Repeats until no move helps or the effort is spent. */
export function tidy(layout: Layout, effort: Effort): void {
  let hasMoved = true;
  while (hasMoved && effort.left > 0) {
    hasMoved = false;
    for (let run = 0; run < layout.drumOf.length && effort.left > 0; run++) {
      if (layout.drumOf[run]! >= 0 && improveRun(layout, run, effort)) hasMoved = true;
    }
  }
}

function improveRun(layout: Layout, run: number, effort: Effort): boolean {
  const sizes = layout.problem.sizesCm;
  const from = layout.drumOf[run]!;
  for (let to = 0; to < layout.drumCount; to++) {
    if (to === from || !layout.isOpen[to] || layout.dayFor(run, to) === NEVER) continue;
    effort.spend(1 + layout.runs[to]!.length);
    if (sizes[run]! <= layout.freeCm(to) && isBetter(layout, run, to, -1)) {
      layout.move(run, to);
      return true;
    }
    for (const other of layout.runs[to]!) {
      if (other < run || layout.dayFor(other, from) === NEVER) continue; // the pair is looked at from the other side
      const more = sizes[run]! - sizes[other]!;
      if (more > layout.freeCm(to) || -more > layout.freeCm(from)) continue;
      if (!isBetter(layout, run, to, other)) continue;
      layout.take(other);
      layout.move(run, to);
      layout.place(other, from);
      return true;
    }
  }
  return false;
}

/** Would `run` on `to`, and `other` (or nothing, -1) in its place, cost less? Only the terms that can change are added up. */
function isBetter(layout: Layout, run: number, to: number, other: number): boolean {
  const from = layout.drumOf[run]!;
  const { sizesCm } = layout.problem;
  const shift = sizesCm[run]! - (other < 0 ? 0 : sizesCm[other]!);
  const before = [
    ...lateness(layout, run, from, other, to),
    ...drumTerms(
      layout,
      from,
      to,
      layout.loads[from]!,
      layout.loads[to]!,
      sentOf(layout, run, from, other, to),
    ),
  ];
  const after = [
    ...lateness(layout, run, to, other, from),
    ...drumTerms(
      layout,
      from,
      to,
      layout.loads[from]! - shift,
      layout.loads[to]! + shift,
      sentOf(layout, run, to, other, from),
    ),
  ];
  const c = compareCost(after, before);
  if (c !== 0) return c < 0;
  return splitChange(layout, run, to, other) < 0;
}

function lateness(
  layout: Layout,
  run: number,
  drum: number,
  other: number,
  otherDrum: number,
): [number, number] {
  const a = layout.lateDays(run, drum);
  const b = other < 0 ? 0 : layout.lateDays(other, otherDrum);
  return [Number(a > 0) + Number(b > 0), a + b];
}

/** How many of the two runs are cut at another place than the one that wants them. */
function sentOf(layout: Layout, run: number, drum: number, other: number, otherDrum: number): number {
  return Number(layout.isSent(run, drum)) + Number(other >= 0 && layout.isSent(other, otherDrum));
}

/** Price, bought drums, the runs sent, opened drums, scrap, part-used drums of the two drums at these loads. */
function drumTerms(
  layout: Layout,
  x: number,
  y: number,
  loadX: number,
  loadY: number,
  sent: number,
): number[] {
  const terms = [0, 0, sent, 0, 0, 0];
  for (const [drum, load] of [
    [x, loadX],
    [y, loadY],
  ] as const) {
    const stock = layout.stocks[drum]!;
    if (layout.kindOf[drum]! >= 0) {
      if (load === 0) continue;
      terms[0]! += stock.priceMinor;
      terms[1]!++;
    } else if (stock.isUncut && load > 0) terms[3]!++;
    const left = leftoverCost(stock, load, layout.problem.minUsefulCm);
    terms[4]! += left.scrap;
    terms[5]! += left.partUsed;
  }
  return terms;
}

/** Change in the number of drums beyond the first, over the ends of the two runs. */
function splitChange(layout: Layout, run: number, to: number, other: number): number {
  const from = layout.drumOf[run]!;
  const ends = layout.problem.ends;
  if (other >= 0 && ends[run] === ends[other]) return 0;
  let change = gainOf(layout, run, from, to);
  if (other >= 0) change += gainOf(layout, other, to, from);
  return change;
}

function gainOf(layout: Layout, run: number, from: number, to: number): number {
  const end = layout.problem.ends[run]!;
  const hasSibling = (drum: number) =>
    layout.runs[drum]!.some((r) => r !== run && layout.problem.ends[r] === end);
  return (hasSibling(from) ? 1 : 0) - (hasSibling(to) ? 1 : 0);
}
