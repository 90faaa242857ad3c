/** Weather places and series: one block per place and year or forecast issue, never a row an hour. */
import { sql } from "drizzle-orm";
import { blob, check, integer, primaryKey, real, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { WeatherSeries } from "@/lib/weather";

export const weatherPlace = sqliteTable("weather_place", {
  code: text("code").primaryKey(),
  name: text("name").notNull(),
  latDeg: real("lat_deg").notNull(),
  lonDeg: real("lon_deg").notNull(),
  elevationM: real("elevation_m").notNull(),
});

export const weatherBlock = sqliteTable(
  "weather_block",
  {
    placeCode: text("place_code")
      .notNull()
      .references(() => weatherPlace.code, { onUpdate: "cascade", onDelete: "cascade" }),
    kind: text("kind").$type<WeatherSeries["kind"]>().notNull(),
    /** UTC milliseconds; 0 for history. */
    issuedAt: integer("issued_at").notNull(),
    startsAt: integer("starts_at").notNull(),
    hours: integer("hours").notNull(),
    source: text("source").notNull(),
    isMadeUp: integer("is_made_up", { mode: "boolean" }).notNull(),
    payload: blob("payload", { mode: "buffer" }).notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.placeCode, t.kind, t.issuedAt, t.startsAt] }),
    check("weather_kind", sql`${t.kind} IN ('forecast','history','member')`),
    check("weather_hours", sql`${t.hours} > 0`),
  ],
);

/** What past years say of each date for work under the same weather: worked out once, read by every later plan. */
export const pastWeather = sqliteTable("past_weather", {
  /** Digest of everything it rests on: history, site profile, work, limits, shifts. */
  key: text("key").primaryKey(),
  /** 366 numbers of 32 bits each: stretch, then minutes of risk an hour of work; then 366 counts of 16 bits. */
  body: blob("body", { mode: "buffer" }).notNull(),
});
