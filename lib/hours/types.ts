/** Tasks of a link end, who they need, and the schedule of one end. Durations in minutes. */
import type { Odu, Scheme, StructureKind } from "@/lib/site";
import type { WorkDrivers } from "@/lib/takeoff";
import type { WorkClass } from "@/lib/weather";
import type { DeratingPolicy } from "./derating";
import type { CrewLearning } from "./learning";

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
  /** Done at the foot of the structure, so never while the drop zone is in use. undefined = no. */
  atFoot?: boolean;
  /** Takes every person of the crew (induction, briefing, clean-up). undefined = no. */
  everybody?: boolean;
  /** Takes everyone who is aloft (climb, lift, descent). undefined = no. */
  wholeParty?: boolean;
  /** Part of the set-up that is paid once per crew, site and day. undefined = no. */
  isSetup?: boolean;
  /** Which ascent it belongs to, 1-based; undefined = not aloft. */
  ascent?: number;
  /** What it does to the people aloft: `climb` takes the party up, `descent` brings it down. */
  moves?: "climb" | "descent";
  source: string;
}

/** What one end asks of the hours estimate: the take-off's counts and the choices that pick templates. */
export interface EndWork {
  endId: string;
  scheme: Scheme;
  structure: StructureKind;
  drivers: WorkDrivers;
  mounting: Odu["mounting"];
  /** Extra tasks that the design asks for, by name, e.g. "change polarisation part". */
  extraTasks: readonly string[];
  largestDiameterM: number;
  heaviestLiftKg: number;
  /** A visit that does these parts only (returnVisits.ts); undefined = the whole install. */
  onlyParts?: readonly string[];
}

/** One end as the joint alignment visit sees it. */
export interface AlignmentEnd {
  structure: StructureKind;
  maxMountHeightM: number;
  largestDiameterM: number;
}

/** What a hop asks of its alignment visit. */
export interface HopWork {
  hopId: string;
  scheme: Scheme;
  near: AlignmentEnd;
  far: AlignmentEnd;
  /** One end by itself, the other end after it: `near` and `far` are both this end. undefined = both ends at once. */
  isOneEnd?: true;
  /** The acceptance readings are taken on another visit. undefined = with the alignment. */
  isAcceptedLater?: true;
}

/** Counts that a template may multiply: the take-off's, and its wraps told apart (compose.ts). */
export type HourDriver = keyof WorkDrivers | "connectorWraps" | "otherWraps";

/** A figure per unit of a driver, minutes. */
export interface PerDriver extends ThreePoint {
  driver: HourDriver;
}

/** When a template applies. All that are set must hold. */
export interface TemplateWhen {
  schemes?: readonly Scheme[];
  structures?: readonly StructureKind[];
  mountings?: readonly Odu["mounting"][];
  /** Are antenna and ODU assembled on the ground and hoisted as one? */
  groundAssembly?: boolean;
  lift?: "hand" | "winch";
  /** This driver is above zero. */
  above?: HourDriver;
  /** This driver is zero. */
  none?: HourDriver;
}

/** One row of norm data. Its tasks take `fixed + sum(per x driver)` minutes, shared over the repeats. */
export interface TaskTemplate {
  /** Stable key that other rows name in `after`. */
  part: string;
  name: string;
  where: EndTask["where"];
  workClass: WorkClass;
  people: EndTask["people"];
  /** Per task (per repeat), minutes. */
  fixed: ThreePoint;
  /** Per unit of the end's driver; a repeated part shares the units evenly. */
  per: readonly PerDriver[];
  when: TemplateWhen;
  /** One task per antenna, ODU or run. undefined = one task. */
  repeat?: "antenna" | "ODU" | "run";
  /** Parts that come before. A part that does not apply hands on its own `after`. */
  after: readonly string[];
  splittable: boolean;
  /** Parts with the same spell name end in one dry spell, repeat by repeat. */
  spell?: string;
  usesDropZone: boolean;
  atFoot?: boolean;
  everybody?: boolean;
  wholeParty?: boolean;
  isSetup?: boolean;
  source: string;
}

