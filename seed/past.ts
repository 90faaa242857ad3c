/**
 * Reports and readings of the hops whose work the made-up crews finished before today: hours that differ from the
 * estimate, levels near their targets. One hop waits for its error run, one failed at a receive level.
 */
import type { Db } from "@/db/open";
import { type NewReading, storeReadings } from "@/db/queries/acceptance";
import { addReport } from "@/db/queries/reports";
import { type AskedReading, readingsAsked } from "@/lib/acceptance";
import { composeTasks, DEFAULT_NORMS, totalWorkMin } from "@/lib/hours";
import { endWork, SIDES, visitIdOf } from "@/lib/programme";
import type { Random } from "@/lib/random";
import type { Hop } from "@/lib/site";
import { type TakeoffContext, takeOff } from "@/lib/takeoff";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";

/** Share of the work content that a crew of four needs as elapsed time, before its own luck. */
const ELAPSED_SHARE = 0.62;

export function loadPast(
  db: Db,
  hops: readonly Hop[],
  context: TakeoffContext,
  { random, today, now }: { random: Random; today: CalendarDate; now: number },
): void {
  hops.forEach((hop, i) => {
    const taken = takeOff(hop, context);
    let day = workday(addDays(today, -26 + i * 4));
    const crews = [`C${(i % 5) + 1}`, `C${((i + 2) % 5) + 1}`];
    SIDES.forEach((side, s) => {
      const work = endWork(hop, hop[side], context.sites.get(hop[side].siteId)!, taken[side]);
      const minutes =
        totalWorkMin(composeTasks(work, DEFAULT_NORMS)) * ELAPSED_SHARE * Math.exp(0.16 * random.normal());
      report(db, hop, side, "install", crews[s]!, day, minutes, now, today);
    });
    day = workday(addDays(day, 2));
    const minutes = random.between(110, 230);
    const reports = SIDES.map((side, s) =>
      report(db, hop, side, "alignment", crews[s]!, day, minutes, now, today),
    );
    const outcome = i === hops.length - 1 ? "open" : i === hops.length - 2 ? "failed" : "accepted";
    const takenOn = day < today ? day : addDays(today, -1);
    readings(db, hop, outcome, takenOn, reports, { random: random.fork(`readings ${hop.code}`), now, today });
  });
}

/** Readings of both ends with their alignment reports, then the error run from the desk. */
function readings(
  db: Db,
  hop: Hop,
  outcome: "accepted" | "open" | "failed",
  takenOn: CalendarDate,
  reports: readonly number[],
  { random, now, today }: { random: Random; now: number; today: CalendarDate },
): void {
  const asked = readingsAsked(hop);
  for (const [s, side] of SIDES.entries()) {
    const own = asked
      .filter((a) => a.side === side)
      .map((a, i) => {
        const isOff = outcome === "failed" && side === "far" && i === 0;
        return made(a, random, isOff);
      });
    must(
      storeReadings(
        db,
        { hopCode: hop.code, readings: own, takenOn, note: "", reportId: reports[s] },
        {
          name: "Crew lead",
          at: now,
          today,
        },
      ),
    );
  }
  if (outcome !== "accepted") return;
  const run = asked.filter((a) => a.kind === "error run").map((a) => ({ askedId: a.id, value: 0 }));
  must(
    storeReadings(
      db,
      { hopCode: hop.code, readings: run, takenOn, note: "24 h over night" },
      {
        name: "Rollout manager",
        at: now,
        today,
      },
    ),
  );
}

/** A made-up reading inside its limits, or a level that is several decibels too low. */
function made({ id, kind, form, targetLevelDbm }: AskedReading, random: Random, isOff: boolean): NewReading {
  if (form === "passed") return { askedId: id, passed: true };
  const tenth = (value: number) => Math.round(value * 10) / 10;
  if (kind === "receive level") {
    return { askedId: id, value: tenth(targetLevelDbm! - (isOff ? 6.2 : random.between(-0.8, 2.2))) };
  }
  return {
    askedId: id,
    value: tenth(kind === "cross-polar" ? random.between(28, 34) : random.between(2, 8)),
  };
}

function must(stored: ReturnType<typeof storeReadings>): void {
  if (!stored.ok) throw new Error(stored.problems.map((p) => p.message).join(" "));
}

/** The day itself or the Monday after it. */
function workday(day: CalendarDate): CalendarDate {
  return weekdayOf(day) > 5 ? addDays(day, 8 - weekdayOf(day)) : day;
}

function report(
  db: Db,
  hop: Hop,
  side: "near" | "far",
  kind: "install" | "alignment",
  crewCode: string,
  workedOn: CalendarDate,
  workedMin: number,
  now: number,
  today: CalendarDate,
): number {
  const visitId = visitIdOf(hop.code, side, kind);
  return addReport(db, {
    key: `past ${visitId}`,
    visitId,
    hopCode: hop.code,
    crewCode,
    workedOn: workedOn < today ? workedOn : addDays(today, -1),
    outcome: "done",
    workedMin: Math.round(workedMin),
    note: "",
    reportedBy: `Crew ${crewCode}`,
    reportedAt: now - 86_400_000,
    uses: [],
  }).id;
}
