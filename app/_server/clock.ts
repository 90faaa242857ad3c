/**
 * What time the programme takes it to be. Everything that plans, promises or books asks here; only jobs, sessions
 * and sign-ins use the machine's own time, because they measure the machine.
 *
 * - `BOTHENDS_NOW` (an ISO instant) stops the clock there: tests and screenshots.
 * - Demonstration data are made for one day. The clock may run on for the week that starts on that day; after it,
 *   whole weeks are taken off, so that weekday and time of day stay true and the plan on show never goes stale.
 * - Otherwise: the machine's time.
 */
import { OWN_LANGUAGE } from "@/app/_ui/language/languages";
import { makeWords, type Words } from "@/app/_ui/language/words";
import { type Db, database } from "@/db/open";
import { readSetting } from "@/db/queries/settings";
import { type CalendarDate, type InstantMillis, instantAt, localOf } from "@/lib/time";

const WEEK_MILLIS = 7 * 86_400_000;

/** The machine's time. */
export function machineNow(): InstantMillis {
  return Date.now() as InstantMillis;
}

/** `BOTHENDS_NOW` as an instant; undefined when unset. Throws RangeError when it cannot be read. */
function stoppedAt(): InstantMillis | undefined {
  const text = process.env.BOTHENDS_NOW;
  if (!text) return undefined;
  const millis = Date.parse(text);
  if (Number.isNaN(millis)) throw new RangeError(`BOTHENDS_NOW must be an ISO instant, got ${text}`);
  return millis as InstantMillis;
}

/** Whole weeks by which the demonstration's clock runs behind `real`; 0 without demonstration data. */
export function demoWeeksBehind(
  demo: { loadedOn: CalendarDate; zone: string } | undefined,
  real: InstantMillis,
): number {
  if (!demo) return 0;
  return Math.max(0, Math.floor((real - instantAt(demo.loadedOn, 0, demo.zone)) / WEEK_MILLIS));
}

function demoOf(db: Db): { loadedOn: CalendarDate; zone: string } | undefined {
  const loadedOn = readSetting(db, "demoLoadedOn");
  return loadedOn && { loadedOn, zone: readSetting(db, "demoZone") ?? "UTC" };
}

/** The programme's present moment, epoch milliseconds. */
export function nowMillis(db: Db = database()): InstantMillis {
  const stopped = stoppedAt();
  if (stopped !== undefined) return stopped;
  const real = machineNow();
  return (real - demoWeeksBehind(demoOf(db), real) * WEEK_MILLIS) as InstantMillis;
}

/**
 * A moment of the machine's or a phone's clock as the programme's clock had it, so that what is shown beside other
 * dates has the same calendar. A stopped clock has seen nothing later than where it stands.
 */
export function onProgrammeClock(at: number, db: Db = database()): InstantMillis {
  const stopped = stoppedAt();
  if (stopped !== undefined) return Math.min(at, stopped) as InstantMillis;
  const moment = at as InstantMillis;
  return (moment - demoWeeksBehind(demoOf(db), moment) * WEEK_MILLIS) as InstantMillis;
}

/** Zone in which the installation means "today". */
export function homeZone(db: Db = database()): string {
  return readSetting(db, "homeZone") ?? readSetting(db, "demoZone") ?? "UTC";
}

/** The installation's present date. */
export function homeToday(db: Db = database()): CalendarDate {
  return today(homeZone(db), db);
}

/** The programme's present date in `zone`. */
export function today(zone: string, db: Db = database()): CalendarDate {
  return localOf(nowMillis(db), zone).date;
}

function longDate(date: CalendarDate, locale: string): string {
  const noon = new Date(`${date}T12:00:00Z`);
  const say = (parts: Intl.DateTimeFormatOptions) =>
    noon.toLocaleDateString(locale, { ...parts, timeZone: "UTC" });
  // Put together by hand: Node's versions disagree on the comma after the weekday.
  return `${say({ weekday: "long" })} ${say({ day: "numeric", month: "long", year: "numeric" })}`;
}

const ENGLISH = makeWords(OWN_LANGUAGE, {});

/**
 * What the banner says about the demonstration: that these data are invented, and, when the clock runs behind the
 * calendar, which day it is taken to be. Undefined when the data are the user's own.
 */
export function demoClockNote(
  db: Db = database(),
  { t, locale }: Pick<Words, "t" | "locale"> = ENGLISH,
): string | undefined {
  const demo = demoOf(db);
  if (!demo) return undefined;
  const invented = t("Demonstration with invented data, made for {{day}}.", {
    day: longDate(demo.loadedOn, locale),
  });
  const day = longDate(today(demo.zone, db), locale);
  if (stoppedAt() !== undefined)
    return `${invented} ${t("The clock is stopped: today counts as {{day}}.", { day })}`;
  if (demoWeeksBehind(demo, machineNow()) === 0) return invented;
  return `${invented} ${t("The clock is held in the week after it: today counts as {{day}}.", { day })}`;
}
