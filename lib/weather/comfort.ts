/** How cold or hot it feels, and the temperature at the site's elevation. */

const toF = (c: number) => c * 1.8 + 32;
const toC = (f: number) => (f - 32) / 1.8;

/**
 * Wind chill, degF (NWS / Environment Canada 2001, V).
 * Outside its range (T > 50 degF or V <= 3 mph) it is the air temperature.
 */
export function windChillF(tempF: number, windMph: number): number {
  if (tempF > 50 || windMph <= 3) return tempF;
  const k = windMph ** 0.16;
  return 35.74 + 0.6215 * tempF - 35.75 * k + 0.4275 * tempF * k;
}

/**
 * Wind chill, degC, from the wind in m/s (same source, metric form: V in km/h; limits M).
 * Outside its range (T > 10 degC or V <= 4.8 km/h) it is the air temperature.
 */
export function windChillC(tempC: number, windMs: number): number {
  const kmh = windMs * 3.6;
  if (tempC > 10 || kmh <= 4.8) return tempC;
  const k = kmh ** 0.16;
  return 13.12 + 0.6215 * tempC - 11.37 * k + 0.3965 * tempC * k;
}

/**
 * Heat index, degF (Rothfusz 1990, SR 90-23, with the two NWS adjustments, V).
 *
 * The simple formula is reported while its mean with the air temperature stays under 80 degF; the source uses
 * that mean for the switch and does not say which of the two it reports below it: reporting the simple
 * formula is our choice.
 */
export function heatIndexF(tempF: number, humidityPct: number): number {
  const t = tempF;
  const r = humidityPct;
  const simple = 0.5 * (t + 61 + 1.2 * (t - 68) + 0.094 * r);
  if ((simple + t) / 2 < 80) return simple;
  const regression =
    -42.379 +
    2.04901523 * t +
    10.14333127 * r -
    0.22475541 * t * r -
    0.00683783 * t * t -
    0.05481717 * r * r +
    0.00122874 * t * t * r +
    0.00085282 * t * r * r -
    0.00000199 * t * t * r * r;
  if (r < 13 && t >= 80 && t <= 112) {
    return regression - ((13 - r) / 4) * Math.sqrt((17 - Math.abs(t - 95)) / 17);
  }
  if (r > 85 && t >= 80 && t <= 87) return regression + ((r - 85) / 10) * ((87 - t) / 5);
  return regression;
}

/** Heat index, degC. */
export function heatIndexC(tempC: number, humidityPct: number): number {
  return toC(heatIndexF(toF(tempC), humidityPct));
}

/** Air temperature at the site, degC, from that of a place at another elevation. */
export function temperatureAtSite(
  tempC: number,
  elevationM: number,
  placeElevationM: number,
  lapseRateKPerKm: number,
): number {
  return tempC + (lapseRateKPerKm * (elevationM - placeElevationM)) / 1000;
}

/** Warmest air temperature, degC, at which some wind up to 400 km/h still chills to `limitC`. */
export function chillReachC(limitC: number): number {
  const k = 400 ** 0.16;
  return Math.min(10, (limitC - 13.12 + 11.37 * k) / (0.6215 + 0.3965 * k));
}

/** An air temperature, degC, under which no humidity brings the heat index over `limitC`. */
export function heatReachC(limitC: number): number {
  const hottest = (t: number) => {
    let max = Number.NEGATIVE_INFINITY;
    for (let r = 0; r <= 100; r += 10) max = Math.max(max, heatIndexC(t, r));
    return max;
  };
  let lo = 0;
  let hi = 60;
  if (hottest(lo) > limitC) return Number.NEGATIVE_INFINITY;
  while (hi - lo > 0.1) {
    const mid = (lo + hi) / 2;
    if (hottest(mid) > limitC) hi = mid;
    else lo = mid;
  }
  return lo - 1; // the steps of humidity are 10 % wide: one degree is more than they can hide
}
