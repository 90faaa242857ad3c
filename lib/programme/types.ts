/** Everything a plan is made from, and everything that follows from it. Plain data: crosses process borders. */

import type { Remedy } from "@/lib/acceptance";
import type { HourCalibration } from "@/lib/calibration";
import type { CutPolicy, DrumOnHand, ListedCut, RunWanted } from "@/lib/drums";
import type { EndEstimate, HourNorms, Skill, WorkSegment } from "@/lib/hours";
import type { PlanVisit, PlanWeights } from "@/lib/schedule";
import type { CatalogueItem, EndSide, Hop, Scheme, Site } from "@/lib/site";
import type { LotRule, SpareDemand, StockPolicy } from "@/lib/stock";
import type { TakeoffPolicy, TakeoffRule } from "@/lib/takeoff";
import type { CalendarDate, Weekday } from "@/lib/time";
import type { WeatherPolicy, WeatherSeries } from "@/lib/weather";

export interface CrewMember {
  code: string;
  name: string;
  isLead: boolean;
  /** `validUntil` is the last day of validity; undefined = does not expire. */
  skills: readonly { skill: Skill; validUntil?: CalendarDate }[];
  leave: readonly { fromOn: CalendarDate; toOn: CalendarDate; reason: string }[];
}

export interface Crew {
  code: string;
  name: string;
  /** Code of the place the crew starts from. */
  depotPlace: string;
  /** Code of the place that is its vehicle, where its kits are loaded; undefined until somebody names it. */
  vehiclePlace?: string;
  zone: string;
  weekdays: readonly Weekday[];
  shiftFromMin: number;
  shiftToMin: number;
  overtimeMaxMin: number;
  weeklyMaxMin: number;
  restMin: number;
  nightsAwayMax: number;
  payloadKg: number;
  pace: number;
  members: readonly CrewMember[];
}

export interface Depot {
  code: string;
  name: string;
  latDeg: number | null;
  lonDeg: number | null;
}

/** The latest forecast of a weather place, if it has one. */
export interface ForecastAtPlace {
  code: string;
  latDeg: number;
  lonDeg: number;
  elevationM: number;
  forecast?: WeatherSeries;
}

export interface WeatherAtPlace extends ForecastAtPlace {
  /** Blocks as `encodeSeries` makes them: read when they are needed, or thousands of place-years would fill the memory. */
  history: readonly Uint8Array[];
  /** Differs when the blocks differ. */
  historyStamp: string;
}

/** What one warehouse has of an item, in units. */
export interface ShelfStock {
  placeCode: string;
  /** Without lots that have expired. */
  onHand: number;
  /** The part of it that expires, with the last usable day as a day index. */
  lots?: readonly { quantity: number; lastDay: number }[];
}

/** An item's stock for netting. */
export interface StockPosition {
  itemCode: string;
  lotRule: LotRule;
  shelves: readonly ShelfStock[];
}

/** A transfer between warehouses that somebody decided on and nobody has moved yet. */
export interface PlannedTransfer {
  code: string;
  itemCode: string;
  fromPlace: string;
  toPlace: string;
  quantity: number;
  sendOn: CalendarDate;
  arriveOn: CalendarDate;
}

/** One line of an order. */
export interface OrderOnTheWay {
  orderCode: string;
  lineNo: number;
  /** The warehouse that receives it. */
  placeCode: string;
  itemCode: string;
  quantity: number;
  dueOn: CalendarDate;
}

export interface RoadSpeeds {
  /** Road length / great-circle length. */
  circuity: number;
  /** Mean road speed, km/h. */
  speedKmH: number;
  /** Added to every trip: loading, parking, gate. */
  fixedMin: number;
}

/** By crew code, then scheme. */
export type CompletedEnds = Readonly<Record<string, Readonly<Partial<Record<Scheme, number>>>>>;

