/** Cutting runs from drums: which run from which drum, in which order, what to buy, and how good the plan is. */
import { english, figure, phrase } from "@/lib/phrase";
import { Random } from "@/lib/random";
import { dayNumber, fromDayNumber } from "@/lib/time";
import { assignRuns } from "./assign";
import { buildPlan, type DrumLoad } from "./cuttingList";
import { assignExactly } from "./exact";
import type { PackingProblem, Stock } from "./packing";
import { daysToKit, homeOf, thereOn } from "./places";
import type { CutOptions, CutPolicy, CuttingPlan, DrumKind, DrumOnHand, FixedCut, RunWanted } from "./types";

/** This project's defaults, from memory: 0.2 m lost to a clean end at every cut; a remnant under 15 m is not kept. */
export const DEFAULT_CUT_POLICY: CutPolicy = { sawAllowanceCm: 20, minUsefulCm: 1_500 };

/**
 * One cutting plan per cable code that is wanted, in order of the code.
 *
 * Every run is one piece. A run is cut from a drum that is available when the run is needed; where none is, from the
 * one that is available soonest, and the run is listed as late. With `options.daysOver` a drum at another warehouse than
 * the one that wants the run is available so many working days later. Cost in order: runs left uncut, runs late, money for new
 * drums, runs cut at another warehouse, scrap, part-used drums left, ends whose runs come from two drums. The order of
 * the inputs does not matter.
 *
 * @param runs   lengths in whole cm; a run whose fixed cut is already made is not planned again
 * @param drums  on hand or on order; `remainingCm` is without the cuts already made
 * @param kinds  what may be bought: it arrives `leadTimeDays` after `options.today`
 * @throws RangeError on a length that is not a whole positive number of cm, on an id given twice, on fixed cuts that
 *   exceed their drum: the queries that give these rows check them
 *
 * Method: docs/methods/drums.md.
 */
export function cutDrums(
  runs: readonly RunWanted[],
  drums: readonly DrumOnHand[],
  kinds: readonly DrumKind[],
  policy: CutPolicy,
  options: CutOptions,
): CuttingPlan[] {
  checkInputs(runs, drums, kinds, policy, options.fixedCuts ?? []);
  const random = options.random ?? new Random("cut drums");
  const codes = [...new Set(runs.map((run) => run.cableCode))].sort(byText);
  return codes.map((code) =>
    cutOneCable(
      runs.filter((run) => run.cableCode === code),
      drums.filter((drum) => drum.cableCode === code),
      kinds.filter((kind) => kind.cableCode === code),
      policy,
      { ...options, random: random.fork(code) },
    ),
  );
}

function cutOneCable(
  runs: readonly RunWanted[],
  drums: readonly DrumOnHand[],
  kinds: readonly DrumKind[],
  policy: CutPolicy,
  options: CutOptions,
): CuttingPlan {
  const loads = drumLoads(drums, runs, options.fixedCuts ?? [], policy);
  const fixedRuns = new Set((options.fixedCuts ?? []).map((cut) => cut.runId));
  const wanted = runs.filter((run) => !fixedRuns.has(run.id)).sort(longestFirst);
  const possibleKinds = [...kinds].sort(
    (a, b) => b.lengthCm - a.lengthCm || a.priceMinor - b.priceMinor || a.leadTimeDays - b.leadTimeDays,
  );

  const sizeOf = (run: RunWanted) => run.lengthCm + policy.sawAllowanceCm;
  const longest = Math.max(0, ...kinds.map((kind) => kind.lengthCm), ...loads.map((load) => load.freeCm));
  const possible = wanted.filter((run) => sizeOf(run) <= longest);

  const today = dayNumber(options.today);
  const ends = new Map<string, number>();
  for (const run of possible) if (!ends.has(run.endId)) ends.set(run.endId, ends.size);
  const places = placesOf(possible, loads, options);
  const offered = atPlaces(possibleKinds, places);
  const problem: PackingProblem = {
    ...(places.length > 0 ? { places: possible.map((run) => places.indexOf(run.placeId ?? "")) } : {}),
    sizesCm: possible.map(sizeOf),
    // Nothing can be cut before today: a run that was needed earlier is not late for want of cable.
    needDays: possible.map((run) => Math.max(today, dayNumber(run.neededOn))),
    ends: possible.map((run) => ends.get(run.endId)!),
    onHand: loads.map(({ drum, freeCm }): Stock => {
      const availableDay = Math.max(today, dayNumber(drum.availableOn));
      return {
        capacityCm: freeCm,
        availableDay,
        priceMinor: 0,
        isUncut: drum.isNew && freeCm === drum.receivedCm,
        ...(places.length > 0 ? wayFrom(drum, availableDay, places, options) : {}),
      };
    }),
    kinds: offered.map((kind) => ({
      capacityCm: kind.lengthCm,
      availableDay: today + kind.leadTimeDays,
      priceMinor: kind.priceMinor,
      isUncut: true,
      ...(kind.comesTo === undefined
        ? {}
        : wayFrom({ placeId: kind.comesTo }, today + kind.leadTimeDays, places, options)),
    })),
    minUsefulCm: policy.minUsefulCm,
  };
  const { exact, shouldStop } = options;
  const isTimeUp = exact?.startTime();
  const { assignment, bound } = exact
    ? assignExactly(problem, {
        ...options,
        solver: exact.solver,
        shouldStop: () => isTimeUp!() || (shouldStop?.() ?? false),
      })
    : assignRuns(problem, options);
  const onHandCount = loads.length;

  const uncut: CuttingPlan["uncut"][number][] = [];
  const bought = assignment.bought.map((kind) => ({ kind: offered[kind]!, runs: [] as RunWanted[] }));
  const drumOf = new Map(possible.map((run, index) => [run, assignment.drumOf[index]!]));
  for (const run of wanted) {
    const drum = drumOf.get(run) ?? -1;
    if (drum >= onHandCount) bought[drum - onHandCount]!.runs.push(run);
    else if (drum >= 0) loads[drum]!.runs.push(run);
    else uncut.push({ run, reason: whyUncut(run, loads, offered, policy, options) });
  }
  loads.push(...boughtLoads(bought, today));
  return buildPlan(runs[0]!.cableCode, loads, uncut, bound, policy, options);
}

