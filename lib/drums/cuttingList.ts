/** From "which run lies on which drum" to the list a person cuts by: order, running marks, what is left. */
import type { CalendarDate } from "@/lib/time";
import { accountOf } from "./account";
import type { PurchaseBound } from "./bounds";
import { cutBy, isElsewhere, thereOn } from "./places";
import type {
  CutOptions,
  CutPolicy,
  CuttingPlan,
  DrumCut,
  DrumKind,
  DrumOnHand,
  DrumPlan,
  FixedCut,
  RunWanted,
} from "./types";

export interface DrumLoad {
  drum: DrumOnHand;
  buy?: DrumKind;
  /** Left for runs that are not fixed, cm. */
  freeCm: number;
  made: readonly FixedCut[];
  promised: readonly FixedCut[];
  runs: RunWanted[];
  runById: ReadonlyMap<string, RunWanted>;
}

export function buildPlan(
  cableCode: string,
  loads: readonly DrumLoad[],
  uncut: CuttingPlan["uncut"],
  bound: PurchaseBound,
  policy: CutPolicy,
  options: CutOptions,
): CuttingPlan {
  const drums = loads.map((load) => drumPlan(load, policy, options));
  const late = loads.flatMap((load, d) => lateRuns(load, drums[d]!));
  late.sort((a, b) => order(a.run.neededOn, b.run.neededOn) || order(a.run.id, b.run.id));
  const total = (of: (drum: DrumPlan) => number) => drums.reduce((sum, drum) => sum + of(drum), 0);
  const bought = drums.filter((drum) => drum.buy);
  const plan: CuttingPlan = {
    cableCode,
    drums,
    newDrums: purchases(loads),
    uncut,
    late,
    cutCm: total((drum) => drum.cuts.reduce((sum, cut) => sum + cut.lengthCm, 0)),
    allowanceCm: total((drum) => drum.allowanceCm),
    scrapCm: total((drum) => (drum.leftIs === "scrap" ? drum.leftCm : 0)),
    remnantCm: total((drum) => (drum.leftIs === "remnant" ? drum.leftCm : 0)),
    newDrumLowerBound: bound.drums,
    newDrumCount: bought.length,
    newDrumPriceMinor: bought.reduce((sum, drum) => sum + drum.buy!.priceMinor, 0),
    newDrumPriceLowerBoundMinor: bound.priceMinor,
    splitEndCount: splitEnds(loads),
  };
  accountOf(plan); // a plan whose metres do not add up never leaves this folder
  return plan;
}

function drumPlan(load: DrumLoad, policy: CutPolicy, { today, daysOver }: CutOptions): DrumPlan {
  const { drum } = load;
  const earliest = later(today, drum.availableOn);
  const waiting = [
    ...load.promised.map((cut) => ({
      runId: cut.runId,
      lengthCm: cut.lengthCm,
      cutOn: later(cut.cutOn, earliest),
      run: load.runById.get(cut.runId),
      isFixed: true,
      fromMarkCm: cut.fromMarkCm ?? 0,
    })),
    ...load.runs.map((run) => ({
      runId: run.id,
      lengthCm: run.lengthCm,
      // What is sent to another warehouse is cut so much earlier, if it can be.
      cutOn: later(cutBy(drum, run, daysOver), earliest),
      run,
      isFixed: false,
      fromMarkCm: 0,
    })),
  ];
  // By date; on one date what was promised comes first, in the order of its marks; the runs of one end together, the longest first.
  waiting.sort(
    (a, b) =>
      order(a.cutOn, b.cutOn) ||
      Number(b.isFixed) - Number(a.isFixed) ||
      a.fromMarkCm - b.fromMarkCm ||
      order(a.run?.endId ?? "", b.run?.endId ?? "") ||
      b.lengthCm - a.lengthCm ||
      order(a.runId, b.runId),
  );
  let mark = drum.receivedCm - drum.remainingCm;
  const cuts = waiting.map(({ runId, lengthCm, cutOn, run, isFixed }): DrumCut => {
    const cut: DrumCut = {
      runId,
      lengthCm,
      fromMarkCm: mark,
      toMarkCm: mark + lengthCm,
      cutOn,
      ...(run?.placeId ? { wantedAt: run.placeId } : {}),
      ...(run && isElsewhere(drum, run, daysOver)
        ? { arriveOn: thereOn(drum, run, cutOn, daysOver) ?? cutOn }
        : {}),
    };
    mark += lengthCm + policy.sawAllowanceCm;
    return isFixed ? { ...cut, isFixed } : cut;
  });
  const leftCm = drum.receivedCm - mark;
  const made = [...load.made].sort(
    (a, b) => (a.fromMarkCm ?? 0) - (b.fromMarkCm ?? 0) || order(a.cutOn, b.cutOn) || order(a.runId, b.runId),
  );
  return {
    drum,
    ...(load.buy ? { buy: load.buy } : {}),
    ...(made.length > 0 ? { madeCuts: made } : {}),
    cuts,
    allowanceCm: cuts.length * policy.sawAllowanceCm,
    leftCm,
    leftIs:
      leftCm === 0
        ? "empty"
        : cuts.length === 0
          ? "untouched"
          : leftCm < policy.minUsefulCm
            ? "scrap"
            : "remnant",
  };
}

/** Runs that are cut, or come over, after the day on which they are needed. */
function lateRuns(load: DrumLoad, plan: DrumPlan): { run: RunWanted; availableOn: CalendarDate }[] {
  return plan.cuts.flatMap((cut) => {
    const run = load.runs.find((r) => r.id === cut.runId) ?? load.runById.get(cut.runId);
    const availableOn = cut.arriveOn ?? cut.cutOn;
    return run && availableOn > run.neededOn ? [{ run, availableOn }] : [];
  });
}

function purchases(loads: readonly DrumLoad[]): { kind: DrumKind; count: number; neededOn: CalendarDate }[] {
  const rows = new Map<DrumKind, { kind: DrumKind; count: number; neededOn: CalendarDate }>();
  for (const { buy, runs } of loads) {
    if (!buy) continue;
    const first = runs.map((run) => run.neededOn).sort(order)[0]!;
    const row = rows.get(buy);
    rows.set(buy, {
      kind: buy,
      count: (row?.count ?? 0) + 1,
      neededOn: row && row.neededOn < first ? row.neededOn : first,
    });
  }
  return [...rows.values()].sort(
    (a, b) => b.kind.lengthCm - a.kind.lengthCm || a.kind.priceMinor - b.kind.priceMinor,
  );
}

function splitEnds(loads: readonly DrumLoad[]): number {
  const pairs = new Set(loads.flatMap((load, d) => load.runs.map((run) => JSON.stringify([run.endId, d]))));
  const ends = new Set(loads.flatMap((load) => load.runs.map((run) => run.endId)));
  return pairs.size - ends.size;
}

function later(a: CalendarDate, b: CalendarDate): CalendarDate {
  return a < b ? b : a;
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
