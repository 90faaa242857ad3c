/** How long a crew takes for a visit's work, against the norm. */
import type { PlanCrew, PlanVisit, ScheduleProblem } from "./types";

/** Factor of a crew on the durations of a visit's work. */
export function crewPace(crew: PlanCrew, visit: Pick<PlanVisit, "paceKind">): number {
  return crew.pace * (crew.paceByKind?.[visit.paceKind ?? 0] ?? 1);
}

/** Factors as the model reads them: crew * paceKinds + kind of the visit. */
export interface Paces {
  pace: Float64Array;
  paceKinds: number;
  /** Per visit. */
  paceKind: Int32Array;
}

export function paces({ crews, visits }: Pick<ScheduleProblem, "crews" | "visits">): Paces {
  const paceKind = Int32Array.from(visits, (v) => v.paceKind ?? 0);
  const paceKinds = paceKind.reduce((most, kind) => Math.max(most, kind + 1), 1);
  const pace = Float64Array.from({ length: crews.length * paceKinds }, (_, i) =>
    crewPace(crews[Math.floor(i / paceKinds)]!, { paceKind: i % paceKinds }),
  );
  return { pace, paceKinds, paceKind };
}

export const paceOf = (m: Paces, crew: number, visit: number): number =>
  m.pace[crew * m.paceKinds + m.paceKind[visit]!]!;
