/**
 * What a plan's risk is worked out from, and what comes out. Plain data: crosses process borders.
 * Days are dense indices from the problem's first day; instants are minutes from its first midnight (day * 1440 + minute).
 */
import type { PlacedVisit, ScheduleProblem } from "@/lib/schedule";
import type { LimitingFactor } from "@/lib/weather";
import type { StaffingGap } from "./staffing";

/** How long the work of a visit takes, as factors on the minutes the plan reckons with; p10 <= p50 <= p80 <= p90. */
export interface WorkRange {
  p10: number;
  p50: number;
  p80: number;
  p90: number;
}

/** Hours of a row of days in which each work class may be done, and what closes the others. */
export interface HourTable {
  dayCount: number;
  /** `masks[classIndex * dayCount + day]`: bit h = wall-clock hour h is open; classIndex by WORK_CLASSES. */
  masks: Uint32Array;
  /** Per day: bit h = hour h is closed to outdoor work by darkness. */
  dark: Uint32Array;
  /** `cause[classIndex * dayCount + day]`: what closes most of the day's light hours, index into LIMITING_FACTORS. */
  cause: Uint8Array;
}

/** The weather of one of the problem's windows. */
export interface WindowWeather {
  /** Days from the first that `forecast` covers; the same in every run. */
  forecastDays: number;
  forecast?: HourTable;
  /** Past days by `PastYears.dayOf`. undefined: the window's own hours, stretched as it says. */
  past?: HourTable;
}

export interface KitWait {
  /** First day on which the visit can begin with its kit whole. */
  startDay: number;
  /** Code of the item that comes last. */
  item: string;
}

/** Which past day stands for which day of the plan. One for all windows, so that the region's weather stays joint. */
export interface PastYears {
  years: readonly number[];
  /** A run begins so many days at most before or after the plan's date in its year. */
  neighbourDays: number;
  /** `dayOf[year * (dayCount + 2 * neighbourDays) + neighbourDays + day]`: index into the past tables. */
  dayOf: Int32Array;
}

export interface RiskInput {
  /** Its horizon is how far a run is followed: longer than the plan, so that late runs end inside. */
  problem: ScheduleProblem;
  /** The plan. A visit that should have begun before the first day has a negative start day. */
  placed: readonly PlacedVisit[];
  /** Per visit of the problem. The ends of joint work take the range of the end that is planned first. */
  ranges: readonly WorkRange[];
  /** Per visit: what its kit waits for when kits are served in the plan's order; undefined = nothing. */
  kits: readonly (KitWait | undefined)[];
  /** Per window of the problem. */
  weather: readonly WindowWeather[];
  past?: PastYears;
}

export interface RiskOptions {
  seed: string;
  runs: number;
  /** Read between runs. What was run until then is the answer. */
  shouldStop?: () => boolean;
  onProgress?: (runsDone: number) => void;
  /** Report every n runs. */
  progressEvery?: number;
}

/** What takes a crew's hours while it could work, in the order of `PlanRisk.lostH`. */
export type LossCause =
  | Exclude<LimitingFactor, "none">
  | "spell too short"
  | "past weather by month"
  | "other end"
  | "earlier work"
  | "site taken";

/** What keeps the first visit of a chain from beginning earlier. */
export type ChainStart = "first day" | "kit" | "gate" | "notice" | "plan date";

export interface FinishRange {
  /** The plan's own finish, minutes. */
  plannedMin: number;
  /** Minutes; undefined = later than the last day that was followed. */
  p10Min?: number;
  p50Min?: number;
  p80Min?: number;
  p90Min?: number;
  /** Share of runs that did not end within the days followed. */
  unfinishedShare: number;
}

export interface HopRisk {
  hop: number;
  finish: FinishRange;
  /** Share of runs that end on the promise day or before; undefined = no promise. */
  promiseMetShare?: number;
}

/** Share of runs in which something lies on the chain that sets the programme's finish. */
export interface Criticality<K> {
  of: K;
  share: number;
}

/** A visit that is not done before its crew is away for some days: share of runs in which it waits for no other such visit. */
export interface Slip extends Criticality<number> {
  gap: StaffingGap;
  /** Hops that end later than planned because of it, its own among them, by the share of runs. */
  hops: readonly Criticality<number>[];
}

export interface PlanRisk {
  seed: string;
  /** Runs done; fewer than asked for when stopped. */
  runs: number;
  /** Weathers drawn from: past years times neighbouring days; 0 = no past year could be used. */
  weathers: number;
  /** The last of all placed visits; undefined = the plan places none. */
  programme?: FinishRange;
  /** Share of runs in which every placed hop with a promise met it; undefined = no promises. */
  allPromisesMetShare?: number;
  /** Hops with every visit placed. */
  hops: readonly HopRisk[];
  /** Visits, crews and kit items that are critical in any run; highest share first, then by index or name. */
  visits: readonly Criticality<number>[];
  crews: readonly Criticality<number>[];
  items: readonly Criticality<string>[];
  starts: readonly Criticality<ChainStart>[];
  /** Visits by the share of runs in which they slip past the last day on which their crew has the people. */
  standIns: readonly Criticality<number>[];
  /** Most often first. */
  slips: readonly Slip[];
  /** Crew hours lost in a run, mean over the runs, by cause; causes that took nothing are left out. */
  lostH: readonly { cause: LossCause; hours: number }[];
}
