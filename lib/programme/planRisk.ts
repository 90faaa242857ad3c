/**
 * How sure a stored plan is: its rows put together with hours, kits and past weather as what lib/risk runs, and what
 * comes out by the names and dates that people use.
 */
import {
  type Criticality,
  type FinishRange,
  HourTables,
  type KitWait,
  type PlanRisk,
  pastYearsFor,
  type RiskInput,
  type RiskOptions,
  simulatePlan,
  type WindowWeather,
  type WorkRange,
} from "@/lib/risk";
import type { PlacedVisit, ScheduleProblem } from "@/lib/schedule";
import { addDays, type CalendarDate, dayNumber, daysBetween, fromDayNumber } from "@/lib/time";
import { type HourMask, spanOfBlock } from "@/lib/weather";
import { type CrewGap, crewGap } from "./crewGap";
import { type CrewLimit, crewLimit } from "./crewLimit";
import type { KeptPaces, WorkedHop } from "./estimates";
import { type KitReady, readyKits, servedInTurn } from "./kitClaims";
import { isPlaced, type PlanRow } from "./planEdit";
import { type PreparedProgramme, prepareProgramme } from "./programme";
import { startAfter } from "./settle";
import type { ProgrammeInput, ProgrammeVisit, WeatherAtPlace } from "./types";
import { withUnderWay } from "./underWay";
import type { KeptPast, WindowMet } from "./visitWindows";

const DAY_MILLIS = 86_400_000;
const LEAP_YEAR_DAYS = 366;

/** Runs are followed beyond the plan's last day by half its length and so many days. Our own choice. */
const TAIL_DAYS = 60;

export interface FinishByName {
  plannedOn: CalendarDate;
  /** undefined = after the last day that was followed. */
  p10On?: CalendarDate;
  p50On?: CalendarDate;
  p80On?: CalendarDate;
  p90On?: CalendarDate;
  unfinishedShare: number;
}

export interface VisitShare {
  visitId: string;
  crewCode: string;
  share: number;
}

export interface StandIn extends VisitShare {
  /** Why; left out by runs from before it was kept. */
  limit?: CrewLimit;
}

/** A visit that is not done before its crew is away. */
export interface SlipByName extends VisitShare {
  gap: CrewGap;
  /** By code: hops that end later than planned because of it, its own among them. */
  hops: readonly Criticality<string>[];
}

/** What happens in fewer than one run of twenty says nothing about a hop. Our own choice. */
export const LEAST_SHARE = 0.05;

/** A plan's risk as it is stored and shown. Shares are of runs, 0 to 1. */
export interface RiskByName extends Pick<PlanRisk, "seed" | "runs" | "weathers" | "starts" | "lostH"> {
  /** The day from which the runs began. */
  asOf: CalendarDate;
  /** The last day that the runs were followed to. */
  followedTo: CalendarDate;
  /** Calendar years whose weather was drawn. */
  years: readonly number[];
  programme?: FinishByName;
  allPromisesMetShare?: number;
  hops: readonly (FinishByName & { hopCode: string; promiseMetShare?: number })[];
  visits: readonly VisitShare[];
  /** Visits that need people to stand in for their crew's own when they slip. */
  standIns: readonly StandIn[];
  /** Those of `LEAST_SHARE` and more, their hops too; left out by runs from before they were counted. */
  slips?: readonly SlipByName[];
  crews: readonly Criticality<string>[];
  items: readonly Criticality<string>[];
}

/** What is known from the plan's making. */
export interface KnownForRisk {
  /** Take-off and hours of every hop of the input. */
  worked: ReadonlyMap<string, WorkedHop>;
  keptPast?: KeptPast;
  keptPaces?: KeptPaces;
}

/** Runs the plan `rows` from `input.today` on; visits reported done are left out. */
export function planRisk(
  input: ProgrammeInput,
  rows: readonly PlanRow[],
  known: KnownForRisk,
  options: RiskOptions,
): RiskByName {
  const prepared = riskInputOf(input, rows, known);
  return byName(input, prepared, simulatePlan(prepared.input, options));
}

export interface PreparedRisk {
  input: RiskInput;
  prepared: PreparedProgramme;
}

