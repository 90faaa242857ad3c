/**
 * The bounded knapsack of column generation: which pattern of runs is worth most on a drum, for all drum classes at
 * once. Dynamic programming over length, on whole numbers, so that the greatest worth is exact and a bound that rests
 * on it is valid however the duals were rounded.
 *
 * Runs come in the order of the day they are needed, the latest first. A drum that becomes available on day a may give
 * the runs needed on a or later, which are the first so many of that order: one pass over the runs therefore answers
 * for every drum class, whatever its length and day, by looking at the table at the right moment.
 *
 * Where drums stand at several places and a piece takes days to come over, the order differs by the drum's place: one
 * pass for each place then, over the sizes as it reaches them.
 */

/** Runs that are alike to a drum: one length, and one answer to which drum comes in time. */
export interface RunSize {
  /** Run + saw allowance, in steps (cm over their greatest common divisor). */
  length: number;
  demand: number;
}

/** Drums that are alike: one length, one day, one price. */
export interface DrumClass {
  /** In steps, rounded down. */
  capacity: number;
  /** It may give the sizes 0 .. sizeCount-1, or the first so many of `reach`. */
  sizeCount: number;
  /** All sizes in the order in which its place reaches them; absent = as they are given. Classes of one place share the array. */
  reach?: readonly number[];
  /** Most drums of the class; Infinity for one that may be bought. */
  supply: number;
}

export interface Pattern {
  drumClass: number;
  /** Sizes in rising order, and how many runs of each. */
  sizes: readonly number[];
  counts: readonly number[];
}

/** A group of 1, 2, 4, ... runs of one size that are taken together or not at all: together they give every number. */
interface Piece {
  size: number;
  times: number;
  length: number;
  worth: number;
}

/**
 * @param worth    of one run of each size; whole numbers >= 0
 * @param demand   most runs of each size in a pattern
 * @param asked    which classes are asked for patterns, and the worth above which a pattern is wanted
 * @returns the greatest worth of each class (exact, for all), and patterns of different last runs for those asked
 */
export function bestPatterns(
  sizes: readonly RunSize[],
  classes: readonly DrumClass[],
  worth: Float64Array,
  demand: Int32Array,
  asked: Asked,
): Priced {
  const reaches = [...new Set(classes.map((c) => c.reach))];
  if (reaches.length === 1 && !reaches[0]) return onePass(sizes, classes, worth, demand, asked);
  const greatest = new Float64Array(classes.length);
  const patterns: Pattern[] = [];
  for (const reach of reaches) {
    const own = [...classes.keys()].filter((c) => classes[c]!.reach === reach);
    const order = reach ?? [...sizes.keys()];
    const priced = onePass(
      order.map((size) => sizes[size]!),
      own.map((c) => classes[c]!),
      Float64Array.from(order, (size) => worth[size]!),
      Int32Array.from(order, (size) => demand[size]!),
      { above: Float64Array.from(own, (c) => asked.above[c]!), most: own.map((c) => asked.most[c]!) },
    );
    for (const [i, c] of own.entries()) greatest[c] = priced.greatest[i]!;
    patterns.push(...priced.patterns.map((p) => asGiven(p, order, own[p.drumClass]!)));
  }
  return { greatest, patterns };
}

interface Asked {
  above: Float64Array;
  most: readonly number[];
}

interface Priced {
  greatest: Float64Array;
  patterns: Pattern[];
}

/** A pattern of sizes numbered by their place in `order`, with the sizes' own numbers. */
function asGiven({ sizes, counts }: Pattern, order: readonly number[], drumClass: number): Pattern {
  const pairs = sizes.map((place, i) => ({ size: order[place]!, count: counts[i]! }));
  pairs.sort((a, b) => a.size - b.size);
  return { drumClass, sizes: pairs.map((p) => p.size), counts: pairs.map((p) => p.count) };
}

function onePass(
  sizes: readonly RunSize[],
  classes: readonly DrumClass[],
  worth: Float64Array,
  demand: Int32Array,
  asked: Asked,
): Priced {
  const longest = classes.reduce((most, c) => Math.max(most, c.capacity), 0);
  const pieces = piecesOf(sizes, worth, demand, longest);
  const width = longest + 1;
  const best = new Float64Array(width);
  const taken = new Uint8Array(pieces.length * width);
  /** Per class the pieces that end its best patterns, with the worth. */
  const ends = classes.map(() => [] as { piece: number; worth: number }[]);
  const greatest = new Float64Array(classes.length);
  for (const [p, piece] of pieces.entries()) {
    for (const [c, { capacity, sizeCount }] of classes.entries()) {
      if (piece.size >= sizeCount || piece.length > capacity) continue;
      const sum = best[capacity - piece.length]! + piece.worth;
      if (sum > greatest[c]!) greatest[c] = sum;
      if (sum > asked.above[c]!) ends[c]!.push({ piece: p, worth: sum });
    }
    extend(best, taken, p * width, piece.length, piece.worth);
  }
  const patterns = ends.flatMap((list, drumClass) =>
    list
      .sort((a, b) => b.worth - a.worth || a.piece - b.piece)
      .slice(0, asked.most[drumClass]!)
      .map((end) => patternOf(pieces, taken, width, end, drumClass, classes[drumClass]!.capacity)),
  );
  return { greatest, patterns };
}

function piecesOf(
  sizes: readonly RunSize[],
  worth: Float64Array,
  demand: Int32Array,
  longest: number,
): Piece[] {
  const pieces: Piece[] = [];
  for (const [size, { length }] of sizes.entries()) {
    if (worth[size]! <= 0) continue;
    let left = Math.min(demand[size]!, Math.floor(longest / length));
    for (let times = 1; left > 0; times *= 2) {
      const now = Math.min(times, left);
      pieces.push({ size, times: now, length: now * length, worth: now * worth[size]! });
      left -= now;
    }
  }
  return pieces;
}

/** Long-handed: nearly all the time of the exact method goes by here. */
function extend(best: Float64Array, taken: Uint8Array, row: number, length: number, worth: number): void {
  for (let c = best.length - 1; c >= length; c--) {
    const sum = best[c - length]! + worth;
    if (sum > best[c]!) {
      best[c] = sum;
      taken[row + c] = 1;
    }
  }
}

function patternOf(
  pieces: readonly Piece[],
  taken: Uint8Array,
  width: number,
  end: { piece: number },
  drumClass: number,
  capacity: number,
): Pattern {
  const sizes: number[] = [];
  const counts: number[] = [];
  const add = ({ size, times }: Piece) => {
    if (sizes.at(-1) === size) counts[counts.length - 1]! += times;
    else {
      sizes.push(size);
      counts.push(times);
    }
  };
  add(pieces[end.piece]!);
  let room = capacity - pieces[end.piece]!.length;
  for (let p = end.piece - 1; p >= 0; p--) {
    if (taken[p * width + room] === 0) continue;
    add(pieces[p]!);
    room -= pieces[p]!.length;
  }
  return { drumClass, sizes: sizes.reverse(), counts: counts.reverse() };
}
