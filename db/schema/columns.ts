/** Column kinds that every table shares, so that a date, an instant and a yes/no are stored one way only. */
import { integer, text } from "drizzle-orm/sqlite-core";
import type { InstantMillis } from "@/lib/time";

/** Primary key: an opaque text id. The caller makes it, so that demo data and tests get the same ids each time. */
export const id = () => text().primaryKey();

/** A moment, epoch milliseconds in UTC. The caller passes it: the database has no clock. */
export const instant = () => integer().$type<InstantMillis>();

/** Yes or no, stored 1 or 0. */
export const yesNo = () => integer({ mode: "boolean" });

/** A JSON value; the type is a promise of the code that writes it. */
export const json = <T>() => text({ mode: "json" }).$type<T>();

/** One word out of a closed list. */
export const oneOf = <const T extends readonly [string, ...string[]]>(words: T) => text({ enum: words });