export function riskInputOf(
  input: ProgrammeInput,
  rows: readonly PlanRow[],
  { worked, keptPast, keptPaces }: KnownForRisk,
): PreparedRisk {
  const placedRows = rows.filter(isPlaced);
  const lastDay = placedRows.reduce((day, r) => Math.max(day, daysBetween(input.today, r.endOn)), 0);
  const dayCount = Math.ceil(1.5 * (lastDay + 1)) + TAIL_DAYS;
  const weather: Omit<WindowWeather, "forecastDays">[] = [];
  const reader = new WeatherReader(input.weather, input.today, dayCount);
  const longer = { ...input, dayCount };
  const prepared = prepareProgramme(longer, {
    worked,
    keptPast,
    keptPaces,
    onWindow: (window, met) => {
      weather[window] = reader.of(met);
    },
  });
  const { visits, windows } = prepared;
  const going = withUnderWay(prepared.problem, placedRows, input);
  const placed = placedOf(going, placedRows);
  const { problem, lastItem } = servedInTurn(going, longer, visits, placed);
  const kitReady = readyKits(longer, visits, { placed });
  return {
    prepared,
    input: {
      problem,
      placed,
      ranges: visits.map(rangeOf),
      kits: visits.map((v, i) => {
        const alone = { startDay: problem.visits[i]!.kitReadyDay, item: lastItem.get(v.id) };
        return kitWait(alone, kitReady.get(v.id), input);
      }),
      weather: weather.map((w, i) => ({ ...w, forecastDays: windows.forecastDays[i]! })),
      past: reader.past && pastYearsFor(input.today, dayCount, reader.past.fromOn, reader.past.dayCount),
    },
  };
}

/** Unlike a plan to be edited, one to be run keeps what should have begun before today; what is stopped now stays out. */
function placedOf(problem: ScheduleProblem, rows: readonly (PlanRow & Placed)[]): PlacedVisit[] {
  const visitIndex = new Map(problem.visits.map((v, i) => [v.id, i]));
  const crewIndex = new Map(problem.crews.map((c, i) => [c.code, i]));
  return rows.flatMap((r): PlacedVisit[] => {
    const visit = visitIndex.get(r.visitId);
    const crew = crewIndex.get(r.crewCode);
    if (visit === undefined || crew === undefined || problem.visits[visit]!.blockedBy !== undefined)
      return [];
    const startDay = daysBetween(problem.firstDay, r.startOn);
    const endDay = daysBetween(problem.firstDay, r.endOn);
    return [{ visit, crew, startDay, startMin: r.startMin, endDay, endMin: r.endMin }];
  });
}

type Placed = {
  crewCode: string;
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
};

/**
 * What holds the kit longer: its own items whatever the others take, or what the visits that the plan begins earlier
 * leave of them. An order that slipped since the plan was made moves the day.
 */
function kitWait(
  alone: { startDay: number; item?: string },
  ready: KitReady | undefined,
  { today, kitDays }: ProgrammeInput,
): KitWait | undefined {
  const shared = ready?.bindingItem ? startAfter(addDays(today, ready.day), kitDays, today) : 0;
  if (ready?.bindingItem && shared >= alone.startDay) return { startDay: shared, item: ready.bindingItem };
  return alone.item === undefined ? undefined : { startDay: alone.startDay, item: alone.item };
}

/** The end's range as factors on the work after the set-up, which takes its time in any case. */
function rangeOf({ estimate: e }: ProgrammeVisit): WorkRange {
  const factor = (min: number) => Math.max(0, min - e.setupMin) / (e.durationMin - e.setupMin);
  return { p10: factor(e.p10Min), p50: factor(e.p50Min), p80: factor(e.p80Min), p90: factor(e.p90Min) };
}

/** Brings what windows were read from to days: of the plan for the forecast, of the past for the history. */
class WeatherReader {
  /** The days that the places' histories share. */
  readonly past: { fromOn: CalendarDate; dayCount: number } | undefined;
  readonly #tables = new Map<string, { forecast: HourTables; past?: HourTables }>();

  constructor(
    weather: readonly WeatherAtPlace[],
    readonly today: CalendarDate,
    readonly dayCount: number,
  ) {
    this.past = commonPast(weather);
  }

  of({ zone, forecast, past: pastOf }: WindowMet): Omit<WindowWeather, "forecastDays"> {
    let tables = this.#tables.get(zone);
    if (!tables) {
      tables = {
        forecast: new HourTables(zone, this.today, this.dayCount),
        past: this.past && new HourTables(zone, this.past.fromOn, this.past.dayCount),
      };
      this.#tables.set(zone, tables);
    }
    const past = this.past && pastOf();
    return {
      forecast: forecast && tables.forecast.of(forecast),
      past: past && this.past && covers(past, this.past) ? tables.past?.of(past) : undefined,
    };
  }
}

