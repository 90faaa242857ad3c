/** What the Plan pages show: the board of one plan, one visit looked at closely, and two plans side by side. */

import { figure, type Phrase, phrase } from "@/lib/phrase";
import {
  type ChangedVisit,
  type Crew,
  type CrewMember,
  changedVisits,
  type EndOnTower,
  type ForecastAtPlace,
  ForecastReader,
  type HopFinish,
  type HoursMet,
  hopFinishes,
  type InForceEffect,
  inForceEffect,
  isAway,
  jointPartnerOf,
  missedPromises,
  mostFrequent,
  onSiteFromMin,
  reasonNow,
  type ShutGate,
  shutGates,
  type VisitDay,
  type VisitHoursMet,
  visitDays,
  withMissed,
} from "@/lib/programme";
import type { VisitKind } from "@/lib/schedule";
import type { Hop, Site } from "@/lib/site";
import { addDays, type CalendarDate, fromDayNumber, weekdayOf } from "@/lib/time";
import type { WeatherPolicy } from "@/lib/weather";
import { type DataGroup, remembered } from "../dataState";
import type { Db } from "../open";
import { hop, item } from "../schema";
import { loadCrews } from "./crews";
import { knownAt } from "./dataSince";
import { groupBy, loadHops, loadSites, openGatesByHop, unmetGatesByHop } from "./design";
import { designsNow } from "./designNow";
import { loadVisitEstimate, setupDue } from "./estimates";
import { holdsOf } from "./holds";
import { loadVisitsMissingPeople } from "./missingPeople";
import {
  loadKit,
  loadKits,
  loadPlan,
  loadPlans,
  loadPlanVisits,
  type PlanHead,
  type PlannedVisit,
  pickedLineCounts,
  type StoredKit,
  shortLineCounts,
} from "./plans";
import { rulesInForce } from "./programme";
import { loadProgrammeState } from "./progress";
import { doneVisits, type LastReport, reportsOfVisit, reportsOn, type StoredReport } from "./reports";
import { itemsThatStop } from "./runsOut";
import { transfersFor } from "./transfers";
import { loadPlaceForecasts } from "./weatherViews";
import { withdrawnVisits } from "./withdrawn";

export interface BoardCrewRow {
  code: string;
  name: string;
  people: number;
  depotPlace: string;
  /** One entry per day of the board. */
  days: { works: boolean; why?: Phrase }[];
}

export interface BoardVisitRow extends PlannedVisit {
  /** Hours of the visit within the planning limits; undefined beyond the forecast and while unplaced. */
  weather?: VisitHoursMet;
  /** Undefined when the visit takes no material. */
  kit?: { state: "ready" | "expected" | "short" | "issued"; pickOn: CalendarDate; shortLines: number };
  promisedOn?: CalendarDate;
  /** The hop ends after its promise by this plan and by its gates. */
  isLate: boolean;
  /** Still to do, and a visit of the hop is planned before a gate opens. */
  isBeforeGate: boolean;
  togetherId?: string;
  /** What its crew lacks for it as its people are now, and on which of its days first. */
  missing?: { short: string; on: CalendarDate };
  doneOn?: CalendarDate;
  /** What its crew said of it last, unless the plan was made after a report of a hold or of a part. */
  report?: LastReport;
}

export interface BoardDayHours {
  metH: number;
  ofH: number;
  factor: HoursMet["factor"];
}

export interface Board {
  plan: PlanHead;
  crews: BoardCrewRow[];
  visits: BoardVisitRow[];
  /** Mean over the sites with work to do of the hours for work aloft; null beyond the forecast. */
  dayHours: (BoardDayHours | null)[];
  finishes: Map<string, HopFinish>;
}

/** What the board reads; not the ledger. */
export const BOARD_GROUPS: readonly DataGroup[] = [
  "design",
  "plan",
  "kits",
  "crews",
  "reports",
  "weather",
  "rules",
];

/** Everything the board of a plan shows. Shared between readers until the data change. */
export function loadBoard(db: Db, plan: PlanHead, today: CalendarDate): Readonly<Board> {
  return remembered(db, `board ${plan.id} ${today}`, BOARD_GROUPS, () => readBoard(db, plan, today));
}

