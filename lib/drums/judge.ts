/**
 * The independent check of a cutting plan. Slow and plain on purpose: it shares only the types with the code that
 * makes plans, and goes by what a person with the cutting list in hand would count.
 */
import type { Problem } from "@/lib/result";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import type {
  CutPolicy,
  CuttingPlan,
  DaysOver,
  DrumKind,
  DrumOnHand,
  DrumPlan,
  FixedCut,
  RunWanted,
} from "./types";

export interface CuttingContext {
  /** Given: every bought drum must be of one of these kinds. */
  kinds?: readonly DrumKind[];
  fixedCuts?: readonly FixedCut[];
  /** Given: what is cut at another warehouse must be said to arrive when it can. */
  daysOver?: DaysOver;
}

/**
 * Everything that is wrong with a plan, rule by rule; empty = nothing is.
 *
 * @param runs  the runs that were asked for; those of other cable codes are left aside
 * @param drums the drums that were given; likewise
 */
export function validateCutting(
  plan: CuttingPlan,
  runs: readonly RunWanted[],
  drums: readonly DrumOnHand[],
  policy: CutPolicy,
  context: CuttingContext = {},
): Problem[] {
  const own = runs.filter((run) => run.cableCode === plan.cableCode);
  const fixed = context.fixedCuts ?? [];
  return [
    ...everyRunOnce(plan, own, fixed),
    ...everyDrumOnce(plan, drums, context.kinds),
    ...plan.drums.flatMap((drum) => cutsOfDrum(drum, own, fixed, policy)),
    ...fixedStay(plan, fixed, drums),
    ...(context.daysOver ? plan.drums.flatMap((drum) => comesOver(drum, own, context.daysOver!)) : []),
    ...lateIsListed(plan, own),
    ...totals(plan),
  ];
}

function wrong(path: string, rule: string, value: unknown, message: string): Problem {
  return {
    path,
    rule,
    value,
    message,
    remedy: "Do not cut by this plan; make a new one and report the rule.",
  };
}

/** Each run is cut once from one drum, or listed as uncut, or was cut before. A run in two pieces is two cuts. */
function everyRunOnce(plan: CuttingPlan, runs: readonly RunWanted[], fixed: readonly FixedCut[]): Problem[] {
  const problems: Problem[] = [];
  const isMade = (id: string) => fixed.some((cut) => cut.runId === id && cut.isMade);
  for (const run of runs) {
    const cuts = plan.drums.flatMap((drum) => drum.cuts).filter((cut) => cut.runId === run.id).length;
    const listed = plan.uncut.filter((row) => row.run.id === run.id).length;
    const made = isMade(run.id) ? 1 : 0;
    if (cuts + listed + made !== 1) {
      const message = `Run ${run.label} is cut ${cuts} times, listed as uncut ${listed} times, made ${made} times.`;
      problems.push(wrong(run.id, "run-once", cuts, message));
    }
  }
  for (const { run, reason } of plan.uncut) {
    if (reason.trim() === "")
      problems.push(wrong(run.id, "uncut-reason", reason, `Run ${run.label} is uncut without a reason.`));
  }
  return problems;
}

function everyDrumOnce(
  plan: CuttingPlan,
  drums: readonly DrumOnHand[],
  kinds: readonly DrumKind[] | undefined,
): Problem[] {
  const problems: Problem[] = [];
  const owned = plan.drums.filter((drum) => !drum.buy).map((drum) => drum.drum);
  for (const drum of drums.filter((d) => d.cableCode === plan.cableCode)) {
    const found = owned.filter((d) => d.id === drum.id);
    if (found.length !== 1)
      problems.push(
        wrong(
          drum.id,
          "drum-once",
          found.length,
          `Drum ${drum.serial} stands ${found.length} times in the plan.`,
        ),
      );
    for (const d of found) {
      if (
        d.remainingCm !== drum.remainingCm ||
        d.receivedCm !== drum.receivedCm ||
        d.availableOn !== drum.availableOn
      ) {
        problems.push(wrong(drum.id, "drum-as-given", d, `Drum ${drum.serial} is not as it was given.`));
      }
    }
  }
  for (const drum of owned) {
    if (!drums.some((d) => d.id === drum.id))
      problems.push(wrong(drum.id, "drum-known", drum.serial, `Drum ${drum.serial} is not on hand.`));
  }
  const bought = plan.drums.filter((drum) => drum.buy);
  for (const { drum, buy, cuts } of bought) {
    if (drum.receivedCm !== buy!.lengthCm || drum.remainingCm !== buy!.lengthCm) {
      problems.push(
        wrong(drum.id, "bought-length", drum.receivedCm, `Drum ${drum.serial} is not as long as its kind.`),
      );
    }
    if (cuts.length === 0)
      problems.push(wrong(drum.id, "bought-used", 0, `Drum ${drum.serial} is bought and not cut.`));
    if (
      kinds &&
      !kinds.some(
        (kind) =>
          kind.cableCode === plan.cableCode &&
          kind.lengthCm === buy!.lengthCm &&
          kind.priceMinor === buy!.priceMinor,
      )
    ) {
      problems.push(
        wrong(drum.id, "bought-kind", buy, `Drum ${drum.serial} is of a kind that cannot be bought.`),
      );
    }
  }
  const ordered = plan.newDrums.reduce((sum, row) => sum + row.count, 0);
  if (bought.length !== plan.newDrumCount || ordered !== plan.newDrumCount) {
    const message = `${bought.length} bought drums are cut, ${ordered} ordered, ${plan.newDrumCount} counted.`;
    problems.push(wrong("newDrums", "bought-count", plan.newDrumCount, message));
  }
  if (plan.newDrumCount < plan.newDrumLowerBound) {
    problems.push(
      wrong(
        "newDrumLowerBound",
        "bound",
        plan.newDrumLowerBound,
        "The plan buys fewer drums than its lower bound.",
      ),
    );
  }
  return problems;
}

