/** Everything a plan is made from, read at once; and everything that follows from it, stored at once. */
import { createHash } from "node:crypto";
import { calibratedNorms, type HourCalibration, NO_CALIBRATION } from "@/lib/calibration";
import type { CutPolicy } from "@/lib/drums";
import { DEFAULT_CUT_POLICY } from "@/lib/drums";
import { DEFAULT_NORMS, fullNorms, type HourNorms } from "@/lib/hours";
import { DEFAULT_ROADS, type NamedVisit, type ProgrammeInput, type WeatherAtPlace } from "@/lib/programme";
import { DEFAULT_WEIGHTS, type PlanWeights } from "@/lib/schedule";
import { DEFAULT_STOCK_POLICY, lotFigures, lotRuleOf, type StockPolicy } from "@/lib/stock";
import {
  DEFAULT_POLICY,
  DEFAULT_RULES,
  type TakeoffContext,
  type TakeoffPolicy,
  type TakeoffRule,
} from "@/lib/takeoff";
import { addDays, type CalendarDate } from "@/lib/time";
import { DEFAULT_WEATHER_POLICY, decodeSeries, type WeatherPolicy } from "@/lib/weather";
import type { Db } from "../open";
import { loadRevisits } from "./acceptance";
import { currentPolicy, loadCatalogue, loadOrdering, type StoredItem } from "./catalogue";
import { loadCrews } from "./crews";
import { loadHops, loadSites } from "./design";
import { loadDrums } from "./drums";
import { begunRuns, listedCuts } from "./drumViews";
import { loadExpectedBack } from "./faultViews";
import { holdsOf } from "./holds";
import { lostUnits, runsToFollow } from "./kitLosses";
import { cutsMade } from "./ledger";
import { loadOrdersOnTheWay } from "./orderLines";
import { loadPlaces } from "./places";
import { loadPlanVisits, nightsOfPlan, planInForce } from "./plans";
import { doneVisits, workLeft } from "./reports";
import { loadBookedUse, loadOnVehicles, loadShelves } from "./shelves";
import { loadSpareDemand } from "./spares";
import { loadPlannedTransfers } from "./transfers";
import { historyBlocks, latestForecast, loadWeatherPlaces } from "./weather";
import { completedEnds } from "./workedVisits";

/** The rule data in force: what the company saved last, or what the product is delivered with. */
export interface RulesInForce {
  takeoffPolicy: TakeoffPolicy;
  takeoffRules: TakeoffRule[];
  /** With the accepted factors of parts in it. */
  norms: HourNorms;
  calibration: HourCalibration;
  weatherPolicy: WeatherPolicy;
  weights: PlanWeights;
  cutPolicy: CutPolicy;
  stockPolicy: StockPolicy;
  /** Versions by kind; 0 = as delivered. */
  versions: Record<string, number>;
}

export function rulesInForce(db: Db): RulesInForce {
  const takeoff = currentPolicy<TakeoffPolicy>(db, "takeoff policy");
  const rules = currentPolicy<TakeoffRule[]>(db, "takeoff rules");
  const norms = currentPolicy<HourNorms>(db, "hour norms");
  const calibration = calibrationInForce(db);
  const limits = currentPolicy<WeatherPolicy>(db, "weather limits");
  const weights = currentPolicy<PlanWeights>(db, "plan weights");
  const cutting = currentPolicy<CutPolicy>(db, "cutting");
  const stock = currentPolicy<StockPolicy>(db, "stock");
  return {
    takeoffPolicy: takeoff ? { ...takeoff.body, version: takeoff.version } : DEFAULT_POLICY,
    takeoffRules: rules?.body ?? [...DEFAULT_RULES],
    norms: calibratedNorms(
      norms ? { ...fullNorms(norms.body), version: norms.version } : DEFAULT_NORMS,
      calibration,
    ),
    calibration,
    weatherPolicy: limits ? { ...limits.body, version: limits.version } : DEFAULT_WEATHER_POLICY,
    weights: weights?.body ?? DEFAULT_WEIGHTS,
    cutPolicy: cutting?.body ?? DEFAULT_CUT_POLICY,
    stockPolicy: { ...DEFAULT_STOCK_POLICY, ...stock?.body },
    versions: {
      "takeoff policy": takeoff?.version ?? 0,
      "takeoff rules": rules?.version ?? 0,
      "hour norms": norms?.version ?? 0,
      "hour calibration": calibration.version,
      "weather limits": limits?.version ?? 0,
      "plan weights": weights?.version ?? 0,
      cutting: cutting?.version ?? 0,
      stock: stock?.version ?? 0,
    },
  };
}

