/** Crews with their members, certificates and leave. */
import { eq } from "drizzle-orm";
import type { Crew, CrewMember } from "@/lib/programme";
import type { Weekday } from "@/lib/time";
import type { Db } from "../open";
import { crew, crewMember, leave, memberSkill } from "../schema";
import { groupBy } from "./design";

export function loadCrews(db: Db): Crew[] {
  const skills = groupBy(db.select().from(memberSkill).orderBy(memberSkill.skill).all(), (s) => s.memberCode);
  const away = groupBy(db.select().from(leave).orderBy(leave.fromOn).all(), (l) => l.memberCode);
  const members = groupBy(db.select().from(crewMember).orderBy(crewMember.code).all(), (m) => m.crewCode);
  return db
    .select()
    .from(crew)
    .orderBy(crew.code)
    .all()
    .map((row) => ({
      ...row,
      vehiclePlace: row.vehiclePlace ?? undefined,
      weekdays: [...row.weekdays].map((d) => Number(d) as Weekday),
      members: (members.get(row.code) ?? []).map((m) => ({
        code: m.code,
        name: m.name,
        isLead: m.isLead,
        skills: (skills.get(m.code) ?? []).map((s) => ({
          skill: s.skill,
          validUntil: s.validUntil ?? undefined,
        })),
        leave: (away.get(m.code) ?? []).map(({ fromOn, toOn, reason }) => ({ fromOn, toOn, reason })),
      })),
    }));
}

export function saveCrew(db: Db, c: Omit<Crew, "members">): void {
  const row = {
    code: c.code,
    name: c.name,
    depotPlace: c.depotPlace,
    zone: c.zone,
    weekdays: [...c.weekdays].sort().join(""),
    shiftFromMin: c.shiftFromMin,
    shiftToMin: c.shiftToMin,
    overtimeMaxMin: c.overtimeMaxMin,
    weeklyMaxMin: c.weeklyMaxMin,
    restMin: c.restMin,
    nightsAwayMax: c.nightsAwayMax,
    payloadKg: c.payloadKg,
    pace: c.pace,
    // Left out, it stays as somebody chose it.
    ...(c.vehiclePlace === undefined ? {} : { vehiclePlace: c.vehiclePlace }),
  };
  const { code: _, ...rest } = row;
  db.insert(crew).values(row).onConflictDoUpdate({ target: crew.code, set: rest }).run();
}

/** Names the vehicle that a crew's kits are loaded into. */
export function setVehicle(db: Db, crewCode: string, vehiclePlace: string): void {
  db.update(crew).set({ vehiclePlace }).where(eq(crew.code, crewCode)).run();
}

/** Inserts the member or brings the stored one to this state, certificates and leave included. */
export function saveMember(db: Db, crewCode: string, m: CrewMember): void {
  const set = { crewCode, name: m.name, isLead: m.isLead };
  db.insert(crewMember)
    .values({ code: m.code, ...set })
    .onConflictDoUpdate({ target: crewMember.code, set })
    .run();
  db.delete(memberSkill).where(eq(memberSkill.memberCode, m.code)).run();
  for (const s of m.skills) {
    db.insert(memberSkill)
      .values({ memberCode: m.code, skill: s.skill, validUntil: s.validUntil ?? null })
      .run();
  }
  db.delete(leave).where(eq(leave.memberCode, m.code)).run();
  for (const l of m.leave) {
    db.insert(leave)
      .values({ memberCode: m.code, ...l })
      .run();
  }
}
