/**
 * Reads home care cases (JSON of Ceschia, Di Gaspero, Rosati and Schaerf 2024, after Mankowska, Meisel and Bierwirth
 * 2014): patients, services, caregivers with abilities, distances. Unit: a thousandth of the case's own, in which the
 * published distances are whole.
 */
import type { JointCase } from "@/lib/schedule";

export const SCALE = 1000;

interface HomeCareFile {
  patients: {
    id: string;
    time_window: [number, number];
    required_caregivers: { service: string; duration: number }[];
    synchronization?: { type: "simultaneous" | "sequential"; distance?: [number, number] };
  }[];
  caregivers: { id: string; abilities: string[] }[];
  distances: number[][];
}

export interface HomeCare {
  problem: JointCase;
  patients: string[];
  carers: string[];
  services: string[][];
}

/** Row 0 of the distances is the office, row i + 1 patient i. */
export function parseHomeCare(name: string, text: string): HomeCare {
  const file = JSON.parse(text) as HomeCareFile;
  const scaled = (x: number) => Math.round(SCALE * x);
  const able = (service: string) =>
    file.caregivers.flatMap((carer, k) => (carer.abilities.includes(service) ? [k] : []));
  const visits = file.patients.map((patient, i) => {
    const parts = patient.required_caregivers.map(({ service, duration }) => ({
      duration: scaled(duration),
      crews: able(service),
    }));
    const [least, most] = patient.synchronization?.distance ?? [0, 0];
    return {
      place: i + 1,
      ready: scaled(patient.time_window[0]),
      due: scaled(patient.time_window[1]),
      parts: parts as unknown as JointCase["visits"][number]["parts"],
      gap: { least: scaled(least), most: scaled(most) },
    };
  });
  return {
    problem: {
      name,
      crews: file.caregivers.length,
      places: file.distances.length,
      distance: Float64Array.from(file.distances.flat(), scaled),
      visits,
    },
    patients: file.patients.map((p) => p.id),
    carers: file.caregivers.map((c) => c.id),
    services: file.patients.map((p) => p.required_caregivers.map((r) => r.service)),
  };
}
