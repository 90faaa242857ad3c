/** Single values of the installation. One name per value, its type beside it; unset reads as undefined. */
import { eq } from "drizzle-orm";
import type { Db } from "@/db/open";
import { setting } from "@/db/schema";
import type { Outline } from "@/lib/map";
import type { CalendarDate } from "@/lib/time";

export interface Settings {
  /** The day for which the demonstration data were made; unset when the data are the user's own. */
  demoLoadedOn: CalendarDate;
  /** IANA zone in which `demoLoadedOn` is a date. */
  demoZone: string;
  /** IANA zone in which the installation means "today"; the demonstration uses `demoZone`. */
  homeZone: string;
  /** The demonstration's one password, for the sign-in page to show. */
  demoPassword: string;
  /** Sign-in names that it opens: those that came with the demonstration. */
  demoAccounts: readonly string[];
  /** Whether anybody has changed anything since the demonstration data were loaded. */
  demoTouched: boolean;
  /** SHA-256 (hex) of the one-time token that /setup asks for; removed once it was used. */
  setupTokenHash: string;
  /** Who orders: what a supplier reads on an order. Unset = the order names nobody. */
  buyer: Buyer;
  /** What the map draws under sites and hops. */
  mapOutlines: MapOutlines;
  /** A server of map pictures; unset = none is asked. */
  mapTiles: MapTiles;
}

export interface Buyer {
  name: string;
  /** Lines of the address, as they are written. */
  address: string;
  /** Whom to ask: a name, a telephone, an address for mail. */
  contact: string;
}

export interface MapOutlines {
  /** Whose they are, shown on the map: a source, or that they are made up. */
  label: string;
  /** Rises with every change: browsers keep what they have of one version. */
  version: number;
  outlines: readonly Outline[];
}

export interface MapTiles {
  /** With {z}, {x} and {y}; checked by parseTileTemplate. */
  template: string;
  /** What the server's owner wants to be named by. */
  attribution: string;
}

export function readSetting<K extends keyof Settings>(db: Db, key: K): Settings[K] | undefined {
  const row = db.select({ value: setting.value }).from(setting).where(eq(setting.key, key)).get();
  return row?.value as Settings[K] | undefined;
}

export function writeSetting<K extends keyof Settings>(db: Db, key: K, value: Settings[K]): void {
  db.insert(setting).values({ key, value }).onConflictDoUpdate({ target: setting.key, set: { value } }).run();
}

export function removeSetting(db: Db, key: keyof Settings): void {
  db.delete(setting).where(eq(setting.key, key)).run();
}