/** The accepted factors, or none. */
export function calibrationInForce(db: Db): HourCalibration {
  const stored = currentPolicy<HourCalibration>(db, "hour calibration");
  return stored ? { ...stored.body, version: stored.version } : NO_CALIBRATION;
}

/** What the take-off of any hop needs. */
export function loadTakeoffContext(db: Db, rules: RulesInForce = rulesInForce(db)): TakeoffContext {
  return {
    sites: new Map(loadSites(db).map((s) => [s.id, s])),
    catalogue: loadCatalogue(db),
    rules: rules.takeoffRules,
    policy: rules.takeoffPolicy,
  };
}

export function loadWeather(db: Db): WeatherAtPlace[] {
  return loadWeatherPlaces(db).map((p) => {
    const forecast = latestForecast(db, p.code);
    return {
      code: p.code,
      latDeg: p.latDeg,
      lonDeg: p.lonDeg,
      elevationM: p.elevationM,
      forecast: forecast && decodeSeries(forecast.payload),
      ...historyOf(db, p.code),
    };
  });
}

function historyOf(db: Db, placeCode: string): Pick<WeatherAtPlace, "history" | "historyStamp"> {
  const history = historyBlocks(db, placeCode).map((b) => b.payload);
  const stamp = createHash("sha1");
  for (const block of history) stamp.update(block);
  return { history, historyStamp: stamp.digest("base64url") };
}

export interface HorizonWanted {
  today: CalendarDate;
  dayCount: number;
  /** Days from today that stay as the plan in force has them. */
  frozenDays: number;
}

export function loadProgrammeInput(db: Db, { today, dayCount, frozenDays }: HorizonWanted): ProgrammeInput {
  const rules = rulesInForce(db);
  const catalogue = loadCatalogue(db);
  const places = loadPlaces(db);
  const warehouses = new Set(places.filter((p) => p.kind === "warehouse").map((p) => p.code));
  const crews = loadCrews(db);
  const inForce = planInForce(db);
  const visits = inForce ? loadPlanVisits(db, inForce.id) : [];
  const named = visits.flatMap((v): (NamedVisit & { isPinned: boolean })[] =>
    v.crewCode && v.startOn && v.endOn && v.startMin !== null && v.endMin !== null
      ? [
          {
            visitId: v.visitId,
            crewCode: v.crewCode,
            startOn: v.startOn,
            startMin: v.startMin,
            endOn: v.endOn,
            endMin: v.endMin,
            isPinned: v.isPinned,
          },
        ]
      : [],
  );
  return {
    today,
    dayCount,
    frozenDays,
    sites: loadSites(db),
    hops: loadHops(db),
    catalogue,
    takeoffRules: rules.takeoffRules,
    takeoffPolicy: rules.takeoffPolicy,
    norms: rules.norms,
    calibration: rules.calibration,
    completedEnds: completedEnds(db),
    weatherPolicy: rules.weatherPolicy,
    weights: rules.weights,
    cutPolicy: rules.cutPolicy,
    weather: loadWeather(db),
    crews,
    ...loadSupplies(db, today, catalogue, rules.stockPolicy),
    spareDemand: loadSpareDemand(db, today, catalogue, rules.stockPolicy),
    depots: places.filter((p) => p.kind === "warehouse"),
    stockPolicy: rules.stockPolicy,
    drums: loadDrums(db)
      .filter((d) => warehouses.has(d.placeCode))
      .map((d) => ({
        id: d.serial,
        serial: d.serial,
        cableCode: d.itemCode,
        placeId: d.placeCode,
        receivedCm: d.receivedC,
        remainingCm: d.remainingC,
        availableOn: today,
        isNew: d.receivedC === d.remainingC,
      })),
    done: new Set(doneVisits(db).keys()),
    workLeft: workLeft(db),
    revisits: loadRevisits(db),
    issued: issuedVisits(db),
    lostOfKits: lostUnits(db),
    runsToFollow: runsToFollow(db),
    cutRuns: new Set(cutsMade(db).keys()),
    onVehicles: loadOnVehicles(db, today),
    bookedUse: loadBookedUse(db),
    listedCuts: inForce ? listedCuts(db, inForce.id) : [],
    begunRuns: inForce ? begunRuns(db, inForce.id) : new Set(),
    inForce: named,
    nightsAway:
      inForce &&
      nightsOfPlan(
        inForce,
        crews.map((c) => c.code),
      ),
    onHold: inForce ? new Set(holdsOf(db, inForce).keys()) : undefined,
    pinned: named.filter((v) => v.isPinned),
    roads: DEFAULT_ROADS,
    kitDays: 1,
  };
}

