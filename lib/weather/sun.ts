/**
 * Sun rise, set and twilight by the NOAA algorithm (after J. Meeus, Astronomical Algorithms), iterated per event.
 * NOAA states about 1 minute within 72 degrees of latitude and 10 minutes beyond. Horizon and weather are ignored.
 */
import { type CalendarDate, dayNumber, instantAt } from "@/lib/time";

/** Zenith angles, degrees (V). */
export const ZENITH_RISE_SET = 90.833;
export const ZENITH_CIVIL = 96;

const DAY = 86_400_000;
const HOUR = 3_600_000;
const RAD = Math.PI / 180;

/** Declination, degrees, and equation of time, minutes, at an instant. */
export function sunAt(millis: number): { declinationDeg: number; equationMin: number } {
  const t = (millis / DAY + 2440587.5 - 2451545) / 36525; // Julian centuries since J2000
  const l0 = (280.46646 + t * (36000.76983 + 0.0003032 * t)) * RAD; // mean longitude
  const m = (357.52911 + t * (35999.05029 - 0.0001537 * t)) * RAD; // mean anomaly
  const e = 0.016708634 - t * (0.000042037 + 0.0000001267 * t); // eccentricity
  const centre =
    Math.sin(m) * (1.914602 - t * (0.004817 + 0.000014 * t)) +
    Math.sin(2 * m) * (0.019993 - 0.000101 * t) +
    Math.sin(3 * m) * 0.000289;
  const omega = (125.04 - 1934.136 * t) * RAD;
  const apparent = l0 + (centre - 0.00569 - 0.00478 * Math.sin(omega)) * RAD;
  const obliquity0 = 23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - 0.001813 * t))) / 60) / 60;
  const obliquity = (obliquity0 + 0.00256 * Math.cos(omega)) * RAD;
  const y = Math.tan(obliquity / 2) ** 2;
  const equation =
    y * Math.sin(2 * l0) -
    2 * e * Math.sin(m) +
    4 * e * y * Math.sin(m) * Math.cos(2 * l0) -
    0.5 * y * y * Math.sin(4 * l0) -
    1.25 * e * e * Math.sin(2 * m);
  return {
    declinationDeg: Math.asin(Math.sin(obliquity) * Math.sin(apparent)) / RAD,
    equationMin: (4 * equation) / RAD,
  };
}

/**
 * Declination and equation of time at each UTC midnight of a span, read by linear interpolation (within
 * 0.3 seconds of the direct formula). One table serves every site: the sun of 2,000 sites costs no more sines.
 */
export interface SolarTable {
  /** UTC day number of entry 0. */
  fromDay: number;
  declinationDeg: Float64Array;
  equationMin: Float64Array;
}

/** Covers `startsAtMillis` to `startsAtMillis + hours`, and two days more at both ends. */
export function solarTable(startsAtMillis: number, hours: number): SolarTable {
  const fromDay = Math.floor(startsAtMillis / DAY) - 2;
  const days = Math.ceil((startsAtMillis + hours * HOUR) / DAY) + 3 - fromDay;
  const table = {
    fromDay,
    declinationDeg: new Float64Array(days + 1),
    equationMin: new Float64Array(days + 1),
  };
  for (let i = 0; i <= days; i++) {
    const sun = sunAt((fromDay + i) * DAY);
    table.declinationDeg[i] = sun.declinationDeg;
    table.equationMin[i] = sun.equationMin;
  }
  return table;
}

function read(column: Float64Array, x: number): number {
  const i = Math.min(column.length - 2, Math.max(0, Math.floor(x)));
  return column[i]! + (column[i + 1]! - column[i]!) * (x - i);
}

const declinationRad = (sun: SolarTable, millis: number) =>
  read(sun.declinationDeg, millis / DAY - sun.fromDay) * RAD;

/** The sun's hour angle, degrees, -180 <= x < 180, 0 at transit. */
function hourAngleDeg(sun: SolarTable, millis: number, lonDeg: number): number {
  const minutes = (millis / 60_000) % 1440;
  return wrap180((minutes + read(sun.equationMin, millis / DAY - sun.fromDay)) / 4 + lonDeg - 180);
}

const wrap180 = (deg: number) => ((((deg + 180) % 360) + 360) % 360) - 180;

function altitudeDeg(sun: SolarTable, millis: number, latDeg: number, lonDeg: number): number {
  const d = declinationRad(sun, millis);
  const h = hourAngleDeg(sun, millis, lonDeg) * RAD;
  return (
    Math.asin(Math.sin(latDeg * RAD) * Math.sin(d) + Math.cos(latDeg * RAD) * Math.cos(d) * Math.cos(h)) / RAD
  );
}

/** The transit nearest to `millis`. */
function transitNear(sun: SolarTable, millis: number, lonDeg: number): number {
  let t = millis;
  for (let i = 0; i < 3; i++) {
    const aheadDeg = hourAngleDeg(sun, t, lonDeg);
    t -= aheadDeg * 240_000;
    if (Math.abs(aheadDeg) < CLOSE_DEG) break;
  }
  return t;
}

/** 0.1 second of the sun's way. */
const CLOSE_DEG = 0.0004;

/**
 * The instant at which the sun passes `zenithDeg` before (-1) or after (1) the transit, if it does.
 * @param guess where to begin looking, within half a day of the transit
 */
