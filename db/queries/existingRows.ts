/** What stands, as the rows of files: what an import is compared with and what exports write. */
import { eq } from "drizzle-orm";
import {
  blockOfSeries,
  type CrewMemberRow,
  type CrewRow,
  type DesignRows,
  END_DEFAULTS,
  type ExistingRows,
  type HopRow,
  type KindName,
  keyOf,
  type PlaceRow,
  type RowOf,
  rowFromItem,
  rowFromSite,
  rowsFromHops,
  rowsOfBlock,
  type SiteRow,
  type StandingOrderRow,
  type StockRow,
  type WeatherRow,
} from "@/lib/exchange";
import type { Crew } from "@/lib/programme";
import type { EndSide, Hop, LinkEnd } from "@/lib/site";
import { decodeSeries, type WeatherSeries } from "@/lib/weather";
import type { Db } from "../open";
import { logEntry } from "../schema";
import { actualHoursRows } from "./actualHours";
import { loadCatalogue } from "./catalogue";
import { loadCrews } from "./crews";
import { endId, hopCodes, loadPartHops, loadSite, loadSites, type PartHop } from "./design";
import { loadDrums } from "./drums";
import { loadOrdersOnTheWay } from "./orderLines";
import { loadPlaces } from "./places";
import { loadBalances, loadLots } from "./shelves";
import { historyBlocks, latestForecast, loadWeatherPlaces } from "./weather";
import { loadPlaceForecasts } from "./weatherViews";

/** Stands for the site of an end that has none yet; no code holds a control character. */
export const NO_SITE = "\u0000";

type KindOfTable = Exclude<KindName, "weather">;
type TableRows = { [K in KindOfTable]: RowOf<K>[] };

/** Rows that stand, by kind and key. Without weather: its hours are merged series by series (see storeWeather). */
export function existingRows(db: Db): ExistingRows {
  return byKey(tableRows(db));
}

/** What the row of one site is compared with: all sites, since no two codes may differ in case only. */
export function existingSites(db: Db): ExistingRows {
  return byKey({ sites: loadSites(db).map(rowFromSite) });
}

/**
 * What the rows of one hop are compared with: its own, and what they may refer to. Of other hops the code is all that
 * is looked at, and reading five thousand of them whole takes a second.
 */
export function existingAround(db: Db, hopCode: string): ExistingRows {
  const { hops = [], ...own } = rowsOfHop(db, hopCode) ?? {};
  const others = hopCodes(db).filter((code) => code !== hopCode);
  return byKey({
    ...referredTo(db),
    hops: [...hops, ...others.map((code) => ({ code }) as HopRow)],
    ...(own as Partial<TableRows>),
  });
}

const referredTo = (db: Db) => ({
  sites: loadSites(db).map(rowFromSite),
  items: loadCatalogue(db).map(rowFromItem),
});

/** The row of one site; undefined when there is none. */
export function rowOfSite(db: Db, code: string): SiteRow | undefined {
  const site = loadSite(db, code);
  return site && rowFromSite(site);
}

/** The rows of one hop, by kind; undefined when there is none. */
export function rowsOfHop(db: Db, code: string): DesignRows | undefined {
  const hops = loadPartHops(db, [code]).map(withBothEnds);
  return hops.length === 0 ? undefined : withoutBlankEnds(rowsFromHops(hops, siteCodeOf));
}

function byKey(rows: Partial<TableRows>): ExistingRows {
  return Object.fromEntries(
    Object.entries(rows).map(([kind, list]) => [
      kind,
      new Map((list as RowOf<KindName>[]).map((row) => [keyOf(kind as KindName, row), row])),
    ]),
  );
}

function designRows(db: Db) {
  const design = withoutBlankEnds(rowsFromHops([...standingHops(db).values()], siteCodeOf));
  return {
    ...referredTo(db),
    hops: [...design.hops],
    ends: [...design.ends],
    antennas: [...design.antennas],
    radios: [...design.radios],
    gates: [...design.gates],
  };
}

const withoutBlankEnds = (rows: DesignRows): DesignRows => ({
  ...rows,
  ends: rows.ends.filter((e) => e.siteCode !== undefined),
});

/** All rows of every kind but weather. */
export function tableRows(db: Db): TableRows {
  return {
    ...designRows(db),
    places: loadPlaces(db).map(
      ({ code, name, kind, latDeg, lonDeg }): PlaceRow => ({
        code,
        name,
        kind,
        ...(latDeg === null || lonDeg === null ? {} : { latDeg, lonDeg }),
      }),
    ),
    stock: stockRows(db),
    orders: orderRows(db),
    crews: loadCrews(db).map(crewRow),
    "crew members": loadCrews(db).flatMap(memberRows),
    "weather places": loadWeatherPlaces(db),
    "actual hours": actualHoursRows(db),
  };
}

