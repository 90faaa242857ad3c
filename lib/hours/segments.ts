import type { WorkClass } from "@/lib/weather";
import { worksAloft } from "./taskOrder";
import type { EndTask, WorkSegment } from "./types";

/** Which class a stretch asks for when several kinds of work run at once: the first of these. */
export const WORK_CLASSES_BY_DEMAND: readonly WorkClass[] = [
  "alignment",
  "hoist",
  "open connection",
  "aloft",
  "climb",
  "ground",
  "indoor",
];

/** A stretch shorter than this is taken in by a neighbour whose class is stricter. */
const SHORT_MIN = 15;
/** An unsplittable stretch grows by joining its like up to here, so that a crew's end stays a few segments. */
const LONGEST_JOINED_MIN = 60;

/**
 * An end's sequence as the stretches that weather and the crew scheduler see.
 *
 * The sequence is cut where a task starts or ends; each piece asks for the most demanding class that runs in it. Work
 * may pause inside a stretch when every task in it may be split, and at a cut across which no unsplittable task or
 * dry spell runs. Neighbours of one class are joined, and a short stretch goes to a neighbour with a stricter class.
 * The durations add up to the make-span.
 *
 * @param pauseMin minutes lost when work aloft pauses: down, kit-up, up again
 */
export function segmentsOf(
  tasks: readonly EndTask[],
  startsMin: readonly number[],
  durationsMin: readonly number[],
  pauseMin: number,
): readonly WorkSegment[] {
  const holds = unbroken(tasks, startsMin, durationsMin);
  const cuts = [...new Set(startsMin.flatMap((s, i) => [s, s + durationsMin[i]!]))].sort((a, b) => a - b);
  const pieces: Piece[] = [];
  for (let k = 0; k + 1 < cuts.length; k++) {
    const from = cuts[k]!;
    const to = cuts[k + 1]!;
    const active = tasks.filter((_, i) => startsMin[i]! < to && startsMin[i]! + durationsMin[i]! > from);
    const workClass = WORK_CLASSES_BY_DEMAND.find((c) => active.some((t) => t.workClass === c)) ?? "indoor";
    pieces.push({
      workClass,
      durationMin: to - from,
      splittable: !holds.some((h) => h.from < to && h.to > from),
      joinsNext: holds.some((h) => h.from < to && h.to > to),
      pauseMin: active.some(worksAloft) ? pauseMin : undefined,
    });
  }
  return join(pieces);
}

/**
 * Stretches of time that may not be interrupted: unsplittable work aloft, and dry spells from first to last.
 * Unsplittable work on the ground does not count: it takes minutes, and whoever does it finishes it.
 */
function unbroken(
  tasks: readonly EndTask[],
  startsMin: readonly number[],
  durationsMin: readonly number[],
): { from: number; to: number }[] {
  const spells = new Map<string, { from: number; to: number }>();
  const holds: { from: number; to: number }[] = [];
  for (const [i, t] of tasks.entries()) {
    const from = startsMin[i]!;
    const to = from + durationsMin[i]!;
    if (t.spell) {
      const spell = spells.get(t.spell);
      spells.set(
        t.spell,
        spell ? { from: Math.min(spell.from, from), to: Math.max(spell.to, to) } : { from, to },
      );
    } else if (!t.splittable && t.workClass !== "ground" && t.workClass !== "indoor" && to > from) {
      holds.push({ from, to });
    }
  }
  return [...holds, ...spells.values()];
}

/** A piece with what stands at its end. */
type Piece = WorkSegment & { joinsNext: boolean };

function join(pieces: readonly Piece[]): WorkSegment[] {
  let out = joinLike(pieces);
  for (;;) {
    const absorbed = absorbShort(out);
    if (!absorbed) return out.map(({ joinsNext, ...segment }) => segment);
    out = joinLike(absorbed);
  }
}

/** Joins neighbours of one class, and what may not be cut. */
function joinLike(pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = [];
  for (const piece of pieces) {
    const last = out.at(-1);
    if (last && (last.joinsNext || (last.workClass === piece.workClass && mayJoin(last, piece)))) {
      out[out.length - 1] = joined(last, piece);
    } else out.push(piece);
  }
  return out;
}

/** The first short piece that a neighbour with a stricter class can take in; undefined when there is none. */
function absorbShort(pieces: readonly Piece[]): Piece[] | undefined {
  for (const [k, piece] of pieces.entries()) {
    if (piece.durationMin >= SHORT_MIN) continue;
    const takers = [k - 1, k + 1].filter((n) => {
      const other = pieces[n];
      return other && rank(other.workClass) < rank(piece.workClass) && mayJoin(other, piece);
    });
    // The less strict of the two is strict enough.
    const taker = takers.sort((a, b) => rank(pieces[b]!.workClass) - rank(pieces[a]!.workClass))[0];
    if (taker === undefined) continue;
    const first = Math.min(k, taker);
    return [
      ...pieces.slice(0, first),
      joined(pieces[first]!, pieces[first + 1]!),
      ...pieces.slice(first + 2),
    ];
  }
  return undefined;
}

/** A long stretch that may pause is not made unbroken by what is joined to it. */
function mayJoin(a: WorkSegment, b: WorkSegment): boolean {
  if (a.splittable && b.splittable) return true;
  if (a.splittable !== b.splittable && (a.splittable ? a : b).durationMin >= SHORT_MIN) return false;
  return a.durationMin + b.durationMin <= LONGEST_JOINED_MIN;
}

function joined(a: Piece, b: Piece): Piece {
  return {
    workClass: rank(a.workClass) <= rank(b.workClass) ? a.workClass : b.workClass,
    durationMin: a.durationMin + b.durationMin,
    splittable: a.splittable && b.splittable,
    joinsNext: b.joinsNext,
    pauseMin: mostPause(a, b),
  };
}

const rank = (c: WorkClass): number => WORK_CLASSES_BY_DEMAND.indexOf(c);

function mostPause(a: WorkSegment, b: WorkSegment): number | undefined {
  return a.pauseMin === undefined && b.pauseMin === undefined
    ? undefined
    : Math.max(a.pauseMin ?? 0, b.pauseMin ?? 0);
}