function readBoard(db: Db, plan: PlanHead, today: CalendarDate): Board {
  const rows = loadPlanVisits(db, plan.id).filter(isOfItsDays(plan));
  const { weather, dayHours } = boardWeather(db, plan, today);
  const kits = new Map(loadKits(db, plan.id).map((k) => [k.visitId, k]));
  const short = shortLineCounts(db, plan.id);
  const done = doneVisits(db);
  const reports = reportsOn(db, knownAt(db, plan));
  const finishes = finishesOf(db, plan, rows, today);
  const known = new Set(rows.map((r) => r.visitId));
  const gates = openGatesByHop(db);
  const designs = plan.state === "past" ? undefined : designsNow(db, rows);
  // A past plan is shown as it was made.
  const missing = new Map(
    (plan.state === "past" ? [] : loadVisitsMissingPeople(db, today, plan)).map((m) => [m.visit.visitId, m]),
  );
  // The kits of a past plan may have been issued by a later one.
  const isOver = (visitId: string) => plan.state !== "past" && done.has(visitId);
  const visits = rows.map((row): BoardVisitRow => {
    const k = kits.get(row.visitId);
    const finish = finishes.get(row.hopCode);
    const partner = jointPartnerOf(row);
    return {
      ...row,
      // A past plan is shown as it was made.
      unplacedDetail:
        row.startOn === null && plan.state !== "past"
          ? reasonNow(row, gates.get(row.hopCode) ?? [], designs?.get(row.hopCode))
          : row.unplacedDetail,
      weather: row.isWithdrawn ? undefined : weather.get(row.visitId),
      // Nobody picks for a visit that is done or not needed any more; what left for it stands on the Kits page.
      kit:
        row.isWithdrawn || (isOver(row.visitId) && k?.state !== "issued")
          ? undefined
          : k && {
              state: kitState(k.state, row, short.get(row.visitId) ?? 0, today),
              pickOn: k.pickOn,
              shortLines: short.get(row.visitId) ?? 0,
            },
      promisedOn: finish?.promisedOn,
      isLate: !row.isWithdrawn && (finish?.daysLate ?? 0) > 0,
      isBeforeGate: !row.isWithdrawn && !done.has(row.visitId) && finish?.isBeforeGate === true,
      togetherId: partner && known.has(partner) ? partner : undefined,
      missing: shortOf(missing.get(row.visitId)),
      doneOn: done.get(row.visitId),
      report: reports.get(row.visitId),
    };
  });
  const dates = datesOf(plan);
  return {
    plan,
    crews: loadCrews(db).map((c) => ({
      code: c.code,
      name: c.name,
      people: c.members.length,
      depotPlace: c.depotPlace,
      days: dates.map((on) => crewDayWords(c.weekdays, c.members, on)),
    })),
    visits,
    dayHours,
    finishes,
  };
}

const shortOf = (m: { short: string; on: CalendarDate } | undefined): BoardVisitRow["missing"] =>
  m && m.short !== "" ? { short: m.short, on: m.on } : undefined;

/** What was done before a plan began stays on it (`carryPlaces`), but has no day of its board. */
const isOfItsDays =
  ({ firstDay }: Pick<PlanHead, "firstDay">) =>
  ({ endOn }: Pick<PlannedVisit, "endOn">): boolean =>
    endOn === null || endOn >= firstDay;

const datesOf = ({ firstDay, dayCount }: PlanHead): CalendarDate[] =>
  Array.from({ length: dayCount }, (_, d) => addDays(firstDay, d));

interface BoardWeather {
  /** By visit id; visits beyond the forecast are not here. */
  weather: ReadonlyMap<string, VisitHoursMet>;
  dayHours: (BoardDayHours | null)[];
}

/** The costly part of the board, kept apart: kits are ticked off all day, forecasts come a few times a day. */
function boardWeather(db: Db, plan: PlanHead, today: CalendarDate): BoardWeather {
  const groups: readonly DataGroup[] = ["design", "plan", "crews", "weather", "rules"];
  return remembered(db, `board weather ${plan.id} ${today}`, groups, () => readBoardWeather(db, plan, today));
}

