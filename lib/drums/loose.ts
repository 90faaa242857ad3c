/**
 * Can these loose runs be fitted in too? Two steps take turns until nothing is loose or the effort is spent:
 *
 * Exchanges between the heap of loose runs and the drums, as long as less length is left loose: one in; one in for one
 * or two out; two in for one out.
 *
 * Sweeps over all pairs of drums that bring the free length together, so that a loose run finds room. A move counts by
 * the sum of the squared loads, each load weighted by (1 + k * free share of the drum) ^ heat. At heat 1 a drum with
 * free length looks heavier than it is, so it attracts long runs even where the plain sum of squares would not; as the
 * heat falls the plain sum takes over. This is weight annealing (Loh, Golden and Wasil 2008, from memory), here with
 * drums of several lengths and with runs that may only lie where `mayLie` says.
 */
import type { Random } from "@/lib/random";
import type { Effort } from "./effort";
import type { Layout } from "./layout";

type MayLie = (run: number, drum: number) => boolean;

/** k of the rounds, in turn: the small ones suit tight fillings, the large one shakes more (measured with tests/bench/cutting.bench.ts). */
const DISTORTIONS = [0.05, 0.02, 1];
const SWEEPS = 37;
const COLD = 0.02;

/**
 * @param loose   runs on no drum
 * @param mayLie  where a run may be put; where runs lie at the start is not questioned
 * @param effort  spent as candidates are looked at
 * @returns true when all loose runs were placed; false leaves the layout as the search left it
 */
export function fitIn(
  layout: Layout,
  loose: readonly number[],
  mayLie: MayLie,
  effort: Effort,
  random: Random,
): boolean {
  const heap = [...loose];
  for (let round = 0; heap.length > 0 && effort.left > 0; round++) {
    const distortion = DISTORTIONS[round % DISTORTIONS.length]!;
    // A small allowance starts colder, so that the plain sum of squares always has the last word.
    const sweeps = Math.min(SWEEPS, Math.max(1, Math.floor(effort.left / sweepEffort(layout))));
    for (let k = 1; k <= sweeps && effort.left > 0; k++) {
      exchangeAll(layout, heap, mayLie, effort);
      if (heap.length === 0) return true;
      sweep(layout, mayLie, distortion, COLD ** (k / sweeps), effort, random);
    }
  }
  exchangeAll(layout, heap, mayLie, effort);
  return heap.length === 0;
}

/** About what one sweep spends. */
function sweepEffort(layout: Layout): number {
  const drums = layout.isOpen.filter(Boolean).length;
  const each = layout.drumOf.length / Math.max(1, drums);
  return drums ** 2 * (1 + each * (each + 1));
}

interface Exchange {
  drum: number;
  into: number[];
  out: number[];
  /** Length loose afterwards minus before, cm; below 0. */
  deltaCm: number;
}

function exchangeAll(layout: Layout, heap: number[], mayLie: MayLie, effort: Effort): void {
  while (heap.length > 0) {
    effort.spend(1);
    const best = bestExchange(layout, heap, mayLie, effort);
    if (!best) return;
    for (const run of best.out) layout.take(run);
    for (const run of best.into) {
      heap.splice(heap.indexOf(run), 1);
      layout.place(run, best.drum);
    }
    heap.push(...best.out);
  }
}

