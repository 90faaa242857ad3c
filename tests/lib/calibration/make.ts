/** Finished visits of a known truth, made from a seed. */
import { type ActualVisit, type HourCalibration, NO_CALIBRATION } from "@/lib/calibration";
import type { Random } from "@/lib/random";
import { SCHEMES } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

/** What each crew really takes of the norm's minutes. */
export const TRUE_BIAS: Readonly<Record<string, number>> = { C1: 0.9, C2: 1.05, C3: 1.3, C4: 1.5, C5: 1.15 };

/** The factors of somebody who knows the truth. */
export function truth(): HourCalibration {
  const crews = Object.entries(TRUE_BIAS).map(([crew, factor]) => [crew, { factor, actuals: 40 }] as const);
  return { ...NO_CALIBRATION, crews: Object.fromEntries(crews) };
}

export function visitOf(overrides: Partial<ActualVisit> = {}): ActualVisit {
  return {
    visitId: "H-1/near/install",
    hopCode: "H-1",
    side: "near",
    kind: "install",
    scheme: "1+0",
    crewCode: "C1",
    workedOn: "2026-03-02" as CalendarDate,
    workedMin: 360,
    setupMin: 60,
    workMin: 300,
    p10Min: 280,
    p50Min: 300,
    p90Min: 320,
    ...overrides,
  };
}

/** Installs dealt to the crews in turn, two ends a hop; the noise is that of the logarithm. */
export function madeVisits(
  random: Random,
  count: number,
  noiseSd: number,
  bias: Readonly<Record<string, number>> = TRUE_BIAS,
): ActualVisit[] {
  const crews = Object.keys(bias);
  return Array.from({ length: count }, (_, i) => {
    const crewCode = crews[i % crews.length]!;
    const workMin = random.between(200, 700);
    const setupMin = random.between(45, 75);
    const hopCode = `H-${Math.floor(i / 2)}`;
    const side = i % 2 === 0 ? "near" : "far";
    return visitOf({
      visitId: `${hopCode}/${side}/install`,
      hopCode,
      side,
      crewCode,
      scheme: SCHEMES[Math.floor(i / crews.length) % SCHEMES.length]!,
      setupMin,
      workMin,
      p10Min: 0.93 * workMin,
      p50Min: workMin,
      p90Min: 1.07 * workMin,
      workedMin: setupMin + workMin * bias[crewCode]! * Math.exp(noiseSd * random.normal()),
    });
  });
}