/** All hops by code, or those named. One that lacks a site at an end has there an end of `NO_SITE` with nothing on it. */
export function standingHops(db: Db, codes?: readonly string[]): Map<string, Hop> {
  return new Map(loadPartHops(db, codes).map((h) => [h.code, withBothEnds(h)]));
}

function withBothEnds(h: PartHop): Hop {
  const blank = (side: EndSide): LinkEnd => ({
    id: endId(h.code, side),
    hopId: h.code,
    side,
    siteId: NO_SITE,
    ...END_DEFAULTS,
    antennas: [],
    odus: [],
  });
  return { ...h, near: h.near ?? blank("near"), far: h.far ?? blank("far") };
}

/** `rowsFromHops` leaves out what is undefined, which is how files say that an end has no site. */
const siteCodeOf = (siteId: string) => (siteId === NO_SITE ? undefined : siteId) as string;

function stockRows(db: Db): StockRow[] {
  const expiry = new Map(loadLots(db).map((l) => [l.code, l.expiresOn]));
  const received = new Map(loadDrums(db).map((d) => [d.serial, d.receivedC]));
  // What is on hold or in repair got there by rows of its own kinds: no opening stock can say that.
  const aside = new Set(
    loadPlaces(db)
      .filter((p) => p.kind === "hold" || p.kind === "repair")
      .map((p) => p.code),
  );
  const onShelves = loadBalances(db).filter((b) => !aside.has(b.placeCode));
  return onShelves.map((b): StockRow => {
    const quantity = b.quantityC / 100;
    const expiresOn = expiry.get(b.lotCode);
    const receivedC = received.get(b.drumSerial);
    return {
      itemCode: b.itemCode,
      placeCode: b.placeCode,
      owner: b.owner,
      ...(b.lotCode && { lotCode: b.lotCode }),
      ...(expiresOn && { expiresOn }),
      ...(b.drumSerial && { drumSerial: b.drumSerial, remainingM: quantity }),
      ...(receivedC !== undefined && { receivedM: receivedC / 100 }),
      quantity,
    };
  });
}

function orderRows(db: Db): StandingOrderRow[] {
  const approved = new Set(
    db
      .select({ subject: logEntry.subject })
      .from(logEntry)
      .where(eq(logEntry.action, "order approved"))
      .all()
      .map((e) => e.subject),
  );
  return loadOrdersOnTheWay(db).map((l) => ({
    orderCode: l.orderCode,
    lineNo: l.lineNo,
    itemCode: l.itemCode,
    quantity: (l.quantityC - l.receivedC) / 100,
    dueOn: l.dueOn,
    placeCode: l.placeCode,
    ...(l.supplier && { supplier: l.supplier }),
    owner: l.kind === "call-off" ? "customer" : "contractor",
    ...(l.priceMinor !== null && { priceMinor: l.priceMinor, currency: l.currency! }),
    ...(approved.has(`order ${l.orderCode}`) && { isApproved: true as const }),
  }));
}

function crewRow({ members: _, vehiclePlace: __, ...crew }: Crew): CrewRow {
  return crew;
}

function memberRows({ code: crewCode, members }: Crew): CrewMemberRow[] {
  return members.map(({ code, name, isLead, skills, leave }) => ({
    code,
    crewCode,
    name,
    isLead,
    skills,
    leave,
  }));
}

/** Which hours an export of weather writes. */
export const EXPORTED_SERIES = ["history", "forecast", "members"] as const;

/** The series of all places: all past hours, the latest forecast, or the members of the ensemble issued with it. */
export function weatherSeries(db: Db, kind: (typeof EXPORTED_SERIES)[number]): WeatherSeries[] {
  if (kind === "members") return loadPlaceForecasts(db).flatMap((p) => p.members);
  return loadWeatherPlaces(db).flatMap((p) => {
    if (kind === "history") return historyBlocks(db, p.code).map((b) => decodeSeries(b.payload));
    const forecast = latestForecast(db, p.code);
    return forecast ? [decodeSeries(forecast.payload)] : [];
  });
}

export function weatherRows(series: readonly WeatherSeries[]): WeatherRow[] {
  return series.flatMap((s) => rowsOfBlock(blockOfSeries(s.placeId, s)));
}
