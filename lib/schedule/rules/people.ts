/** "People": every day of the visit has the climbers, rescuers, riggers, technicians and heads it needs. */
import { type Model, NEEDS } from "../model";
import type { CrewDay, VisitNeeds } from "../types";

export const PEOPLE = {
  name: "people",
  /** "1 technician and 2 climbers". */
  missing,
  text: (need: VisitNeeds, day: CrewDay) => {
    const short = missing(need, day);
    return short === "" ? "the crew lacks people on a later day of the work" : `the crew is ${short} short`;
  },
};

export const hasPeople = (m: Model, v: number, crewDay: number): boolean =>
  m.hasPeople[m.needKind[v]! * m.crewCount * m.dayCount + crewDay] === 1;

const ONE = {
  climbers: "climber",
  rescuers: "rescuer",
  riggers: "rigger",
  technicians: "technician",
  people: "person",
};

function missing(need: VisitNeeds, day: CrewDay): string {
  const parts = NEEDS.filter((x) => need[x] > day[x]).map(
    (x) => `${need[x] - day[x]} ${ONE[x]}${need[x] - day[x] > 1 ? "s" : ""}`,
  );
  return parts.join(" and ").replaceAll("persons", "people");
}