function crossing(
  sun: SolarTable,
  side: -1 | 1,
  zenithDeg: number,
  latDeg: number,
  lonDeg: number,
  guess: number,
): number | undefined {
  const sinLat = Math.sin(latDeg * RAD);
  const cosLat = Math.cos(latDeg * RAD);
  const cosZ = Math.cos(zenithDeg * RAD);
  let t = guess;
  let cosH = 0;
  for (let i = 0; i < 25; i++) {
    const d = declinationRad(sun, t);
    cosH = (cosZ - sinLat * Math.sin(d)) / (cosLat * Math.cos(d));
    const h = Math.acos(Math.min(1, Math.max(-1, cosH))) / RAD;
    const stepDeg = wrap180(side * h - hourAngleDeg(sun, t, lonDeg));
    t += stepDeg * 240_000;
    // Away from grazing the next step would be a hundredth of this one or less.
    if (Math.abs(stepDeg) < (Math.abs(cosH) < 0.95 ? 100 * CLOSE_DEG : CLOSE_DEG)) break;
  }
  return Math.abs(cosH) <= 1 ? t : undefined;
}

export interface SunTimes {
  /** Instants, epoch milliseconds. An event that does not happen in this solar day is undefined. */
  noon: number;
  rise?: number;
  set?: number;
  /** Begin and end of civil twilight. */
  dawn?: number;
  dusk?: number;
  /** The sun neither rises nor sets in this solar day, and why. */
  polar?: "day" | "night";
  /** It never gets darker than civil twilight, or never as light. */
  civilAllDay?: "light" | "dark";
}

/**
 * The sun of one solar day, around the transit nearest to noon.
 * @param zone the day is the calendar day of this zone; without it, of local mean solar time
 */
export function sunTimes(date: CalendarDate, latDeg: number, lonDeg: number, zone?: string): SunTimes {
  const noonGuess = zone ? instantAt(date, 720, zone) : dayNumber(date) * DAY + (720 - 4 * lonDeg) * 60_000;
  const sun = solarTable(noonGuess, 1);
  const noon = transitNear(sun, noonGuess, lonDeg);
  const rise = crossing(sun, -1, ZENITH_RISE_SET, latDeg, lonDeg, noon - 6 * HOUR);
  const set = crossing(sun, 1, ZENITH_RISE_SET, latDeg, lonDeg, noon + 6 * HOUR);
  const dawn = crossing(sun, -1, ZENITH_CIVIL, latDeg, lonDeg, noon - 6 * HOUR);
  const dusk = crossing(sun, 1, ZENITH_CIVIL, latDeg, lonDeg, noon + 6 * HOUR);
  const noonAltitude = altitudeDeg(sun, noon, latDeg, lonDeg);
  const times: SunTimes = { noon };
  if (rise !== undefined) times.rise = rise;
  if (set !== undefined) times.set = set;
  if (dawn !== undefined) times.dawn = dawn;
  if (dusk !== undefined) times.dusk = dusk;
  if (rise === undefined && set === undefined)
    times.polar = noonAltitude > 90 - ZENITH_RISE_SET ? "day" : "night";
  if (dawn === undefined && dusk === undefined)
    times.civilAllDay = noonAltitude > 90 - ZENITH_CIVIL ? "light" : "dark";
  return times;
}

export interface DaylightRule {
  zenithDeg: number;
  /** Taken off after dawn and before dusk, minutes. */
  marginMin: number;
}

/**
 * 1 for each hour that lies in daylight from its first to its last moment, margins taken off.
 * @param sun a table that covers the span; one serves all sites of a series
 */
export function daylightMask(
  startsAtMillis: number,
  hours: number,
  latDeg: number,
  lonDeg: number,
  rule: DaylightRule,
  sun = solarTable(startsAtMillis, hours),
): Uint8Array {
  const mask = new Uint8Array(hours);
  const margin = rule.marginMin * 60_000;
  let halfDay = 6 * HOUR;
  let lastHalf = halfDay;
  let from = 0;
  let to = Number.NEGATIVE_INFINITY;
  const close = () => {
    const first = Math.max(0, Math.ceil((from + margin - startsAtMillis) / HOUR));
    const end = Math.min(hours, Math.floor((to - margin - startsAtMillis) / HOUR));
    if (end > first) mask.fill(1, first, end);
  };
  const endsAt = startsAtMillis + hours * HOUR;
  const firstNoon = (Math.floor(startsAtMillis / DAY) - 1) * DAY + (720 - 4 * lonDeg) * 60_000;
  for (let guess = firstNoon; guess < endsAt + DAY; guess += DAY) {
    const noon = transitNear(sun, guess, lonDeg);
    const dawn = crossing(sun, -1, rule.zenithDeg, latDeg, lonDeg, noon - halfDay);
    const dusk = crossing(sun, 1, rule.zenithDeg, latDeg, lonDeg, noon + halfDay);
    // the next half day is guessed from the last two: half days change slowly
    const half = dusk === undefined ? 6 * HOUR : dusk - noon;
    halfDay = half + Math.max(-600_000, Math.min(600_000, half - lastHalf));
    lastHalf = half;
    const isUpAtNoon = altitudeDeg(sun, noon, latDeg, lonDeg) > 90 - rule.zenithDeg;
    if (!isUpAtNoon) continue;
    const lightFrom = dawn ?? noon - 12 * HOUR;
    const lightTo = dusk ?? noon + 12 * HOUR;
    if (lightFrom - to <= 120_000) {
      to = lightTo; // no night between the two days (solar days differ from 24 h by half a minute at most)
      continue;
    }
    if (to > from) close();
    from = lightFrom;
    to = lightTo;
  }
  if (to > from) close();
  return mask;
}
