/**
 * Can these loose runs be fitted in too? A search that keeps a legal plan plus a heap of loose runs and moves runs
 * between the two: in, in for one out, in for two out, two in for one out. The move that leaves least length loose
 * wins, also when it leaves more than before; a run that just moved rests a while (tabu).
 * The idea is that of Buljubasic and Vasquez 2016 ("Consistent neighborhood search for one-dimensional bin packing"),
 * from memory and simplified; here drums differ in length and a run may only lie where `mayLie` says.
 */
import type { Random } from "@/lib/random";
import type { Layout } from "./layout";

/** Candidate moves between two questions whether to stop. */
const ASK_EVERY = 20_000;

/** Counts candidate moves, so that the same allowance gives the same plan on every machine. */
export class Effort {
  left: number;
  readonly #shouldStop: () => boolean;
  readonly #parent: Effort | undefined;
  #sinceAsked = 0;

  constructor(allowance: number, shouldStop: () => boolean = () => false, parent?: Effort) {
    this.left = allowance;
    this.#shouldStop = shouldStop;
    this.#parent = parent;
  }

  /** A part of this effort for one attempt; what it spends is spent here too. */
  slice(allowance: number): Effort {
    return new Effort(Math.min(allowance, this.left), undefined, this);
  }

  spend(candidates: number): void {
    this.left -= candidates;
    if (this.#parent) {
      this.#parent.spend(candidates);
      if (this.#parent.left <= 0) this.left = 0;
      return;
    }
    this.#sinceAsked += candidates;
    if (this.#sinceAsked < ASK_EVERY) return;
    this.#sinceAsked = 0;
    if (this.#shouldStop()) this.left = 0;
  }
}

interface Exchange {
  drum: number;
  into: number[];
  out: number[];
  /** Length loose afterwards minus before, cm. */
  deltaCm: number;
}

/** Moves for which a run that moved must rest. */
const REST_MIN = 4;
const REST_SPREAD = 8;
/** Moves without a new least loose length after which free length is concentrated. */
const PATIENCE = 40;

/**
 * @param loose   runs on no drum
 * @param mayLie  where a run may be put
 * @param effort  spent as candidates are looked at
 * @returns true when all loose runs were placed; false leaves the layout as the search left it
 */
export function fitIn(
  layout: Layout,
  loose: readonly number[],
  mayLie: (run: number, drum: number) => boolean,
  effort: Effort,
  random: Random,
): boolean {
  const heap = [...loose];
  const restUntil = new Float64Array(layout.drumOf.length);
  let least = Number.POSITIVE_INFINITY;
  let stale = 0;
  for (let step = 1; heap.length > 0 && effort.left > 0; step++) {
    effort.spend(1);
    const looseCm = heap.reduce((sum, run) => sum + layout.problem.sizesCm[run]!, 0);
    if (looseCm < least) {
      least = looseCm;
      stale = 0;
    } else if (++stale % PATIENCE === 0) {
      concentrate(layout, mayLie, effort, random);
    }
    const move = bestExchange(layout, heap, mayLie, effort, random, (run, deltaCm) => {
      return restUntil[run]! < step || looseCm + deltaCm < least;
    });
    if (!move) {
      concentrate(layout, mayLie, effort, random);
      continue;
    }
    for (const run of move.out) layout.take(run);
    for (const run of move.into) {
      heap.splice(heap.indexOf(run), 1);
      layout.place(run, move.drum);
    }
    heap.push(...move.out);
    for (const run of [...move.into, ...move.out])
      restUntil[run] = step + REST_MIN + random.below(REST_SPREAD);
  }
  return heap.length === 0;
}

/** Long-handed loops: this is where the time goes. */
function bestExchange(
  layout: Layout,
  heap: readonly number[],
  mayLie: (run: number, drum: number) => boolean,
  effort: Effort,
  random: Random,
  isFree: (run: number, deltaCm: number) => boolean,
): Exchange | undefined {
  const sizes = layout.problem.sizesCm;
  let best: Exchange | undefined;
  let ties = 0;
  const offer = (drum: number, deltaCm: number, i1: number, i2: number, o1: number, o2: number) => {
    if (best && deltaCm > best.deltaCm) return;
    if (!isFree(i1, deltaCm)) return;
    if (i2 >= 0 && !isFree(i2, deltaCm)) return;
    if (o1 >= 0 && !isFree(o1, deltaCm)) return;
    if (o2 >= 0 && !isFree(o2, deltaCm)) return;
    ties = best && deltaCm === best.deltaCm ? ties + 1 : 0;
    if (ties > 0 && random.below(ties + 1) !== 0) return;
    best = {
      drum,
      deltaCm,
      into: i2 < 0 ? [i1] : [i1, i2],
      out: o1 < 0 ? [] : o2 < 0 ? [o1] : [o1, o2],
    };
  };
  const tried = new Set<number>();
  for (let h = 0; h < heap.length; h++) {
    const run = heap[h]!;
    const size = sizes[run]!;
    const isTwin = tried.has(size); // dates may differ, so twins are skipped only when they agree
    if (
      isTwin &&
      heap
        .slice(0, h)
        .some((o) => sizes[o] === size && layout.problem.needDays[o] === layout.problem.needDays[run])
    )
      continue;
    tried.add(size);
    for (let drum = 0; drum < layout.drumCount; drum++) {
      if (!layout.isOpen[drum] || !mayLie(run, drum)) continue;
      const free = layout.freeCm(drum);
      const need = size - free; // length that must come off
      if (need <= 0) {
        offer(drum, -size, run, -1, -1, -1);
        effort.spend(1);
        continue; // going in for nothing beats any exchange on this drum
      }
      const list = layout.runs[drum]!;
      effort.spend(1 + (list.length * (list.length + 1)) / 2);
      for (let a = 0; a < list.length; a++) {
        const sizeA = sizes[list[a]!]!;
        if (sizeA >= need) {
          offer(drum, sizeA - size, run, -1, list[a]!, -1);
          // Two in for one out.
          for (let g = h + 1; g < heap.length; g++) {
            const other = sizes[heap[g]!]!;
            if (other + size <= free + sizeA && mayLie(heap[g]!, drum)) {
              offer(drum, sizeA - size - other, run, heap[g]!, list[a]!, -1);
            }
          }
          continue; // taking a second one out as well only leaves more loose
        }
        for (let b = a + 1; b < list.length; b++) {
          const sizeAB = sizeA + sizes[list[b]!]!;
          if (sizeAB >= need) offer(drum, sizeAB - size, run, -1, list[a]!, list[b]!);
        }
      }
    }
  }
  return best;
}

/** Moves and swaps between drums that make full drums fuller, so that the free length comes together somewhere. */
function concentrate(
  layout: Layout,
  mayLie: (run: number, drum: number) => boolean,
  effort: Effort,
  random: Random,
): void {
  const sizes = layout.problem.sizesCm;
  const open = random.shuffle([...layout.runs.keys()].filter((drum) => layout.isOpen[drum]));
  for (let i = 0; i + 1 < open.length && effort.left > 0; i += 2) {
    const [x, y] = [open[i]!, open[i + 1]!];
    const [to, from] = layout.loads[x]! >= layout.loads[y]! ? [x, y] : [y, x];
    const free = layout.freeCm(to);
    effort.spend(1 + layout.runs[to]!.length * layout.runs[from]!.length);
    const giver = layout.runs[from]!.find((run) => sizes[run]! <= free && mayLie(run, to));
    if (giver !== undefined) {
      layout.move(giver, to);
      continue;
    }
    let gain = 0;
    let swap: [number, number] | undefined;
    for (const a of layout.runs[to]!) {
      for (const b of layout.runs[from]!) {
        const more = sizes[b]! - sizes[a]!;
        if (more > gain && more <= free && mayLie(b, to) && mayLie(a, from)) {
          gain = more;
          swap = [a, b];
        }
      }
    }
    if (!swap) continue;
    layout.take(swap[0]);
    layout.move(swap[1], to);
    layout.place(swap[0], from);
  }
}
