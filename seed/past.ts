/** Reports of the hops that the made-up crews finished before today: hours that differ from the estimate. */
import type { Db } from "@/db/open";
import { addReport } from "@/db/queries/reports";
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
    for (const [s, side] of SIDES.entries()) {
      report(db, hop, side, "alignment", crews[s]!, day, minutes, now, today);
    }
  });
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
): void {
  const visitId = visitIdOf(hop.code, side, kind);
  addReport(db, {
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
  });
}