/** The warehouses that want runs, where it matters: some drum stands elsewhere. Else none. */
function placesOf(
  runs: readonly RunWanted[],
  loads: readonly DrumLoad[],
  { daysOver }: CutOptions,
): string[] {
  if (!daysOver) return [];
  const places = [...new Set(runs.flatMap((run) => (run.placeId ? [run.placeId] : [])))].sort(byText);
  const [only] = places;
  const isAlike = places.length === 1 && loads.every(({ drum }) => homeOf(drum) === only);
  return isAlike ? [] : places;
}

/** Kinds for each place that they can be delivered to. */
function atPlaces(kinds: readonly DrumKind[], places: readonly string[]): readonly DrumKind[] {
  return places.length === 0
    ? kinds
    : kinds.flatMap((kind) => (kind.comesTo ? [kind] : places.map((comesTo) => ({ ...kind, comesTo }))));
}

function wayFrom(
  drum: Pick<DrumOnHand, "placeId" | "comesTo">,
  availableDay: number,
  places: readonly string[],
  { daysOver }: CutOptions,
): Pick<Stock, "place" | "daysOver"> {
  const from = fromDayNumber(availableDay);
  return {
    place: places.indexOf(homeOf(drum)),
    daysOver: places.map((placeId) => {
      const on = thereOn(drum, { placeId }, from, daysOver);
      return on === undefined ? Number.POSITIVE_INFINITY : dayNumber(on) - availableDay;
    }),
  };
}

/** Drums with what fixed cuts take of them, in an order that does not depend on how they were given. */
function drumLoads(
  drums: readonly DrumOnHand[],
  runs: readonly RunWanted[],
  fixedCuts: readonly FixedCut[],
  policy: CutPolicy,
): DrumLoad[] {
  const sorted = [...drums].sort(
    (a, b) =>
      Number(a.isNew) - Number(b.isNew) ||
      a.remainingCm - b.remainingCm ||
      byText(a.availableOn, b.availableOn) ||
      byText(a.serial, b.serial) ||
      byText(a.id, b.id),
  );
  const runById = new Map(runs.map((run) => [run.id, run]));
  return sorted.map((drum) => {
    const own = fixedCuts.filter((cut) => cut.drumId === drum.id);
    const promised = own.filter((cut) => !cut.isMade);
    const freeCm = promised.reduce(
      (free, cut) => free - cut.lengthCm - policy.sawAllowanceCm,
      drum.remainingCm,
    );
    if (freeCm < 0) throw new RangeError(`fixed cuts exceed drum ${drum.serial} by ${-freeCm} cm`);
    return { drum, freeCm, made: own.filter((cut) => cut.isMade), promised, runs: [], runById };
  });
}

/** Drums to buy as they will arrive, numbered within their kind in the order in which they are needed. */
function boughtLoads(bought: readonly { kind: DrumKind; runs: RunWanted[] }[], today: number): DrumLoad[] {
  const firstNeed = (runs: readonly RunWanted[]) => runs.map((run) => run.neededOn).sort(byText)[0]!;
  const sorted = [...bought].sort(
    (a, b) =>
      b.kind.lengthCm - a.kind.lengthCm ||
      byText(firstNeed(a.runs), firstNeed(b.runs)) ||
      byText(a.runs[0]!.id, b.runs[0]!.id),
  );
  const count = new Map<number, number>();
  return sorted.map(({ kind, runs }) => {
    const n = (count.get(kind.lengthCm) ?? 0) + 1;
    count.set(kind.lengthCm, n);
    const drum: DrumOnHand = {
      id: `buy-${kind.cableCode}-${kind.lengthCm}-${n}`,
      serial: `to buy ${n} of ${(kind.lengthCm / 100).toFixed(1)} m`,
      cableCode: kind.cableCode,
      placeId: "",
      ...(kind.comesTo === undefined ? {} : { comesTo: kind.comesTo }),
      receivedCm: kind.lengthCm,
      remainingCm: kind.lengthCm,
      availableOn: fromDayNumber(today + kind.leadTimeDays),
      isNew: true,
    };
    return { drum, buy: kind, freeCm: kind.lengthCm, made: [], promised: [], runs, runById: new Map() };
  });
}