/** How people get up and down. Speeds m/min, heights m, times minutes. */
export interface ClimbModel {
  ascentMPerMin: Record<StructureKind, number>;
  descentMPerMin: Record<StructureKind, number>;
  /** Rest while climbing, per metre above this height. */
  restAboveM: number;
  restMinPerM: number;
  /** Harness, connectors, checks before each ascent. */
  kitUp: ThreePoint;
  /** On the ground between two ascents. */
  restBetween: ThreePoint;
  /** Longest time from leaving the ground to being back. */
  longestSpellMin: number;
  /** An ascent always leaves at least this much work aloft, however long the climb is. */
  minWorkPerAscentMin: number;
  /** Optimistic and pessimistic time as a share of the likely one. */
  optimisticShare: number;
  pessimisticShare: number;
  source: string;
}

/** Figures of the joint alignment visit. */
export interface AlignmentModel {
  /** Likely range up to `smallDiameterM` and from `largeDiameterM`; straight line between. */
  smallDiameterM: number;
  small: ThreePoint;
  largeDiameterM: number;
  large: ThreePoint;
  /** Factor for a scheme that aligns two paths (space diversity). */
  diversityFactor: number;
  /** Longest alignment visit, set-up and work, minutes: what takes longer is done in several (parts.ts). */
  longestVisitMin: number;
  source: string;
}

/** Everything the estimate reads besides the work and the crew. Plans record the version. */
export interface HourNorms {
  version: number;
  templates: readonly TaskTemplate[];
  alignmentTemplates: readonly TaskTemplate[];
  /** For a design's extra task that no template names. */
  extraTask: TaskTemplate;
  climb: ClimbModel;
  alignment: AlignmentModel;
  /** Up to this diameter, antenna and ODU go up as one (direct mounting). */
  groundAssemblyMaxM: number;
  /** From this lift a winch and a rigger, kg. */
  winchFromKg: number;
  /** Rescue-trained people on site while anyone is aloft. */
  rescuersOnSite: number;
  /** People at least while hoisting. */
  peopleWhileHoisting: number;
  /** Climbers aloft at least. */
  climbersAloft: number;
  /** How a crew gets faster with the ends of a scheme that it has done. Not in an estimate: it stretches a crew's own. */
  learning: CrewLearning;
  /** Rest that heat and cold ask for. Not in an estimate: it stretches the work of a day. */
  derating: DeratingPolicy;
}

/** Fewest people by skill with whom the tasks may be done at all. */
export interface CrewNeeds {
  climbers: number;
  rescuers: number;
  riggers: number;
  technicians: number;
  people: number;
}

/** A skill that the crew lacks: the estimate borrowed so many people. */
export interface CrewShortfall {
  skill: Skill;
  missing: number;
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
  /** Indices into CrewComposition.people; from its length on they are the people borrowed (EndEstimate.shortfall). */
  people: readonly number[];
  critical: boolean;
}

/** A stretch of an end's work that asks for one work class: what weather and the crew scheduler see. */
export interface WorkSegment {
  workClass: WorkClass;
  durationMin: number;
  /** May it pause at a shift end or a bad hour and go on later? */
  splittable: boolean;
  /** Minutes lost when it pauses and goes on later (down, kit-up, up again); undefined = none. */
  pauseMin?: number;
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
  /** Of work that takes several visits: the segments of each, its set-up first. Undefined = one visit. */
  parts?: readonly (readonly WorkSegment[])[];
  lowerBoundMin: number;
  proved: boolean;
  /** Idle person-minutes inside the make-span. */
  idleMin: number;
  /** Make-span with one more climber, minutes. */
  withOneMoreClimberMin: number;
  personHours: number;
  /** Part of the make-span that is set-up, paid once per crew, site and day. */
  setupMin: number;
  /** Fewest people by skill. */
  needs: CrewNeeds;
  /** Skills the crew lacks; the figures are those of a crew that has them. Empty = the crew suffices. */
  shortfall?: readonly CrewShortfall[];
  ascents?: number;
  /** Longest time from leaving the ground to being back. */
  longestSpellMin?: number;
  normsVersion?: number;
  /** Names the accepted factors in it (`estimateKey` of lib/calibration); undefined = made without any. */
  calibrationKey?: string;
}
