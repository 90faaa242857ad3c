/** From the plan under edit to plain data. */
import type { PlanEdit } from "./edit";
import type { NightAway, PlacedVisit } from "./types";

/** All placed visits by crew and time. */
export function placedVisits({ model: m, state: s }: PlanEdit): PlacedVisit[] {
  const placed: PlacedVisit[] = [];
  for (let v = 0; v < m.visitCount; v++) {
    if (s.crewOf[v]! < 0) continue;
    placed.push({
      visit: v,
      crew: s.crewOf[v]!,
      startDay: s.startDay[v]!,
      startMin: s.startMin[v]!,
      endDay: s.endDay[v]!,
      endMin: s.endMin[v]!,
    });
  }
  return placed.sort(
    (a, b) => a.crew - b.crew || a.startDay - b.startDay || a.startMin - b.startMin || a.visit - b.visit,
  );
}

/** Nights away, by crew and day. A crew that sleeps out wakes up there on its next day: that is the place. */
export function nightsAway({ model: m, state: s }: PlanEdit): NightAway[] {
  const nights: NightAway[] = [];
  for (let crew = 0; crew < m.crewCount; crew++) {
    for (let day = 0; day < m.dayCount; day++) {
      const at = day * m.crewCount + crew;
      if (s.night[at] === 1)
        nights.push({ crew, day, place: s.inPlace[m.nextWork[at]! * m.crewCount + crew]! });
    }
  }
  return nights;
}