/** Whole days in UTC with one to spare at both ends, so that they are whole in every zone. */
function daysOf(startsAtMillis: number, endsAtMillis: number): { from: number; to: number } {
  return { from: Math.ceil(startsAtMillis / DAY_MILLIS) + 1, to: Math.floor(endsAtMillis / DAY_MILLIS) - 1 };
}

/**
 * The days that the histories share, the longest history first. A history that would leave less than a year is passed
 * over: its windows are run by their stretch, rather than all of them.
 */
function commonPast(
  weather: readonly WeatherAtPlace[],
): { fromOn: CalendarDate; dayCount: number } | undefined {
  const spans = weather
    .filter((w) => w.history.length > 0)
    .map((w) => {
      const blocks = w.history.map(spanOfBlock);
      return daysOf(
        Math.min(...blocks.map((b) => b.startsAtMillis)),
        Math.max(...blocks.map((b) => b.startsAtMillis + b.hours * 3_600_000)),
      );
    })
    .sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from);
  let common: { from: number; to: number } | undefined;
  for (const span of spans) {
    const next = common ? { from: Math.max(common.from, span.from), to: Math.min(common.to, span.to) } : span;
    if (next.to - next.from >= LEAP_YEAR_DAYS) common = next;
  }
  return common && { fromOn: fromDayNumber(common.from), dayCount: common.to - common.from };
}

function covers(mask: HourMask, past: { fromOn: CalendarDate; dayCount: number }): boolean {
  const own = daysOf(mask.startsAtMillis, mask.startsAtMillis + mask.hours * 3_600_000);
  const from = dayNumber(past.fromOn);
  return own.from <= from && own.to >= from + past.dayCount;
}

function byName(
  { today, crews }: ProgrammeInput,
  { input, prepared }: PreparedRisk,
  risk: PlanRisk,
): RiskByName {
  const { problem, placed } = input;
  const placeOf = new Map(placed.map((p) => [p.visit, p]));
  const crewOf = new Map(placed.map((p) => [p.visit, problem.crews[p.crew]!.code]));
  const followed = { asOf: today, followedTo: addDays(today, problem.dayCount - 1) };
  const named = ({ of, share }: Criticality<number>): VisitShare => ({
    visitId: prepared.visits[of]!.id,
    crewCode: crewOf.get(of)!,
    share,
  });
  const crewByCode = new Map(crews.map((c) => [c.code, c]));
  const people = (v: number) => {
    const { startDay, endDay } = placeOf.get(v)!;
    const days = { startOn: addDays(today, startDay), endOn: addDays(today, endDay) };
    return [crewByCode.get(crewOf.get(v)!)!, problem.visits[v]!.needs, days, followed] as const;
  };
  const isOften = ({ share }: { share: number }) => share >= LEAST_SHARE;
  return {
    seed: risk.seed,
    runs: risk.runs,
    weathers: risk.weathers,
    ...followed,
    years: input.past?.years ?? [],
    programme: risk.programme && finishByName(today, risk.programme),
    allPromisesMetShare: risk.allPromisesMetShare,
    hops: risk.hops.map((h) => ({
      hopCode: problem.hops[h.hop]!.code,
      promiseMetShare: h.promiseMetShare,
      ...finishByName(today, h.finish),
    })),
    visits: risk.visits.map(named),
    standIns: risk.standIns.map((s) => ({ ...named(s), limit: crewLimit(...people(s.of)) })),
    slips: risk.slips.filter(isOften).map((s) => ({
      ...named(s),
      gap: crewGap(...people(s.of))!,
      hops: s.hops.filter(isOften).map((h) => ({ of: problem.hops[h.of]!.code, share: h.share })),
    })),
    crews: risk.crews.map((c) => ({ of: problem.crews[c.of]!.code, share: c.share })),
    items: risk.items,
    starts: risk.starts,
    lostH: risk.lostH,
  };
}

function finishByName(today: CalendarDate, f: FinishRange): FinishByName {
  const on = (min: number | undefined) =>
    min === undefined ? undefined : addDays(today, Math.floor(min / 1440));
  return {
    plannedOn: on(f.plannedMin)!,
    p10On: on(f.p10Min),
    p50On: on(f.p50Min),
    p80On: on(f.p80Min),
    p90On: on(f.p90Min),
    unfinishedShare: f.unfinishedShare,
  };
}