/** Long-handed loops: with the sweep, this is where the time goes. */
function bestExchange(
  layout: Layout,
  heap: readonly number[],
  mayLie: MayLie,
  effort: Effort,
): Exchange | undefined {
  const sizes = layout.problem.sizesCm;
  let best: Exchange | undefined;
  const offer = (drum: number, deltaCm: number, into: number[], out: number[]) => {
    if (deltaCm < (best?.deltaCm ?? 0)) best = { drum, deltaCm, into, out };
  };
  for (const [h, run] of heap.entries()) {
    const size = sizes[run]!;
    for (let drum = 0; drum < layout.drumCount; drum++) {
      if (!layout.isOpen[drum] || !mayLie(run, drum)) continue;
      const free = layout.freeCm(drum);
      const need = size - free; // length that must come off
      if (need <= 0) {
        offer(drum, -size, [run], []);
        effort.spend(1);
        continue; // going in for nothing beats any exchange on this drum
      }
      const list = layout.runs[drum]!;
      effort.spend(1 + (list.length * (list.length + 1)) / 2);
      for (let a = 0; a < list.length; a++) {
        const sizeA = sizes[list[a]!]!;
        if (sizeA < need) {
          for (let b = a + 1; b < list.length; b++) {
            const both = sizeA + sizes[list[b]!]!;
            if (both >= need && both < size) offer(drum, both - size, [run], [list[a]!, list[b]!]);
          }
          continue;
        }
        if (sizeA < size) offer(drum, sizeA - size, [run], [list[a]!]);
        for (let g = h + 1; g < heap.length; g++) {
          const pair = size + sizes[heap[g]!]!;
          if (pair > sizeA && pair <= free + sizeA && mayLie(heap[g]!, drum)) {
            offer(drum, sizeA - pair, [run, heap[g]!], [list[a]!]);
          }
        }
      }
    }
  }
  return best;
}

/** Looks at every ordered pair of open drums once, and makes the best move of each pair that has one. */
function sweep(
  layout: Layout,
  mayLie: MayLie,
  distortion: number,
  heat: number,
  effort: Effort,
  random: Random,
): void {
  const open = random.shuffle([...layout.runs.keys()].filter((drum) => layout.isOpen[drum]));
  const weightOf = (drum: number) =>
    (1 + (distortion * layout.freeCm(drum)) / layout.stocks[drum]!.capacityCm) ** heat;
  const weights = layout.stocks.map((stock, drum) => (stock.capacityCm > 0 ? weightOf(drum) : 1));
  for (const a of open) {
    if (effort.left <= 0) return;
    for (const b of open) {
      if (a === b || (layout.freeCm(a) === 0 && layout.freeCm(b) === 0)) continue;
      if (!concentrate(layout, a, b, weights, mayLie, effort)) continue;
      weights[a] = weightOf(a);
      weights[b] = weightOf(b);
    }
  }
}

/** The best of: a run from `a` to `b`, for nothing, for one run or for two. @returns whether one was made */
function concentrate(
  layout: Layout,
  a: number,
  b: number,
  weights: readonly number[],
  mayLie: MayLie,
  effort: Effort,
): boolean {
  const sizes = layout.problem.sizesCm;
  const ofA = layout.runs[a]!;
  const ofB = layout.runs[b]!;
  const freeA = layout.freeCm(a);
  const freeB = layout.freeCm(b);
  const weightA = weights[a]!;
  const weightB = weights[b]!;
  const loadA = weightA * layout.loads[a]!;
  const loadB = weightB * layout.loads[b]!;
  const plain = loadA ** 2 + loadB ** 2;
  effort.spend(1 + ofA.length * (ofB.length + 1));
  let best = 1e-9; // below: the rounding of doubles
  let out = -1;
  let back = -1;
  let back2 = -1;
  // `more`: length by which b grows and a shrinks.
  const gain = (more: number): number =>
    more === 0 || more > freeB || -more > freeA
      ? 0
      : (loadA - weightA * more) ** 2 + (loadB + weightB * more) ** 2 - plain;
  for (const x of ofA) {
    const g = gain(sizes[x]!);
    if (g > best && mayLie(x, b)) {
      best = g;
      [out, back, back2] = [x, -1, -1];
    }
    for (let i = 0; i < ofB.length; i++) {
      const y = ofB[i]!;
      const g1 = gain(sizes[x]! - sizes[y]!);
      if (g1 > best && mayLie(x, b) && mayLie(y, a)) {
        best = g1;
        [out, back, back2] = [x, y, -1];
      }
      for (let j = i + 1; j < ofB.length; j++) {
        const z = ofB[j]!;
        const g2 = gain(sizes[x]! - sizes[y]! - sizes[z]!);
        if (g2 > best && mayLie(x, b) && mayLie(y, a) && mayLie(z, a)) {
          best = g2;
          [out, back, back2] = [x, y, z];
        }
      }
    }
  }
  if (out < 0) return false;
  layout.take(out);
  if (back >= 0) layout.move(back, a);
  if (back2 >= 0) layout.move(back2, a);
  layout.place(out, b);
  return true;
}