function readBoardWeather(db: Db, plan: PlanHead, today: CalendarDate): BoardWeather {
  const forecasts = loadPlaceForecasts(db);
  // Only visits that a forecast reaches need their design: of a large plan a few days' worth.
  const lastForecastDay = forecastReach(forecasts);
  const isReached = (on: CalendarDate | null) =>
    on !== null && lastForecastDay !== undefined && on <= lastForecastDay;
  const reached = loadPlanVisits(db, plan.id).filter((r) => isReached(r.startOn));
  const hops = new Map(loadHops(db, [...new Set(reached.map((r) => r.hopCode))]).map((h) => [h.code, h]));
  const sites = new Map(loadSites(db).map((s) => [s.code, s]));
  const reader = new ForecastReader(forecasts, rulesInForce(db).weatherPolicy);
  const crews = loadCrews(db);
  const weather = new Map<string, VisitHoursMet>();
  for (const row of reached) {
    const end = endOf(row, hops, sites);
    const days = end && daysOf(row, end.site, crews, today);
    const met = days && reader.visitHoursMet(end, decidingClass(row.kind), days);
    if (met) weather.set(row.visitId, met);
  }
  return {
    weather,
    dayHours: dayHours(reached, hops, sites, reader, datesOf(plan), crews, isReached),
  };
}

function kitState(
  state: StoredKit["state"],
  row: PlannedVisit,
  shortLines: number,
  today: CalendarDate,
): "ready" | "expected" | "short" | "issued" {
  if (shortLines > 0) return "short";
  if (state === "issued") return "issued";
  return row.kitReadyOn !== null && row.kitReadyOn > today ? "expected" : "ready";
}

function crewDayWords(
  weekdays: readonly number[],
  members: readonly CrewMember[],
  on: CalendarDate,
): { works: boolean; why?: Phrase } {
  if (!weekdays.includes(weekdayOf(on))) return { works: false, why: phrase("no shift") };
  const away = members.filter((m) => isAway(m, on));
  if (away.length === 0) return { works: true };
  const reasons = [
    ...new Set(
      away.flatMap((m) => m.leave.filter((l) => l.fromOn <= on && on <= l.toOn).map((l) => l.reason)),
    ),
  ].join(", ");
  if (away.length === members.length)
    return { works: false, why: phrase("all away: {{reasons}}", { reasons }) };
  return {
    works: true,
    why: phrase("{{away}} of {{members}} away: {{reasons}}", {
      away: figure(away.length),
      members: figure(members.length),
      reasons,
    }),
  };
}

export function loadPromises(db: Db): Map<string, CalendarDate> {
  const rows = db.select({ code: hop.code, promisedOn: hop.promisedOn }).from(hop).all();
  return new Map(rows.flatMap((r) => (r.promisedOn ? [[r.code, r.promisedOn] as const] : [])));
}

/**
 * When hops end by a plan. Gates and promises that have passed count as they are now, as on the Programme page: also of
 * hops of which the plan has no visit. A past plan is shown as it was made.
 */
export function finishesOf(
  db: Db,
  plan: PlanHead | undefined,
  rows: readonly PlannedVisit[],
  today: CalendarDate,
): Map<string, HopFinish> {
  const promises = loadPromises(db);
  if (!plan || plan.state === "past") return hopFinishes(rows, promises);
  const shut = shutGatesOf(db, rows);
  const missed = missedPromises(loadProgrammeState(db, today).hops, today);
  return withMissed(hopFinishes(rows, promises, shut, holdsOf(db, plan)), missed, promises, today);
}

/** By hop: gates that are not open, as they are now, when visits of a plan begin that are still to do. */
export function shutGatesOf(db: Db, rows: readonly PlannedVisit[]): Map<string, ShutGate[]> {
  const done = doneVisits(db);
  const gates = unmetGatesByHop(db);
  const toDo = rows.filter((r) => !r.isWithdrawn && !done.has(r.visitId) && gates.has(r.hopCode));
  return new Map(
    [...groupBy(toDo, (r) => r.hopCode)].map(([code, visits]) => [code, shutGates(visits, gates.get(code)!)]),
  );
}

function forecastReader(db: Db, policy: WeatherPolicy): ForecastReader {
  return new ForecastReader(loadPlaceForecasts(db), policy);
}

