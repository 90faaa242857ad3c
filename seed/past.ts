/**
 * Reports and readings of the hops whose work the made-up crews finished before today: hours that differ from the
 * estimate, levels near their targets. One hop waits for its error run, one failed at a receive level. What the crews
 * report as used went out to their vehicles for it, so that the books of those hops close.
 */
import type { Db } from "@/db/open";
import { addReport, addUses, type ReportUse } from "@/db/queries/reports";
import { partOfTask } from "@/lib/calibration";
import { composeAlignment, composeTasks, DEFAULT_NORMS, type EndTask, pertMeanMin } from "@/lib/hours";
import { endWork, hopWork, SIDES, visitIdOf } from "@/lib/programme";
import type { Random } from "@/lib/random";
import type { EndSide, Hop } from "@/lib/site";
import { type EndTakeoff, type HopTakeoff, type TakeoffContext, takeOff } from "@/lib/takeoff";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import { loadReadings } from "./readings";
import { loadUseBooks, type VisitUse } from "./useBooks";

/** Share of the work content that a crew of four needs as elapsed time. */
const ELAPSED_SHARE = { install: 0.6, alignment: 0.86 } as const;

/** How long each crew really takes, against the norms. What the product has to find out from the reports. */
const CREW_TRUTH = [0.93, 1.02, 1.12, 1.27, 1.05];
/** Tasks that the norms misjudge. */
const PART_TRUTH: Readonly<Record<string, number>> = {
  "fix-cable": 1.4,
  weatherproof: 1.25,
  "prepare-odu-connector": 0.8,
  align: 1.15,
};
/** What an end really takes of a row beyond what the design counts; rows that are not here take what is planned. */
const USE_TRUTH: Readonly<Record<string, number>> = {
  connectors: 0.11,
  "ties-outdoor": 0.22,
  "ties-indoor": 0.16,
  wipes: 0.32,
  "tape-pvc": 0.24,
};
const USE_LUCK = 0.12;

/** A visit's luck and a task's, as standard deviations of the logarithm. */
const VISIT_LUCK = 0.14;
const TASK_LUCK = 0.22;
/** Crews that time single tasks, by their place in the list. */
const TIMING_CREWS = [0, 2, 3];

/** Days between the starts of two hops. */
const STEP_DAYS = 4;

export function loadPast(
  db: Db,
  hops: readonly Hop[],
  context: TakeoffContext,
  { random, today, now }: { random: Random; today: CalendarDate; now: number },
): void {
  const reports = new Reports(db, random, today, now);
  const took: VisitUse[] = [];
  hops.forEach((hop, i) => {
    const taken = takeOff(hop, context);
    const day = workday(addDays(today, -6 - (hops.length - 1 - i) * STEP_DAYS));
    const crews = [i % 5, (i + 2) % 5];
    SIDES.forEach((side, s) => {
      const id = reports.add(hop, side, "install", crews[s]!, day, tasksOf(hop, side, taken, context));
      const uses = usesOf(taken[side], context, random.fork(`uses ${hop.code} ${side}`));
      addUses(db, id, uses);
      const visitId = visitIdOf(hop.code, side, "install");
      took.push({ visitId, crewNo: crews[s]! + 1, on: beforeToday(day, today), uses });
    });
    const luck = random.normal();
    const alignedOn = workday(addDays(day, 2));
    const ids = SIDES.map((side, s) => {
      const tasks = composeAlignment(hopWork(hop, side, context.sites, taken), DEFAULT_NORMS);
      return reports.add(hop, side, "alignment", crews[s]!, alignedOn, tasks, luck);
    });
    const outcome = i === hops.length - 1 ? "open" : i === hops.length - 2 ? "failed" : "accepted";
    const takenOn = alignedOn < today ? alignedOn : addDays(today, -1);
    loadReadings(db, hop, outcome, takenOn, ids, { random: random.fork(`readings ${hop.code}`), now, today });
  });
  loadUseBooks(db, took, context.catalogue, now);
}

/** What the crew reports as used of each row: what is planned, but for the rows that the rules misjudge. */
function usesOf(
  taken: EndTakeoff,
  { rules, policy, catalogue }: TakeoffContext,
  random: Random,
): ReportUse[] {
  const ruleOf = new Map(rules.map((r) => [r.id, r]));
  const used = new Map<string, number>();
  for (const line of taken.lines) {
    const rule = ruleOf.get(line.ruleId);
    if (!rule || !catalogue.some((i) => i.code === line.itemCode)) continue;
    const truth = USE_TRUTH[line.ruleId];
    const allowance = rule.allowanceFrom ? policy[rule.allowanceFrom] : rule.allowance;
    const took =
      truth === undefined
        ? line.exact
        : (line.exact / (1 + allowance)) * (1 + truth) * Math.exp(USE_LUCK * random.normal());
    used.set(line.itemCode, (used.get(line.itemCode) ?? 0) + took);
  }
  return [...used].flatMap(([itemCode, quantity]) => {
    // Tape goes by tenths of a roll, the rest by the piece; of what lasts for many ends nobody reports a share.
    const step = catalogue.find((i) => i.code === itemCode)!.unit === "roll" ? 10 : 100;
    const usedC = step * Math.round((100 * quantity) / step);
    return usedC > 0 ? [{ itemCode, usedC, leftC: 0 }] : [];
  });
}

function tasksOf(hop: Hop, side: EndSide, taken: HopTakeoff, context: TakeoffContext): readonly EndTask[] {
  const work = endWork(hop, hop[side], context.sites.get(hop[side].siteId)!, taken[side]);
  return composeTasks(work, DEFAULT_NORMS);
}

const beforeToday = (day: CalendarDate, today: CalendarDate): CalendarDate =>
  day < today ? day : addDays(today, -1);

/** The day itself or the Monday after it. */
function workday(day: CalendarDate): CalendarDate {
  return weekdayOf(day) > 5 ? addDays(day, 8 - weekdayOf(day)) : day;
}

class Reports {
  constructor(
    readonly db: Db,
    readonly random: Random,
    readonly today: CalendarDate,
    readonly now: number,
  ) {}

  /** @param luck of the visit; both ends of joint work share it */
  add(
    hop: Hop,
    side: EndSide,
    kind: "install" | "alignment",
    crew: number,
    workedOn: CalendarDate,
    tasks: readonly EndTask[],
    luck = this.random.normal(),
  ): number {
    const minutes = new Map<string, number>();
    for (const t of tasks) {
      const part = partOfTask(t.id);
      const truth = t.isSetup ? 1 : CREW_TRUTH[crew]! * (PART_TRUTH[part] ?? 1);
      minutes.set(part, (minutes.get(part) ?? 0) + pertMeanMin(t.duration) * truth);
    }
    const content = [...minutes.values()].reduce((sum, min) => sum + min, 0);
    const visitId = visitIdOf(hop.code, side, kind);
    return addReport(this.db, {
      key: `past ${visitId}`,
      visitId,
      hopCode: hop.code,
      crewCode: `C${crew + 1}`,
      workedOn: beforeToday(workedOn, this.today),
      outcome: "done",
      workedMin: Math.round(content * ELAPSED_SHARE[kind] * Math.exp(VISIT_LUCK * luck)),
      note: "",
      reportedBy: `Crew C${crew + 1}`,
      reportedAt: this.now - 86_400_000,
      uses: [],
      parts: TIMING_CREWS.includes(crew)
        ? [...minutes].map(([part, min]) => ({
            part,
            workedMin: Math.max(1, Math.round(min * Math.exp(TASK_LUCK * this.random.normal()))),
          }))
        : [],
    }).id;
  }
}