/** What kits can be filled from: shelves, orders on the way, transfers decided on. */
export function loadSupplies(
  db: Db,
  today: CalendarDate,
  catalogue: readonly StoredItem[],
  policy: StockPolicy,
): Pick<ProgrammeInput, "stock" | "orders" | "transfers"> {
  const ordering = loadOrdering(db);
  const shelves = loadShelves(db, today, catalogue.length === 1 ? catalogue[0]!.code : undefined);
  // What should have come and has not is not here: believed for tomorrow at the earliest.
  const comesOn = (on: CalendarDate) => (on < today ? addDays(today, 1) : on);
  return {
    stock: catalogue.map((i) => ({
      itemCode: i.code,
      lotRule: lotRuleOf(i.lotRule, lotFigures(ordering.get(i.code)!, policy)),
      shelves: shelves.get(i.code) ?? [],
    })),
    orders: [
      ...loadOrdersOnTheWay(db).map((o) => ({
        orderCode: o.orderCode,
        lineNo: o.lineNo,
        placeCode: o.placeCode,
        itemCode: o.itemCode,
        quantity: (o.quantityC - o.receivedC) / 100,
        dueOn: comesOn(o.dueOn),
      })),
      // What a repairer promised back comes like a delivery; what is not promised is not counted on.
      ...loadExpectedBack(db).map((f) => ({
        orderCode: `repair ${f.faultId}`,
        lineNo: 1,
        placeCode: f.placeCode,
        itemCode: f.itemCode,
        quantity: f.quantity,
        dueOn: comesOn(f.expectedOn),
      })),
    ],
    transfers: loadPlannedTransfers(db).map((t) => ({
      code: `transfer ${t.id}`,
      itemCode: t.itemCode,
      fromPlace: t.fromPlace,
      toPlace: t.toPlace,
      quantity: t.quantityC / 100,
      sendOn: t.sendOn < today ? today : t.sendOn,
      arriveOn: comesOn(t.arriveOn),
    })),
  };
}

/** Visits whose material has left the warehouse for them; an issue that was taken back does not count. */
function issuedVisits(db: Db): Set<string> {
  const rows = db.$client
    .prepare(`SELECT DISTINCT visit_id FROM movement m WHERE kind = 'issue' AND visit_id IS NOT NULL
       AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)`)
    .pluck()
    .all() as string[];
  return new Set(rows);
}
