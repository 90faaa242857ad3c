/** What lies behind each hour of a series: dry hours, hours without thunder. Read once, used by every site. */
import { type DaylightRule, daylightMask, type SolarTable, solarTable } from "./sun";
import type { WeatherSeries } from "./types";

/** Counts stop here; no limit asks for more than ten days. */
export const BEHIND_CAP_H = 250;

export interface Behind {
  /** Hours without the event straight before the hour, known to be so, at most BEHIND_CAP_H. */
  hours: Uint8Array;
  /** 1 where the count ends at a gap or at the start of the series: what lies further back is unknown. */
  isUnknown: Uint8Array;
}

/**
 * What the sites of one place share. The daylight asked for last is remembered: profiles rounded to their place
 * (bands.ts) all ask for the same.
 */
export interface PreparedSeries {
  dry: Behind;
  calm: Behind;
  sun: SolarTable;
  lastLight?: { latDeg: number; lonDeg: number; rule: DaylightRule; mask: Uint8Array };
}

/** `daylightMask` over the series, read again when the same place and rule ask. */
export function lightOver(
  series: Pick<WeatherSeries, "startsAtMillis" | "hours">,
  prepared: PreparedSeries,
  latDeg: number,
  lonDeg: number,
  rule: DaylightRule,
): Uint8Array {
  const last = prepared.lastLight;
  if (
    last &&
    last.latDeg === latDeg &&
    last.lonDeg === lonDeg &&
    last.rule.zenithDeg === rule.zenithDeg &&
    last.rule.marginMin === rule.marginMin
  ) {
    return last.mask;
  }
  const mask = daylightMask(series.startsAtMillis, series.hours, latDeg, lonDeg, rule, prepared.sun);
  prepared.lastLight = { latDeg, lonDeg, rule, mask };
  return mask;
}

export function prepareSeries(series: WeatherSeries): PreparedSeries {
  return {
    dry: behind(series.rainMmH),
    calm: behind(series.thunder),
    sun: solarTable(series.startsAtMillis, series.hours),
  };
}

/** Counts hours whose value is 0 backwards from each hour; a value over 0 is the event, NaN is not known. */
function behind(values: Float32Array): Behind {
  const hours = new Uint8Array(values.length);
  const isUnknown = new Uint8Array(values.length);
  let count = 0;
  let unknown = 1; // nothing is known of the time before the series
  for (let h = 0; h < values.length; h++) {
    hours[h] = count;
    isUnknown[h] = unknown;
    const v = values[h]!;
    if (v === 0) {
      if (count < BEHIND_CAP_H) count++;
    } else {
      count = 0;
      unknown = Number.isNaN(v) ? 1 : 0;
    }
  }
  return { hours, isUnknown };
}
