import type { StructureKind } from "@/lib/site";
import { ascentMin, climbRange, descentMin, workPerAscentMin } from "./climb";
import { addThreePoints, pertMeanMin } from "./pert";
import { worksAloft } from "./taskOrder";
import type { EndTask, HourNorms, ThreePoint } from "./types";

/** The way up and down that an ascent takes. */
export interface Way {
  heightM: number;
  structure: StructureKind;
}

/** A task is not begun at the end of an ascent for less than this. */
const SHORTEST_PIECE_MIN = 10;

const NONE: ThreePoint = { aMin: 0, mMin: 0, bMin: 0 };

/**
 * Puts the work aloft into ascents and adds the ways up and down.
 *
 * The work is taken in its order and an ascent ends when its share of the longest spell is used up. A task that may
 * be split is cut there; any other, and all parts of one dry spell together, wait for the next ascent. Two pairs of
 * hands are up, so a task for one counts half its time.
 *
 * @param tasks in working order: no task aloft waits for a later one
 * @param roomShare share of the spell to plan with: less where waiting for the ground eats into it (hours.ts)
 */
export function ascendTasks(
  tasks: readonly EndTask[],
  way: Way,
  norms: HourNorms,
  roomShare = 1,
): readonly EndTask[] {
  const aloft = tasks.filter(worksAloft);
  if (aloft.length === 0) return tasks;
  const ascents = fillAscents(aloft, way, norms, roomShare);
  const pieces = new Map<string, EndTask[]>();
  for (const piece of ascents.flat()) {
    const id = originalId(piece);
    pieces.set(id, [...(pieces.get(id) ?? []), piece]);
  }
  const lastPieceOf = (id: string): string => pieces.get(id)?.at(-1)?.id ?? id;
  const working = tasks.flatMap((t) => pieces.get(t.id) ?? [t]);
  const ways = ascents.flatMap((inside, k) => waysOf(k + 1, inside, tasks, way, norms));
  const withWays = working.map((t) => {
    const after = new Set(t.after.map((id) => (isLaterPiece(t) ? id : lastPieceOf(id))));
    if (t.ascent) after.add(`climb-${t.ascent}`);
    else if (t.everybody && !t.isSetup) after.add(`descent-${ascents.length}`);
    return { ...t, after: [...after] };
  });
  return inOrder([...withWays, ...ways]);
}

/** Tasks split over ascents, told apart by a suffix: `fix-cable-1~2` is its second piece. */
const originalId = (piece: EndTask): string => piece.id.split("~")[0]!;
const isLaterPiece = (t: EndTask): boolean => t.id.includes("~") && !t.id.endsWith("~1");

function fillAscents(aloft: readonly EndTask[], way: Way, norms: HourNorms, roomShare: number): EndTask[][] {
  const fullMin = workPerAscentMin(way.heightM, way.structure, norms.climb);
  const roomMin = Math.max(norms.climb.minWorkPerAscentMin, fullMin * roomShare);
  const ascents: EndTask[][] = [[]];
  let usedMin = 0;
  const next = (): void => {
    ascents.push([]);
    usedMin = 0;
  };
  for (const group of spellGroups(aloft)) {
    const needMin = group.reduce((sum, t) => sum + partyMin(t, norms), 0);
    const first = group[0]!;
    if (group.length === 1 && first.splittable) {
      usedMin = splitOver(first, needMin, roomMin, usedMin, ascents, next);
    } else {
      if (usedMin > 0 && usedMin + needMin > roomMin) next();
      for (const t of group) ascents.at(-1)!.push({ ...t, ascent: ascents.length });
      usedMin += needMin;
    }
  }
  return ascents;
}