const TOO_LONG =
  "It takes {{n}} m in one piece with the saw allowance; the longest drum that can be bought has {{m}} m and the longest piece on hand {{k}} m.";
const TAKEN =
  "It takes {{n}} m in one piece with the saw allowance; what is on hand goes to other runs, and the longest drum that can be bought has {{m}} m.";
const NO_KIND =
  "It takes {{n}} m in one piece with the saw allowance; what is on hand goes to other runs, and no drum of this cable can be bought.";

const NOT_SENT =
  "It takes {{n}} m in one piece with the saw allowance; what is long enough stands at another warehouse, from which nothing is sent to {{place}}, and no drum that long can be bought.";

/** Why no drum gives a run: kept in English, read back by screens in another language. */
export const UNCUT_REASONS: readonly string[] = [TOO_LONG, TAKEN, NO_KIND, NOT_SENT];

function whyUncut(
  run: RunWanted,
  loads: readonly DrumLoad[],
  kinds: readonly DrumKind[],
  policy: CutPolicy,
  { daysOver }: CutOptions,
): string {
  const needed = run.lengthCm + policy.sawAllowanceCm;
  const longestKind = Math.max(0, ...kinds.map((kind) => kind.lengthCm));
  const longestFree = Math.max(0, ...loads.filter((load) => !load.buy).map((load) => load.freeCm));
  const isTooLong = needed > Math.max(longestKind, longestFree);
  const longEnough = loads.filter((load) => !load.buy && load.freeCm >= needed);
  const isSent = (load: DrumLoad) => Number.isFinite(daysToKit(load.drum, run, daysOver));
  const isNotSent = needed > longestKind && longEnough.length > 0 && !longEnough.some(isSent);
  const metres = (cm: number) => figure(cm / 100, 1);
  return english(
    phrase(isTooLong ? TOO_LONG : isNotSent ? NOT_SENT : kinds.length === 0 ? NO_KIND : TAKEN, {
      n: metres(needed),
      place: run.placeId ?? "",
      m: metres(longestKind),
      k: metres(longestFree),
    }),
  );
}

function longestFirst(a: RunWanted, b: RunWanted): number {
  return (
    b.lengthCm - a.lengthCm ||
    byText(a.neededOn, b.neededOn) ||
    byText(a.endId, b.endId) ||
    byText(a.id, b.id)
  );
}

/** By code unit, so that the order is the same on every machine. */
function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function checkInputs(
  runs: readonly RunWanted[],
  drums: readonly DrumOnHand[],
  kinds: readonly DrumKind[],
  policy: CutPolicy,
  fixedCuts: readonly FixedCut[],
): void {
  const whole = (cm: number, least: number, what: string) => {
    if (!Number.isSafeInteger(cm) || cm < least)
      throw new RangeError(`${what} must be whole cm >= ${least}, got ${cm} cm`);
  };
  for (const run of runs) whole(run.lengthCm, 1, `length of run ${run.id}`);
  for (const drum of drums) {
    whole(drum.remainingCm, 0, `rest of drum ${drum.serial}`);
    whole(drum.receivedCm, drum.remainingCm, `received length of drum ${drum.serial}`);
  }
  for (const kind of kinds) {
    whole(kind.lengthCm, 1, `drum length of ${kind.cableCode}`);
    if (!(kind.priceMinor >= 0))
      throw new RangeError(`price of ${kind.cableCode} must be >= 0, got ${kind.priceMinor}`);
  }
  whole(policy.sawAllowanceCm, 0, "saw allowance");
  whole(policy.minUsefulCm, 0, "shortest useful remnant");
  const drumIds = new Set(drums.map((drum) => drum.id));
  for (const cut of fixedCuts) {
    whole(cut.lengthCm, 1, `length of the fixed cut of run ${cut.runId}`);
    if (!cut.isMade && !drumIds.has(cut.drumId)) {
      throw new RangeError(`run ${cut.runId} is promised to drum ${cut.drumId}, which is not on hand`);
    }
  }
  if (new Set(fixedCuts.map((cut) => cut.runId)).size < fixedCuts.length) {
    throw new RangeError("a run has two fixed cuts");
  }
  if (new Set(runs.map((run) => run.id)).size < runs.length) throw new RangeError("a run id is given twice");
  if (drumIds.size < drums.length) throw new RangeError("a drum id is given twice");
}
