/** Tasks of a link end, who they need, and the schedule of one end. Durations in minutes. */
import type { WorkClass } from "@/lib/weather";

export type Skill = "climber" | "rescue" | "ground" | "rigger" | "technician";
export const SKILLS: readonly Skill[] = ["climber", "rescue", "ground", "rigger", "technician"];

export interface ThreePoint {
  /** Optimistic, most likely, pessimistic. */
  aMin: number;
  mMin: number;
  bMin: number;
}

/** One task of an end, already multiplied by its drivers. */
export interface EndTask {
  id: string;
  name: string;
  where: "aloft" | "ground" | "indoor" | "both ends";
  workClass: WorkClass;
  /** People by skill, all at once for the whole task. */
  people: Partial<Record<Skill, number>>;
  duration: ThreePoint;
  /** Ids of tasks that must end before this starts. */
  after: readonly string[];
  splittable: boolean;
  /** Id of a group that must end in the same dry spell (connect + weatherproof). */
  spell?: string;
  /** Occupies the drop zone: no ground outdoor task at the foot at the same time. */
  usesDropZone: boolean;
  source: string;
}

/** A crew as the end schedule sees it. One person may hold several skills. */
export interface CrewComposition {
  /** Each entry: the skills of one person. */
  people: readonly (readonly Skill[])[];
}

export interface ScheduledTask {
  taskId: string;
  startMin: number;
  endMin: number;
  /** Indices into CrewComposition.people. */
  people: readonly number[];
  critical: boolean;
}

/** A stretch of an end's work that asks for one work class: what weather and the crew scheduler see. */
export interface WorkSegment {
  workClass: WorkClass;
  durationMin: number;
  /** May it pause at a shift end or a bad hour and go on later? */
  splittable: boolean;
}

export interface EndEstimate {
  endId: string;
  /** Make-span on one crew with no weather and no shift ends, PERT mean, minutes. */
  durationMin: number;
  p10Min: number;
  p50Min: number;
  p80Min: number;
  p90Min: number;
  sequence: readonly ScheduledTask[];
  tasks: readonly EndTask[];
  segments: readonly WorkSegment[];
  lowerBoundMin: number;
  proved: boolean;
  /** Idle person-minutes inside the make-span. */
  idleMin: number;
  /** Make-span with one more climber, minutes. */
  withOneMoreClimberMin: number;
  personHours: number;
}