/** The last calendar day (UTC) that any forecast touches; undefined without forecasts. */
function forecastReach(weather: readonly ForecastAtPlace[]): CalendarDate | undefined {
  const ends = weather.flatMap((w) =>
    w.forecast ? [w.forecast.startsAtMillis + w.forecast.hours * 3_600_000] : [],
  );
  return ends.length > 0 ? fromDayNumber(Math.floor(Math.max(...ends) / 86_400_000)) : undefined;
}

function endOf(
  row: Pick<PlannedVisit, "hopCode" | "side" | "siteCode">,
  hops: ReadonlyMap<string, Hop>,
  sites: ReadonlyMap<string, Site>,
): EndOnTower | undefined {
  const h = hops.get(row.hopCode);
  const site = sites.get(row.siteCode);
  const antennas = h?.[row.side].antennas ?? [];
  if (!h || !site || antennas.length === 0) return undefined;
  return {
    site,
    heightM: Math.max(...antennas.map((a) => a.mountHeightM)),
    diameterM: Math.max(...antennas.map((a) => a.diameterM)),
    bandGhz: h.bandGhz,
  };
}

/** The class that decides: alignment has limits of its own, readings are taken indoors, all else is work aloft. */
function decidingClass(kind: VisitKind): "aloft" | "alignment" | "indoor" {
  return kind === "alignment" ? "alignment" : kind === "acceptance" ? "indoor" : "aloft";
}

/** The days of a placed visit that are not over; undefined while it is not placed. */
function daysOf(
  { crewCode, startOn, startMin, endOn, endMin }: PlannedVisit,
  { access }: Pick<Site, "access">,
  crews: readonly Crew[],
  today: CalendarDate,
): VisitDay[] | undefined {
  const crew = crews.find((c) => c.code === crewCode);
  if (!crew || startOn === null || startMin === null || endOn === null || endMin === null) return undefined;
  const worksOn = (on: CalendarDate) => crewDayWords(crew.weekdays, crew.members, on).works;
  return visitDays({ startOn, startMin, endOn, endMin }, { ...crew, access }, worksOn, today);
}

function dayHours(
  rows: readonly PlannedVisit[],
  hops: ReadonlyMap<string, Hop>,
  sites: ReadonlyMap<string, Site>,
  reader: ForecastReader,
  dates: readonly CalendarDate[],
  crews: readonly { shiftFromMin: number; shiftToMin: number; weekdays: readonly number[] }[],
  isReached: (on: CalendarDate) => boolean,
): (BoardDayHours | null)[] {
  if (crews.length === 0) return dates.map(() => null);
  const fromMin = Math.min(...crews.map((c) => c.shiftFromMin));
  const toMin = Math.max(...crews.map((c) => c.shiftToMin));
  const ends = new Map<string, EndOnTower>();
  for (const row of rows) {
    const end = endOf(row, hops, sites);
    if (end && !ends.has(row.siteCode)) ends.set(row.siteCode, end);
  }
  return dates.map((on) => {
    // A day on which no crew has a shift has no hours of one: the Weather page says none either.
    if (!isReached(on) || !crews.some((c) => c.weekdays.includes(weekdayOf(on)))) return null;
    const met = [...ends.values()].flatMap((e) => reader.hoursMet(e, "aloft", on, fromMin, toMin) ?? []);
    if (met.length === 0) return null;
    return {
      metH: Math.round(met.reduce((sum, m) => sum + m.metH, 0) / met.length),
      ofH: Math.round(met.reduce((sum, m) => sum + m.ofH, 0) / met.length),
      // Of the sites that lose hours: most days most lose none.
      factor: mostFrequent(met.map((m) => m.factor).filter((factor) => factor !== "none")),
    };
  });
}

/** A day of a visit: the hours that the site is open, and which of them are the visit's. */
export interface VisitDayHours extends VisitDay {
  day: HoursMet;
}