export interface ProgrammeInput {
  /** Day the plan is made; nothing before it is planned. */
  today: CalendarDate;
  dayCount: number;
  /** Days from today that stay as the plan in force has them. */
  frozenDays: number;
  sites: readonly Site[];
  hops: readonly Hop[];
  catalogue: readonly CatalogueItem[];
  takeoffRules: readonly TakeoffRule[];
  takeoffPolicy: TakeoffPolicy;
  /** With the accepted factors of parts in it (`calibratedNorms`). */
  norms: HourNorms;
  /** Accepted factors on the work of visits; undefined = none. */
  calibration?: HourCalibration;
  /** Ends that each crew has reported done, by crew code and scheme; undefined = nobody learns. */
  completedEnds?: CompletedEnds;
  weatherPolicy: WeatherPolicy;
  weights: PlanWeights;
  cutPolicy: CutPolicy;
  weather: readonly WeatherAtPlace[];
  crews: readonly Crew[];
  depots: readonly Depot[];
  stock: readonly StockPosition[];
  drums: readonly DrumOnHand[];
  orders: readonly OrderOnTheWay[];
  transfers: readonly PlannedTransfer[];
  /** What spares are wanted for; how many a plan keeps back follows from its own installs. Absent = none. */
  spareDemand?: SpareDemand;
  stockPolicy: StockPolicy;
  /** Visit ids that were reported done. */
  done: ReadonlySet<string>;
  /** What crews say is left of visits they reported part done, by visit id; one that is not here is whole. */
  workLeft: ReadonlyMap<string, WorkLeft>;
  /** What failed readings ask for and nobody has withdrawn, done or not. */
  revisits: readonly Revisit[];
  /** Visits with their kit already issued: they need nothing more from the warehouse. */
  issued: ReadonlySet<string>;
  /** Of issued kits what a fault put on hold and nobody has replaced, by visit and item, in units. Absent = nothing. */
  lostOfKits?: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Runs that issued kits left without, or lost, and that go after them. Absent = none. */
  runsToFollow?: ReadonlySet<string>;
  /** Runs that are cut already and wait for their kit to be issued: they want no cable any more. */
  cutRuns?: ReadonlySet<string>;
  /** What vehicles hold that can still be used, by place and item, in units. Absent = they are empty. */
  onVehicles?: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** What reports took off vehicles for visits, by visit and item, in units. Absent = nothing. */
  bookedUse?: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Cuts as the list in force names them, from drums on hand; those of the coming days stay where they are. Absent = none. */
  listedCuts?: readonly ListedCut[];
  /** Runs of kits that somebody has begun to pick. */
  begunRuns?: ReadonlySet<string>;
  inForce: readonly NamedVisit[];
  /** Nights away of the plan in force. Absent = none. */
  nightsAway?: readonly { crewCode: string; on: CalendarDate }[];
  /** Visits reported on hold since the plan in force was made: its frozen days do not keep them. Absent = none. */
  onHold?: ReadonlySet<string>;
  pinned: readonly NamedVisit[];
  roads: RoadSpeeds;
  /** Working days between picking a kit and the visit. */
  kitDays: number;
}

/** What a crew says is left of a visit that it reported part done. */
export interface WorkLeft {
  leftMin: number;
  /** The day it worked on. */
  on: CalendarDate;
}

/** A placed visit by name, as a stored plan has it. */
export interface NamedVisit {
  visitId: string;
  crewCode: string;
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
}

/** A visit that a failed acceptance reading asks for. Aligning both ends at once again has a row for each side. */
export interface Revisit {
  hopCode: string;
  side: EndSide;
  /** Counted from 1 for the hop and side. */
  no: number;
  remedy: Remedy;
  /** Done at both ends in the same hours. */
  isJoint: boolean;
  /** The readings that ask for it, in words. */
  cause: string;
}

export interface KitNeedLine {
  itemCode: string;
  name: string;
  quantity: number;
  unit: string;
  reason: string;
  runId?: string;
}

/** One visit with its kit before anybody is assigned to it. */
export interface ProgrammeVisit {
  id: string;
  hopCode: string;
  side: EndSide;
  siteCode: string;
  kind: PlanVisit["kind"];
  /** 1 for the first or only visit of the work at this end, 2 for the second ... */
  part: number;
  /** Done at both ends in the same hours. */
  isJoint: boolean;
  /** Hours of the work that it does or is a part of. */
  estimate: EndEstimate;
  /** The work, its set-up first. */
  segments: readonly WorkSegment[];
  durationMin: number;
  p80Min: number;
  lines: readonly KitNeedLine[];
  /** Runs to cut for it; the day they are needed follows from the plan. */
  runs: readonly Omit<RunWanted, "neededOn">[];
  massKg: number;
  volumeL: number;
}