/** Walks along one drum from its outer end as the cutter does. */
function cutsOfDrum(
  plan: DrumPlan,
  runs: readonly RunWanted[],
  fixed: readonly FixedCut[],
  policy: CutPolicy,
): Problem[] {
  const problems: Problem[] = [];
  const { drum } = plan;
  let mark = drum.receivedCm - drum.remainingCm;
  let lastDate = "";
  for (const cut of plan.cuts) {
    const run = runs.find((r) => r.id === cut.runId);
    const promised = fixed.find((f) => f.runId === cut.runId && !f.isMade && f.drumId === drum.id);
    const wantedCm = promised?.lengthCm ?? run?.lengthCm;
    if (wantedCm === undefined)
      problems.push(
        wrong(
          cut.runId,
          "run-known",
          cut.runId,
          `Drum ${drum.serial} has a cut for a run that nobody wants.`,
        ),
      );
    else if (cut.lengthCm !== wantedCm || cut.toMarkCm - cut.fromMarkCm !== wantedCm) {
      problems.push(
        wrong(
          cut.runId,
          "run-length",
          cut.lengthCm,
          `The cut is ${cut.lengthCm} cm, the run ${wantedCm} cm.`,
        ),
      );
    }
    if (cut.fromMarkCm !== mark) {
      problems.push(
        wrong(
          cut.runId,
          "marks",
          cut.fromMarkCm,
          `On drum ${drum.serial} the cut starts at ${cut.fromMarkCm} cm, the cable at ${mark} cm.`,
        ),
      );
    }
    mark = cut.toMarkCm + policy.sawAllowanceCm;
    if (mark > drum.receivedCm)
      problems.push(
        wrong(
          cut.runId,
          "drum-end",
          mark,
          `Drum ${drum.serial} has ${drum.receivedCm} cm; this cut ends at ${mark} cm.`,
        ),
      );
    if (cut.cutOn < drum.availableOn)
      problems.push(
        wrong(
          cut.runId,
          "available",
          cut.cutOn,
          `Drum ${drum.serial} is not there before ${drum.availableOn}.`,
        ),
      );
    if (cut.cutOn < lastDate)
      problems.push(
        wrong(cut.runId, "cutting-order", cut.cutOn, `On drum ${drum.serial} a later cut stands before it.`),
      );
    lastDate = cut.cutOn;
  }
  if (plan.allowanceCm !== plan.cuts.length * policy.sawAllowanceCm) {
    problems.push(
      wrong(
        drum.id,
        "allowance",
        plan.allowanceCm,
        `${plan.cuts.length} cuts do not take ${plan.allowanceCm} cm.`,
      ),
    );
  }
  if (plan.leftCm !== drum.receivedCm - mark) {
    problems.push(
      wrong(
        drum.id,
        "left",
        plan.leftCm,
        `Drum ${drum.serial} has ${drum.receivedCm - mark} cm left, not ${plan.leftCm} cm.`,
      ),
    );
  }
  const name =
    plan.leftCm === 0
      ? "empty"
      : plan.cuts.length === 0
        ? "untouched"
        : plan.leftCm < policy.minUsefulCm
          ? "scrap"
          : "remnant";
  if (plan.leftIs !== name)
    problems.push(wrong(drum.id, "left-is", plan.leftIs, `What is left of drum ${drum.serial} is ${name}.`));
  return problems;
}