export interface VisitView {
  visit: PlannedVisit;
  siteName: string;
  zone: string;
  crewName: string | null;
  /** Minutes of work at the norm, P50 and P80 by the people's hours; weather comes on top. */
  p50Min: number | null;
  p80Min: number | null;
  /** From arrival until work begins, where the crew is not set up there already. */
  setupMin: number | null;
  /** Minute of the day from which the crew is there; null = not placed or not estimated. */
  onSiteFromMin: number | null;
  promisedOn: CalendarDate | null;
  finish: HopFinish | null;
  kit: StoredKit | null;
  /** How far the kit is picked. */
  picked: { lineCount: number; pickedCount: number };
  /** Lines that stock will not cover on the pick day, with when an order of today would be there; whole units, except metres. */
  shortItems: {
    itemCode: string;
    name: string;
    shortC: number;
    unit: string;
    leadTimeDays: number;
    /** Day on which the first transfer of it, proposed or planned, is at the kit's warehouse: in time for the kit. */
    transferOn: CalendarDate | null;
    /** That day, else the one on which an order of today comes. */
    comesOn: CalendarDate;
  }[];
  /** From which day the kit can be whole: not before the last of what it lacks. */
  kitWholeOn: CalendarDate | null;
  weather: { workClass: "aloft" | "alignment" | "indoor"; days: VisitDayHours[] } | null;
  /** The last day of the visit that the forecast reaches; null = not even the first. */
  forecastUntil: CalendarDate | null;
  access: { fromMin: number; toMin: number; noticeDays: number };
  reports: StoredReport[];
  doneOn: CalendarDate | null;
}

/** Everything the side panel says of one visit; undefined when the plan has no such visit. */
export function loadVisitView(
  db: Db,
  planId: number,
  visitId: string,
  today: CalendarDate,
): VisitView | undefined {
  const rows = loadPlanVisits(db, planId);
  const visit = rows.find((v) => v.visitId === visitId);
  if (!visit) return undefined;
  const hops = new Map(
    loadHops(db)
      .filter((h) => h.code === visit.hopCode)
      .map((h) => [h.code, h]),
  );
  const sites = new Map(loadSites(db).map((s) => [s.code, s]));
  const site = sites.get(visit.siteCode);
  if (!site) return undefined;
  const promises = loadPromises(db);
  const kit = loadKit(db, planId, visitId) ?? null;
  const items = new Map(
    db
      .select({ code: item.code, unit: item.unit, leadTimeDays: item.leadTimeDays })
      .from(item)
      .all()
      .map((i) => [i.code, i]),
  );
  const workClass = decidingClass(visit.kind);
  const end = endOf(visit, hops, sites);
  const reader = end && forecastReader(db, rulesInForce(db).weatherPolicy);
  const { fromMin, toMin } = site.access;
  const weatherDays: VisitDayHours[] = [];
  for (const own of daysOf(visit, site, loadCrews(db), today) ?? []) {
    const day = end && reader?.hoursMet(end, workClass, own.on, fromMin, toMin);
    if (!day) break;
    weatherDays.push({ ...own, day });
  }
  const doneOn = doneVisits(db).get(visitId) ?? null;
  const short = (kit?.lines ?? []).filter((l) => l.shortC > 0 && doneOn === null);
  const comesOver =
    kit &&
    transfersFor(
      db,
      planId,
      kit,
      short.map((l) => l.itemCode),
    );
  const shortItems = short.map((l) => {
    const { unit = "", leadTimeDays = 0 } = items.get(l.itemCode) ?? {};
    const transfer = comesOver?.get(l.itemCode)?.transfer;
    const transferOn = transfer && !transfer.isTooLate ? transfer.arriveOn : null;
    return {
      itemCode: l.itemCode,
      name: l.name,
      shortC: l.shortC,
      unit,
      leadTimeDays,
      transferOn,
      comesOn: transferOn ?? addDays(today, leadTimeDays),
    };
  });
  return {
    visit,
    siteName: site.name,
    zone: site.zone,
    crewName: loadCrews(db).find((c) => c.code === visit.crewCode)?.name ?? null,
    ...workMinutes(db, visit, rows),
    promisedOn: promises.get(visit.hopCode) ?? null,
    finish: finishesOf(db, loadPlan(db, planId), rows, today).get(visit.hopCode) ?? null,
    kit,
    picked: pickedLineCounts(db, planId, visitId).get(visitId) ?? { lineCount: 0, pickedCount: 0 },
    shortItems,
    kitWholeOn: shortItems.reduce(
      (latest, { comesOn }) => (latest !== null && latest > comesOn ? latest : comesOn),
      visit.kitReadyOn,
    ),
    weather: weatherDays.length > 0 ? { workClass, days: weatherDays } : null,
    forecastUntil: weatherDays.at(-1)?.on ?? null,
    access: {
      fromMin: site.access.fromMin,
      toMin: site.access.toMin,
      noticeDays: site.access.noticeDays,
    },
    reports: reportsOfVisit(db, visitId),
    doneOn,
  };
}

