/** Readings of the made-up finished hops: levels near their targets. */
import type { Db } from "@/db/open";
import { type NewReading, storeReadings } from "@/db/queries/acceptance";
import { type AskedReading, readingsAsked } from "@/lib/acceptance";
import { SIDES } from "@/lib/programme";
import type { Random } from "@/lib/random";
import type { Hop } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

/** Readings of both ends with their alignment reports, then the error run from the desk. */
export function loadReadings(
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
