/** From members, certificates, leave and shifts to what a crew can field on each day. */
import type { CrewComposition, Skill } from "@/lib/hours";
import type { CrewDay } from "@/lib/schedule";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import type { Crew, CrewMember } from "./types";

/** Skills of a member that are valid on `on`: a certificate counts on its last day. */
export function skillsOn(member: CrewMember, on: CalendarDate): Skill[] {
  return member.skills.filter((s) => s.validUntil === undefined || s.validUntil >= on).map((s) => s.skill);
}

export function isAway(member: Pick<CrewMember, "leave">, on: CalendarDate): boolean {
  return member.leave.some((l) => l.fromOn <= on && on <= l.toOn);
}

export interface Away<M> {
  member: M;
  fromOn: CalendarDate;
  /** Last day; leave that goes on the next day is one. */
  untilOn: CalendarDate;
}

/** Who of a crew goes on a day, and who is on leave on it or on a later day up to `until`. */
export function whoGoes<M extends Pick<CrewMember, "leave">>(
  members: readonly M[],
  on: CalendarDate,
  until: CalendarDate = on,
): { going: M[]; away: Away<M>[] } {
  return {
    going: members.filter((m) => !isAway(m, on)),
    away: members.flatMap((member) =>
      leaveOf(member)
        .filter((l) => l.fromOn <= until && on <= l.untilOn)
        .map((l) => ({ member, ...l })),
    ),
  };
}

function leaveOf({ leave }: Pick<CrewMember, "leave">): { fromOn: CalendarDate; untilOn: CalendarDate }[] {
  const spells: { fromOn: CalendarDate; untilOn: CalendarDate }[] = [];
  for (const l of [...leave].sort((a, b) => (a.fromOn < b.fromOn ? -1 : 1))) {
    const last = spells.at(-1);
    if (!last || l.fromOn > addDays(last.untilOn, 1)) spells.push({ fromOn: l.fromOn, untilOn: l.toOn });
    else if (l.toOn > last.untilOn) last.untilOn = l.toOn;
  }
  return spells;
}

/** The parts of [fromOn, toOn] on which a member is not on leave already, in order. */
export function notAway(
  member: Pick<CrewMember, "leave">,
  fromOn: CalendarDate,
  toOn: CalendarDate,
): { fromOn: CalendarDate; toOn: CalendarDate }[] {
  const parts: { fromOn: CalendarDate; toOn: CalendarDate }[] = [];
  let next = fromOn;
  for (const { fromOn: from, untilOn } of leaveOf(member)) {
    if (untilOn < next || from > toOn) continue;
    if (from > next) parts.push({ fromOn: next, toOn: addDays(from, -1) });
    next = addDays(untilOn, 1);
  }
  if (next <= toOn) parts.push({ fromOn: next, toOn });
  return parts;
}

/** Who of the crew works on `on`, by their valid skills; empty on days off. */
export function compositionOn(crew: Crew, on: CalendarDate): CrewComposition {
  if (!crew.weekdays.includes(weekdayOf(on))) return { people: [] };
  return { people: crew.members.filter((m) => !isAway(m, on)).map((m) => skillsOn(m, on)) };
}

/** Everybody of the crew with all certificates valid on `on`, leave and days off aside. */
export function fullComposition(crew: Crew, on: CalendarDate): CrewComposition {
  return { people: crew.members.map((m) => skillsOn(m, on)) };
}

/** What the crew fields on each of `dayCount` days from `firstDay`; null = nobody works. */
export function crewDays(crew: Crew, firstDay: CalendarDate, dayCount: number): (CrewDay | null)[] {
  return Array.from({ length: dayCount }, (_, d) => {
    const { people } = compositionOn(crew, addDays(firstDay, d));
    if (people.length === 0) return null;
    const holding = (skill: Skill) => people.filter((p) => p.includes(skill)).length;
    return {
      fromMin: crew.shiftFromMin,
      toMin: crew.shiftToMin,
      climbers: holding("climber"),
      rescuers: holding("rescue"),
      riggers: holding("rigger"),
      technicians: holding("technician"),
      people: people.length,
    };
  });
}