/** @returns minutes used of the ascent in which the last piece lies */
function splitOver(
  task: EndTask,
  needMin: number,
  roomMin: number,
  usedBeforeMin: number,
  ascents: EndTask[][],
  next: () => void,
): number {
  let usedMin = usedBeforeMin;
  let leftMin = needMin;
  const shares: { ascent: number; share: number }[] = [];
  do {
    const leftOverMin = roomMin - usedMin;
    if (leftOverMin <= 0 || (usedMin > 0 && leftOverMin < Math.min(leftMin, SHORTEST_PIECE_MIN))) {
      next();
      usedMin = 0;
    }
    const pieceMin = Math.min(leftMin, roomMin - usedMin);
    shares.push({ ascent: ascents.length, share: needMin > 0 ? pieceMin / needMin : 1 });
    usedMin += pieceMin;
    leftMin -= pieceMin;
  } while (leftMin > 1e-9);
  for (const [i, { ascent, share }] of shares.entries()) {
    const piece =
      shares.length === 1
        ? task
        : {
            ...task,
            id: `${task.id}~${i + 1}`,
            name: `${task.name}, part ${i + 1} of ${shares.length}`,
            duration: addThreePoints(NONE, task.duration, share),
            after: i === 0 ? task.after : [`${task.id}~${i}`],
          };
    ascents[ascent - 1]!.push({ ...piece, ascent });
  }
  return usedMin;
}

/** Consecutive tasks of one dry spell stay together. */
function spellGroups(aloft: readonly EndTask[]): EndTask[][] {
  const groups: EndTask[][] = [];
  for (const t of aloft) {
    const last = groups.at(-1);
    if (t.spell && last?.[0]?.spell === t.spell) last.push(t);
    else groups.push([t]);
  }
  return groups;
}

function partyMin(t: EndTask, norms: HourNorms): number {
  const hands = t.wholeParty ? norms.climbersAloft : Math.min(t.people.climber ?? 0, norms.climbersAloft);
  return (pertMeanMin(t.duration) * hands) / norms.climbersAloft;
}

/** Kit-up and climb, descent, and before a further ascent the rest on the ground. */
function waysOf(
  k: number,
  inside: readonly EndTask[],
  all: readonly EndTask[],
  { heightM, structure }: Way,
  norms: HourNorms,
): EndTask[] {
  const { climb } = norms;
  const where = inside[0]!.where;
  const up = climbRange(ascentMin(heightM, structure, climb), climb);
  const down = climbRange(descentMin(heightM, structure, climb), climb);
  const way = {
    people: { climber: norms.climbersAloft },
    wholeParty: true,
    splittable: false,
    usesDropZone: false,
    source: climb.source,
  };
  const setup = all.filter((t) => t.isSetup).map((t) => t.id);
  const tasks: EndTask[] = [
    {
      ...way,
      id: `climb-${k}`,
      name: k === 1 ? "Kit up and climb" : `Kit up and climb, ascent ${k}`,
      where,
      workClass: "climb",
      duration: addThreePoints(climb.kitUp, up),
      after: k === 1 ? setup : [`rest-${k - 1}`],
      ascent: k,
      moves: "climb",
    },
    {
      ...way,
      id: `descent-${k}`,
      name: k === 1 ? "Climb down" : `Climb down, ascent ${k}`,
      where,
      workClass: "climb",
      duration: down,
      after: [`climb-${k}`, ...inside.map((t) => t.id)],
      ascent: k,
      moves: "descent",
    },
  ];
  if (k > 1) {
    tasks.push({
      ...way,
      id: `rest-${k - 1}`,
      name: "Rest on the ground",
      where: "ground",
      workClass: "indoor",
      duration: climb.restBetween,
      after: [`descent-${k - 1}`],
    });
  }
  return tasks;
}

/** Sorted so that each task follows what it waits for, otherwise in the order given. */
function inOrder(tasks: readonly EndTask[]): EndTask[] {
  const placed = new Set<string>();
  const order: EndTask[] = [];
  const byId = new Map(tasks.map((t) => [t.id, t]));
  const place = (t: EndTask): void => {
    if (placed.has(t.id)) return;
    placed.add(t.id);
    for (const id of t.after) place(byId.get(id)!);
    order.push(t);
  };
  for (const t of tasks) place(t);
  return order;
}
