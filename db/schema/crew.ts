/** Crews, their members, what they may do and until when, and when they are away. */
import { sql } from "drizzle-orm";
import {
  type AnySQLiteColumn,
  check,
  index,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
} from "drizzle-orm/sqlite-core";
import type { Skill } from "@/lib/hours";
import type { CalendarDate, InstantMillis } from "@/lib/time";
import { json } from "./columns";
import { place } from "./place";

export const crew = sqliteTable(
  "crew",
  {
    code: text("code").primaryKey(),
    name: text("name").notNull(),
    depotPlace: text("depot_place")
      .notNull()
      .references(() => place.code, { onUpdate: "cascade", onDelete: "restrict" }),
    /** Place of the vehicle that the crew's kits are loaded into; null until somebody names it. */
    vehiclePlace: text("vehicle_place").references((): AnySQLiteColumn => place.code, {
      onUpdate: "cascade",
      onDelete: "set null",
    }),
    zone: text("zone").notNull(),
    /** ISO weekdays worked, as digits. */
    weekdays: text("weekdays").notNull(),
    shiftFromMin: integer("shift_from_min").notNull(),
    shiftToMin: integer("shift_to_min").notNull(),
    overtimeMaxMin: integer("overtime_max_min").notNull(),
    weeklyMaxMin: integer("weekly_max_min").notNull(),
    restMin: integer("rest_min").notNull(),
    nightsAwayMax: integer("nights_away_max").notNull(),
    payloadKg: real("payload_kg").notNull(),
    /** Factor on durations, 1 = norm. */
    pace: real("pace").notNull(),
  },
  (t) => [
    check("crew_weekdays", sql`${t.weekdays} <> '' AND ${t.weekdays} NOT GLOB '*[^1-7]*'`),
    check(
      "crew_shift",
      sql`${t.shiftFromMin} >= 0 AND ${t.shiftToMin} <= 1440 AND ${t.shiftFromMin} < ${t.shiftToMin}`,
    ),
    check(
      "crew_limits",
      sql`${t.overtimeMaxMin} >= 0 AND ${t.weeklyMaxMin} > 0 AND ${t.restMin} >= 0 AND ${t.nightsAwayMax} >= 0`,
    ),
    check("crew_payload", sql`${t.payloadKg} > 0 AND ${t.pace} > 0`),
  ],
);

export const crewMember = sqliteTable(
  "crew_member",
  {
    code: text("code").primaryKey(),
    crewCode: text("crew_code")
      .notNull()
      .references(() => crew.code, { onUpdate: "cascade", onDelete: "cascade" }),
    name: text("name").notNull(),
    isLead: integer("is_lead", { mode: "boolean" }).notNull(),
  },
  (t) => [index("crew_member_crew").on(t.crewCode)],
);

export const memberSkill = sqliteTable(
  "member_skill",
  {
    memberCode: text("member_code")
      .notNull()
      .references(() => crewMember.code, { onUpdate: "cascade", onDelete: "cascade" }),
    skill: text("skill").$type<Skill>().notNull(),
    /** Last day on which the certificate is valid; null = does not expire. */
    validUntil: text("valid_until").$type<CalendarDate>(),
  },
  (t) => [
    primaryKey({ columns: [t.memberCode, t.skill] }),
    check("member_skill_kind", sql`${t.skill} IN ('climber','rescue','ground','rigger','technician')`),
  ],
);

export const leave = sqliteTable(
  "leave",
  {
    memberCode: text("member_code")
      .notNull()
      .references(() => crewMember.code, { onUpdate: "cascade", onDelete: "cascade" }),
    fromOn: text("from_on").$type<CalendarDate>().notNull(),
    toOn: text("to_on").$type<CalendarDate>().notNull(),
    reason: text("reason").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.memberCode, t.fromOn] }),
    check("leave_order", sql`${t.fromOn} <= ${t.toOn}`),
  ],
);

/** The secret address under which calendar programs read a crew's visits; one at a time, gone when it is revoked. */
export const crewCalendar = sqliteTable("crew_calendar", {
  crewCode: text("crew_code")
    .primaryKey()
    .references(() => crew.code, { onUpdate: "cascade", onDelete: "cascade" }),
  /** SHA-256 of the secret, hexadecimal: who reads the database cannot read the calendar. */
  secretHash: text("secret_hash").notNull(),
  madeBy: text("made_by").notNull(),
  madeAt: integer("made_at").$type<InstantMillis>().notNull(),
});

/** What a crew's people take for the ends that crews are compared on: worked out once, read by pages and later plans. */
export const paceMinutes = sqliteTable("pace_minutes", {
  /** Digest of everything it rests on: people, norms, accepted factor. */
  key: text("key").primaryKey(),
  /** By end of the yardstick. */
  minutes: json<readonly number[]>().notNull(),
});
