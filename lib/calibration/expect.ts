/** What the estimate says of a finished visit under given factors. */
import { normalQuantile } from "@/lib/hours";
import type { ActualVisit, HourCalibration, WorkBand } from "./types";

/** Standard normal quantile of 90 %: P10 and P90 lie so many standard deviations from P50. */
export const Z90 = normalQuantile(0.9);

export interface Expected {
  meanMin: number;
  p10Min: number;
  p90Min: number;
}

type OfVisit = Pick<ActualVisit, "kind" | "crewCode" | "scheme">;

/** The factor on a visit's work after the set-up: its kind's, its crew's and its crew's with the scheme. */
export function visitFactor(visit: OfVisit, c: HourCalibration): number {
  return (c.work[visit.kind]?.factor ?? 1) * crewFactor(visit, c);
}

/** The part of the factor that depends on who does it. */
export function crewFactor({ crewCode, scheme }: Omit<OfVisit, "kind">, c: HourCalibration): number {
  return (c.crews[crewCode]?.factor ?? 1) * (c.crewSchemes[crewCode]?.[scheme]?.factor ?? 1);
}

export function expectedOf(visit: ActualVisit, calibration: HourCalibration): Expected {
  const factor = visitFactor(visit, calibration);
  const band = bandOf(visit, calibration.spread?.logSd);
  const onSite = (workMin: number) => visit.setupMin + factor * workMin;
  return { meanMin: onSite(visit.workMin), p10Min: onSite(band.p10Min), p90Min: onSite(band.p90Min) };
}

/**
 * P10 to P90 around P50: as the actuals spread, or as the tasks' own ranges give it while no spread was accepted. The
 * tasks' ranges know nothing of a bad day that slows every task, so the accepted spread takes their place.
 */
export function bandOf(work: WorkBand, logSd: number | undefined): WorkBand {
  if (logSd === undefined) return work;
  const stretch = Math.exp(Z90 * logSd);
  return { p10Min: work.p50Min / stretch, p50Min: work.p50Min, p90Min: work.p50Min * stretch };
}