/** Cuts that were promised stay on their drum; cuts that were made are shown on theirs. */
function fixedStay(plan: CuttingPlan, fixed: readonly FixedCut[], drums: readonly DrumOnHand[]): Problem[] {
  const problems: Problem[] = [];
  for (const cut of fixed) {
    const drum = drums.find((d) => d.id === cut.drumId);
    if (drum?.cableCode !== plan.cableCode) continue;
    const there = plan.drums.find((d) => d.drum.id === cut.drumId);
    const list: readonly { runId: string }[] = (cut.isMade ? there?.madeCuts : there?.cuts) ?? [];
    if (!list.some((c) => c.runId === cut.runId)) {
      problems.push(
        wrong(cut.runId, "fixed-stays", cut.drumId, `The fixed cut of run ${cut.runId} is not on its drum.`),
      );
    }
  }
  return problems;
}

/** Leaves on the first day of Monday to Friday; only those count on the way. */
function afterWorkdays(from: CalendarDate, days: number): CalendarDate {
  const isOff = (day: CalendarDate) => weekdayOf(day) > 5;
  let day = from;
  while (isOff(day)) day = addDays(day, 1);
  for (let left = days; left > 0; ) {
    day = addDays(day, 1);
    if (!isOff(day)) left--;
  }
  return day;
}

/** A piece that is cut at another warehouse arrives the way's working days after its cut; one that is cut at home is there at once. */
function comesOver({ drum, cuts }: DrumPlan, runs: readonly RunWanted[], daysOver: DaysOver): Problem[] {
  const standsAt = drum.comesTo === undefined ? drum.placeId : drum.comesTo;
  return cuts.flatMap((cut): Problem[] => {
    const wantedAt = runs.find((r) => r.id === cut.runId)?.placeId;
    if (standsAt === "" || wantedAt === undefined || wantedAt === standsAt) {
      if (cut.arriveOn === undefined) return [];
      return [wrong(cut.runId, "comes-over", cut.arriveOn, "The piece is cut where it is wanted.")];
    }
    const days = daysOver(standsAt, wantedAt);
    if (days === undefined)
      return [wrong(cut.runId, "comes-over", wantedAt, `Nothing is sent from ${standsAt} to ${wantedAt}.`)];
    const arriveOn = afterWorkdays(cut.cutOn, days);
    if (cut.arriveOn === arriveOn) return [];
    const message = `The piece is cut on ${cut.cutOn} at ${standsAt} and is at ${wantedAt} on ${arriveOn}.`;
    return [wrong(cut.runId, "comes-over", cut.arriveOn, message)];
  });
}

/** A run is late exactly when it is cut, or comes over, after the day on which it is needed, and then it says when. */
function lateIsListed(plan: CuttingPlan, runs: readonly RunWanted[]): Problem[] {
  const problems: Problem[] = [];
  for (const cut of plan.drums.flatMap((drum) => drum.cuts)) {
    const run = runs.find((r) => r.id === cut.runId);
    if (!run) continue;
    const rows = plan.late.filter((row) => row.run.id === run.id);
    const thereOn = cut.arriveOn ?? cut.cutOn;
    const isLate = thereOn > run.neededOn;
    if (isLate !== (rows.length === 1) || rows.some((row) => row.availableOn !== thereOn)) {
      problems.push(
        wrong(
          run.id,
          "late-listed",
          thereOn,
          `Run ${run.label} is needed on ${run.neededOn} and there on ${thereOn}; the list of late runs does not say so.`,
        ),
      );
    }
  }
  return problems;
}

function totals(plan: CuttingPlan): Problem[] {
  let cut = 0;
  let allowance = 0;
  let scrap = 0;
  let remnant = 0;
  for (const drum of plan.drums) {
    for (const c of drum.cuts) cut += c.lengthCm;
    allowance += drum.allowanceCm;
    if (drum.leftIs === "scrap") scrap += drum.leftCm;
    if (drum.leftIs === "remnant") remnant += drum.leftCm;
  }
  const rows: [keyof CuttingPlan, number][] = [
    ["cutCm", cut],
    ["allowanceCm", allowance],
    ["scrapCm", scrap],
    ["remnantCm", remnant],
  ];
  return rows
    .filter(([key, cm]) => plan[key] !== cm)
    .map(([key, cm]) => wrong(key, "total", plan[key], `The drums add up to ${cm} cm.`));
}
