/** What the Rules pages read and write: versions of rule data, certificates and leave, and the log. */

import { and, asc, count, desc, eq, inArray, ne, or, type SQLWrapper, sql } from "drizzle-orm";
import type { Skill } from "@/lib/hours";
import { notAway } from "@/lib/programme";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import { addDays, type CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { crew, crewMember, leave, logEntry, memberSkill, type PolicyKind } from "../schema";
import { addPolicyVersion, currentPolicy } from "./catalogue";
import { loadCrews } from "./crews";
import { addLogEntry, type LogAction } from "./log";

export interface Who {
  name: string;
  at: number;
}

/** The version number in force; 0 = as delivered. */
export const versionInForce = (db: Db, kind: PolicyKind): number => currentPolicy(db, kind)?.version ?? 0;

/** Why a change based on an older version may not be saved; undefined when it is based on the one in force. */
export function staleVersion(db: Db, kind: PolicyKind, basedOn: number): Problem | undefined {
  const current = currentPolicy(db, kind);
  const version = current?.version ?? 0;
  if (version === basedOn) return undefined;
  const by = current ? `, by ${current.changedBy}` : "";
  return {
    path: "version",
    rule: "version-conflict",
    value: basedOn,
    message: `Your change was made on version ${basedOn}; version ${version} is in force meanwhile${by}. Nothing was saved.`,
    remedy: "Reload the page, look at the newer version and make your change again.",
  };
}

export interface NewVersion {
  kind: PolicyKind;
  body: unknown;
  /** The version the person saw. */
  basedOn: number;
  reason: string;
  /** For the log: what changed, in words or figures. */
  detail: unknown;
}

/** Stores a new version with its reason and writes the log; refused when another one came in between. */
export function saveVersion(db: Db, wanted: NewVersion, who: Who): Result<number> {
  const stale = staleVersion(db, wanted.kind, wanted.basedOn);
  if (stale) return refused(stale);
  const { kind, body, reason, detail } = wanted;
  const version = addPolicyVersion(db, kind, body, { by: who.name, at: who.at, reason });
  addLogEntry(db, {
    at: who.at,
    userName: who.name,
    action: `change ${kind}`,
    subject: `rules:${kind}`,
    detail: { version, basedOn: wanted.basedOn, reason, changes: detail },
  });
  return ok(version);
}

/* Certificates and leave */

export interface CertificateRow {
  memberCode: string;
  memberName: string;
  crewCode: string;
  skill: Skill;
  validUntil: CalendarDate | null;
  state: "expired" | "expiring" | "valid" | "no expiry";
}

/** Days before the end from which a certificate is marked. */
export const EXPIRING_DAYS = 30;

/** All certificates, the soonest to expire first, those without an end last. */
export function loadCertificates(db: Db, today: CalendarDate): CertificateRow[] {
  const soon = addDays(today, EXPIRING_DAYS);
  return db
    .select({
      memberCode: memberSkill.memberCode,
      memberName: crewMember.name,
      crewCode: crewMember.crewCode,
      skill: memberSkill.skill,
      validUntil: memberSkill.validUntil,
    })
    .from(memberSkill)
    .innerJoin(crewMember, eq(crewMember.code, memberSkill.memberCode))
    .orderBy(sql`${memberSkill.validUntil} is null`, asc(memberSkill.validUntil), asc(crewMember.name))
    .all()
    .map((row) => ({
      ...row,
      state:
        row.validUntil === null
          ? "no expiry"
          : row.validUntil < today
            ? "expired"
            : row.validUntil <= soon
              ? "expiring"
              : "valid",
    }));
}

const memberOf = (db: Db, code: string) =>
  db.select().from(crewMember).where(eq(crewMember.code, code)).get();

const noMember = (code: string): Problem => ({
  path: "member",
  rule: "member-unknown",
  value: code,
  message: "There is no crew member with this code.",
  remedy: "Reload the page; the crews may have been brought in again.",
});

/** Sets until when a skill's certificate is valid (null: no end); adds the skill where it is missing. */
export function setCertificate(
  db: Db,
  c: { memberCode: string; skill: Skill; validUntil: CalendarDate | null },
  who: Who,
): Result<null> {
  const member = memberOf(db, c.memberCode);
  if (!member) return refused(noMember(c.memberCode));
  const here = and(eq(memberSkill.memberCode, c.memberCode), eq(memberSkill.skill, c.skill));
  const before = db.select().from(memberSkill).where(here).get();
  db.insert(memberSkill)
    .values(c)
    .onConflictDoUpdate({
      target: [memberSkill.memberCode, memberSkill.skill],
      set: { validUntil: c.validUntil },
    })
    .run();
  addLogEntry(db, {
    at: who.at,
    userName: who.name,
    action: before ? "change certificate" : "add certificate",
    subject: `member:${c.memberCode}`,
    detail: {
      name: member.name,
      skill: c.skill,
      before: before ? (before.validUntil ?? "no end") : "none",
      after: c.validUntil ?? "no end",
    },
  });
  return ok(null);
}

/** Takes a skill from a member. */
export function removeCertificate(
  db: Db,
  c: { memberCode: string; skill: Skill; reason: string },
  who: Who,
): Result<null> {
  const member = memberOf(db, c.memberCode);
  if (!member) return refused(noMember(c.memberCode));
  const gone = db
    .delete(memberSkill)
    .where(and(eq(memberSkill.memberCode, c.memberCode), eq(memberSkill.skill, c.skill)))
    .run();
  if (gone.changes === 0)
    return refused({
      path: "skill",
      rule: "certificate-unknown",
      value: c.skill,
      message: `${member.name} does not hold this certificate.`,
      remedy: "Reload the page; somebody may have removed it already.",
    });
  addLogEntry(db, {
    at: who.at,
    userName: who.name,
    action: "remove certificate",
    subject: `member:${c.memberCode}`,
    detail: { name: member.name, skill: c.skill, reason: c.reason },
  });
  return ok(null);
}

export interface LeaveWanted {
  memberCode: string;
  fromOn: CalendarDate;
  toOn: CalendarDate;
  reason: string;
  /** First day of the stored leave that this one takes the place of. */
  replaces?: CalendarDate;
}

/** Adds a leave or puts it in another's place; refused when it overlaps one that stays. */
export function setLeave(db: Db, l: LeaveWanted, who: Who): Result<null> {
  const member = memberOf(db, l.memberCode);
  if (!member) return refused(noMember(l.memberCode));
  if (l.toOn < l.fromOn)
    return refused({
      path: "toOn",
      rule: "leave-order",
      value: l.toOn,
      message: `The last day lies before the first, ${l.fromOn}.`,
      remedy: `Enter ${l.fromOn} or a later day.`,
    });
  const mine = eq(leave.memberCode, l.memberCode);
  const known = l.replaces ? and(mine, eq(leave.fromOn, l.replaces)) : undefined;
  if (known && !db.select().from(leave).where(known).get()) return refused(noLeave(l.replaces!));
  const other = db
    .select()
    .from(leave)
    .where(
      and(
        mine,
        l.replaces ? ne(leave.fromOn, l.replaces) : undefined,
        sql`${leave.fromOn} <= ${l.toOn} and ${leave.toOn} >= ${l.fromOn}`,
      ),
    )
    .get();
  if (other)
    return refused({
      path: "fromOn",
      rule: "leave-overlap",
      value: `${l.fromOn} to ${l.toOn}`,
      message: `${member.name} is already away from ${other.fromOn} to ${other.toOn} (${other.reason}).`,
      remedy: "Change that leave, or choose days outside it.",
    });
  if (known) db.delete(leave).where(known).run();
  const { replaces, ...row } = l;
  db.insert(leave).values(row).run();
  addLogEntry(db, {
    at: who.at,
    userName: who.name,
    action: replaces ? "change leave" : "add leave",
    subject: `member:${l.memberCode}`,
    detail: { name: member.name, fromOn: l.fromOn, toOn: l.toOn, reason: l.reason, replaces },
  });
  return ok(null);
}

/**
 * The same leave for everybody of a crew, as when it is taken out for a time. Who is away already on some of its days
 * keeps that leave and gets this one around it; refused when all are away on all of them.
 */
export function setCrewLeave(
  db: Db,
  l: Omit<LeaveWanted, "memberCode" | "replaces"> & { crewCode: string },
  who: Who,
): Result<null> {
  const members = loadCrews(db).find((c) => c.code === l.crewCode)?.members ?? [];
  const first = members[0];
  if (!first) return refused(noMember(l.crewCode));
  const spells = members.flatMap((m) =>
    notAway(m, l.fromOn, l.toOn).map((part) => ({ ...part, memberCode: m.code, reason: l.reason })),
  );
  // All away, or days in the wrong order: the refusal is the one that a single leave gets.
  if (spells.length === 0)
    return setLeave(db, { memberCode: first.code, fromOn: l.fromOn, toOn: l.toOn, reason: l.reason }, who);
  for (const spell of spells) {
    const set = setLeave(db, spell, who);
    if (!set.ok) return set;
  }
  return ok(null);
}

const noLeave = (fromOn: CalendarDate): Problem => ({
  path: "fromOn",
  rule: "leave-unknown",
  value: fromOn,
  message: "There is no leave that begins on this day.",
  remedy: "Reload the page; somebody may have changed it.",
});

export function removeLeave(db: Db, l: { memberCode: string; fromOn: CalendarDate }, who: Who): Result<null> {
  const member = memberOf(db, l.memberCode);
  if (!member) return refused(noMember(l.memberCode));
  const here = and(eq(leave.memberCode, l.memberCode), eq(leave.fromOn, l.fromOn));
  const row = db.select().from(leave).where(here).get();
  if (!row) return refused(noLeave(l.fromOn));
  db.delete(leave).where(here).run();
  addLogEntry(db, {
    at: who.at,
    userName: who.name,
    action: "remove leave",
    subject: `member:${l.memberCode}`,
    detail: { name: member.name, fromOn: row.fromOn, toOn: row.toOn, reason: row.reason },
  });
  return ok(null);
}

export const isCrew = (db: Db, code: string): boolean =>
  db.select({ code: crew.code }).from(crew).where(eq(crew.code, code)).get() !== undefined;

/* The log */

export interface LogSearch {
  /** Any text in name, action, subject or detail; every word must occur. */
  words?: string;
  /** Actions whose words in the reader's language hold a word: who reads them searches for them. */
  actionsSaid?: (word: string) => readonly LogAction[];
  limit: number;
  offset?: number;
}

/** Log rows, newest first, and how many there are in all. */
export function searchLog(db: Db, { words = "", actionsSaid, limit, offset = 0 }: LogSearch) {
  const each = words
    .trim()
    .split(/\s+/)
    .filter(Boolean)
    .map((word) => {
      const pattern = `%${word.replace(/[\\%_]/g, "\\$&")}%`;
      const has = (column: SQLWrapper) => sql`${column} like ${pattern} escape '\\'`;
      const said = actionsSaid?.(word) ?? [];
      return or(
        has(logEntry.userName),
        has(logEntry.action),
        has(logEntry.subject),
        has(logEntry.detail),
        said.length > 0 ? inArray(logEntry.action, [...said]) : undefined,
      );
    });
  const where = and(...each);
  const rows = db
    .select()
    .from(logEntry)
    .where(where)
    .orderBy(desc(logEntry.at), desc(logEntry.id))
    .limit(limit)
    .offset(offset)
    .all();
  return { rows, count: db.select({ n: count() }).from(logEntry).where(where).get()?.n ?? 0 };
}

export type LogRow = typeof logEntry.$inferSelect;