/** Of the visit itself: a part of the work has its share of the whole's range. */
function workMinutes(
  db: Db,
  visit: PlannedVisit,
  rows: readonly PlannedVisit[],
): Pick<VisitView, "p50Min" | "p80Min" | "setupMin" | "onSiteFromMin"> {
  const whole = loadVisitEstimate(db, visit);
  if (!whole) return { p50Min: null, p80Min: null, setupMin: null, onSiteFromMin: null };
  const share = visit.durationMin / whole.durationMin;
  const ofCrew = rows.filter((v) => v.crewCode === visit.crewCode && !v.isWithdrawn);
  const setupMin = setupDue(db, visit, ofCrew);
  return {
    p50Min: whole.p50Min * share,
    p80Min: whole.p80Min * share,
    setupMin,
    onSiteFromMin: onSiteFromMin(visit.startMin, setupMin),
  };
}

/** Every visit that a plan changes against the one in force. */
export function loadChangedVisits(
  db: Db,
  planId: number,
  inForceId: number | undefined,
  today: CalendarDate,
): ChangedVisit[] {
  const done = doneVisits(db);
  return changedVisits(
    inForceId === undefined ? [] : loadPlanVisits(db, inForceId),
    loadPlanVisits(db, planId),
    ({ visitId, startOn }) => startOn < today || done.has(visitId),
  );
}

/** What changes for crews and kits when a draft takes the place of the plan in force. */
export function loadInForceEffect(
  db: Db,
  planId: number,
  inForceId: number | undefined,
  today: CalendarDate,
): InForceEffect {
  const changed = loadChangedVisits(db, planId, inForceId, today);
  const withdrawn = withdrawnVisits(db);
  const done = doneVisits(db);
  const kitsOf = (id: number) =>
    loadKits(db, id).filter((k) => !withdrawn.has(k.visitId) && !done.has(k.visitId));
  const before = inForceId === undefined ? [] : kitsOf(inForceId);
  return inForceEffect(changed, { before, after: kitsOf(planId) }, today);
}

export interface PlanCounts {
  visits: number;
  placed: number;
  unplaced: number;
  /** Of the visits, those reported done: a draft made since does not have them. 0 of a past plan. */
  done: number;
  lateHops: number;
  lateDays: number;
  pinned: number;
  /** Items that run out before the plan's last kit, without new orders. */
  runOut: number;
}

/**
 * Of a plan's visits that are needed still: withdrawn revisits count nowhere.
 * @param seesHop which hops count as late
 */
export function planCounts(
  db: Db,
  planId: number,
  today: CalendarDate,
  visits: readonly PlannedVisit[] = loadPlanVisits(db, planId),
  seesHop: (hopCode: string) => boolean = () => true,
): PlanCounts {
  const plan = loadPlan(db, planId);
  const rows = visits.filter((v) => !v.isWithdrawn && (!plan || isOfItsDays(plan)(v)));
  const finishes = [...finishesOf(db, plan, rows, today).values()];
  const late = finishes.filter((f) => (f.daysLate ?? 0) > 0 && seesHop(f.hopCode));
  const done = plan?.state === "past" ? new Map() : doneVisits(db);
  return {
    visits: rows.length,
    placed: rows.filter((r) => r.crewCode !== null).length,
    unplaced: rows.filter((r) => r.crewCode === null).length,
    done: rows.filter((r) => done.has(r.visitId)).length,
    lateHops: late.length,
    lateDays: late.reduce((sum, f) => sum + f.daysLate!, 0),
    pinned: rows.filter((r) => r.isPinned).length,
    runOut: itemsThatStop(db, planId).length,
  };
}

/** The plan in force, the newest drafts and the newest past plans: what one can open. */
export function loadPlanChoices(
  db: Db,
  most = 6,
): { inForce?: PlanHead; drafts: PlanHead[]; past: PlanHead[] } {
  const all = loadPlans(db);
  return {
    inForce: all.find((p) => p.state === "in force"),
    drafts: all.filter((p) => p.state === "draft").slice(0, most),
    past: all.filter((p) => p.state === "past").slice(0, most),
  };
}
