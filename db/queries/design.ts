/** Sites, hops with their ends, and gates: rows in, lib's types out, and back. */
import { and, inArray, sql } from "drizzle-orm";
import type {
  AntennaPosition,
  EndSide,
  Gate,
  Hop,
  LinkEnd,
  Odu,
  Polarisation,
  RouteSegment,
  Site,
} from "@/lib/site";
import type { Weekday } from "@/lib/time";
import type { Db } from "../open";
import { antennaPosition, gate, hop, linkEnd, odu, routeSegment, site } from "../schema";
import { insertRows, upsertRows } from "./upsert";

/** A hop as stored: an end whose site is not known yet is missing. */
export type PartHop = Omit<Hop, "near" | "far"> & { near?: LinkEnd; far?: LinkEnd };

export const endId = (hopCode: string, side: EndSide): string => `${hopCode}/${side}`;

type SiteRow = typeof site.$inferSelect;

export function siteOfRow(row: SiteRow): Site {
  return {
    id: row.code,
    code: row.code,
    name: row.name,
    region: row.region,
    position:
      row.latDeg === null || row.lonDeg === null ? undefined : { latDeg: row.latDeg, lonDeg: row.lonDeg },
    elevationM: row.elevationM,
    zone: row.zone,
    structure: row.structure,
    structureHeightM: row.structureHeightM,
    terrain: row.terrain,
    hasEarthingBar: row.hasEarthingBar ?? undefined,
    access: {
      weekdays: [...row.accessWeekdays].map((d) => Number(d) as Weekday),
      fromMin: row.accessFromMin,
      toMin: row.accessToMin,
      noticeDays: row.noticeDays,
      allowsTwoCrews: row.allowsTwoCrews,
    },
  };
}

export function rowOfSite(s: Site): SiteRow {
  return {
    code: s.code,
    name: s.name,
    region: s.region,
    latDeg: s.position?.latDeg ?? null,
    lonDeg: s.position?.lonDeg ?? null,
    elevationM: s.elevationM,
    zone: s.zone,
    structure: s.structure,
    structureHeightM: s.structureHeightM,
    terrain: s.terrain,
    hasEarthingBar: s.hasEarthingBar ?? null,
    accessWeekdays: [...s.access.weekdays].sort().join(""),
    accessFromMin: s.access.fromMin,
    accessToMin: s.access.toMin,
    noticeDays: s.access.noticeDays,
    allowsTwoCrews: s.access.allowsTwoCrews,
  };
}

/** All sites, by code. */
export function loadSites(db: Db): Site[] {
  return db.select().from(site).orderBy(site.code).all().map(siteOfRow);
}

export function loadSite(db: Db, code: string): Site | undefined {
  const row = db
    .select()
    .from(site)
    .where(inArray(site.code, [code]))
    .get();
  return row && siteOfRow(row);
}

/** Inserts the site or brings the stored one to this state. */
export function saveSite(db: Db, s: Site): void {
  saveSites(db, [s]);
}

export function saveSites(db: Db, sites: readonly Site[]): void {
  upsertRows(db, site, sites.map(rowOfSite));
}

/** How each hop is accepted, by its code. */
export const acceptanceProcedures = (db: Db): Map<string, Hop["acceptance"]> =>
  new Map(
    db
      .select({ code: hop.code, acceptance: hop.acceptance })
      .from(hop)
      .all()
      .map((h) => [h.code, h.acceptance]),
  );

/** Hops with both ends and gates, by code; all of them, or those named. A hop without two ends is left out. */
export function loadHops(db: Db, codes?: readonly string[]): Hop[] {
  return loadPartHops(db, codes).filter((h): h is Hop => h.near !== undefined && h.far !== undefined);
}

/** Like `loadHops`, with the hops that lack an end as well. */
export function loadPartHops(db: Db, codes?: readonly string[]): PartHop[] {
  const some = codes ? [...codes] : undefined;
  const hops = db
    .select()
    .from(hop)
    .where(some && inArray(hop.code, some))
    .orderBy(hop.code)
    .all();
  const ends = db
    .select()
    .from(linkEnd)
    .where(some && inArray(linkEnd.hopCode, some))
    .all();
  const ids = some && ends.map((e) => e.id);
  const antennas = groupBy(
    db
      .select()
      .from(antennaPosition)
      .where(ids && inArray(antennaPosition.endId, ids))
      .orderBy(antennaPosition.endId, antennaPosition.label)
      .all(),
    (a) => a.endId,
  );
  const radios = groupBy(
    db
      .select()
      .from(odu)
      .where(ids && inArray(odu.endId, ids))
      .orderBy(odu.endId, odu.label)
      .all(),
    (o) => o.endId,
  );
  const segments = groupBy(
    db
      .select()
      .from(routeSegment)
      .where(ids && inArray(routeSegment.endId, ids))
      .orderBy(routeSegment.endId, routeSegment.oduLabel, routeSegment.seq)
      .all(),
    (s) => `${s.endId} ${s.oduLabel}`,
  );
  const gates = groupBy(
    db
      .select()
      .from(gate)
      .where(some && inArray(gate.hopCode, some))
      .orderBy(gate.hopCode, gate.side, gate.kind)
      .all(),
    (g) => g.hopCode,
  );
  const endsByHop = groupBy(ends, (e) => e.hopCode);

  const buildEnd = (row: typeof linkEnd.$inferSelect): LinkEnd => ({
    id: row.id,
    hopId: row.hopCode,
    side: row.side,
    siteId: row.siteCode,
    cableCode: row.cableCode ?? undefined,
    worstSupplyV: row.worstSupplyV,
    includesIduPower: row.includesIduPower,
    entryHeightM: row.entryHeightM ?? undefined,
    couplerSplit: row.couplerSplit ?? undefined,
    antennas: (antennas.get(row.id) ?? []).map(
      (a): AntennaPosition => ({
        label: a.label,
        mountHeightM: a.mountHeightM,
        diameterM: a.diameterM,
        polarisations: [...a.polarisations] as Polarisation[],
        mount: a.mount,
        bandGhz: a.bandGhz,
        owner: a.owner,
      }),
    ),
    odus: (radios.get(row.id) ?? []).map(
      (o): Odu => ({
        label: o.label,
        antennaLabel: o.antennaLabel,
        polarisation: o.polarisation,
        role: o.role,
        mounting: o.mounting,
        owner: o.owner,
        bandGhz: o.bandGhz,
        subBand: o.subBand,
        duplexSpacingMhz: o.duplexSpacingMhz,
        half: o.half,
        earthBarDistanceM: o.earthBarDistanceM,
        ...(o.targetLevelDbm === null ? {} : { targetLevelDbm: o.targetLevelDbm }),
        route: (segments.get(`${row.id} ${o.label}`) ?? []).map(
          (s): RouteSegment => ({ kind: s.kind, lengthM: s.lengthM, bendAtEnd: s.bendAtEnd }),
        ),
      }),
    ),
  });

  return hops.map((row): PartHop => {
    const both = endsByHop.get(row.code) ?? [];
    const near = both.find((e) => e.side === "near");
    const far = both.find((e) => e.side === "far");
    return {
      id: row.code,
      code: row.code,
      scheme: row.scheme,
      bandGhz: row.bandGhz,
      promisedOn: row.promisedOn ?? undefined,
      weight: row.weight,
      alignment: row.alignment,
      acceptance: row.acceptance,
      ...(near && { near: buildEnd(near) }),
      ...(far && { far: buildEnd(far) }),
      gates: (gates.get(row.code) ?? []).map(gateOf),
    };
  });
}

/** A row of the table as lib knows it. */
export const gateOf = (g: typeof gate.$inferSelect): Gate => ({
  hopId: g.hopCode,
  side: g.side === "both" ? undefined : g.side,
  kind: g.kind,
  owner: g.owner,
  state: g.state,
  dueOn: g.dueOn ?? undefined,
});

export function loadHop(db: Db, code: string): Hop | undefined {
  return loadHops(db, [code])[0];
}

/** Codes of all hops. */
export const hopCodes = (db: Db): string[] =>
  db.$client.prepare("SELECT code FROM hop ORDER BY code").pluck().all() as string[];

/** Codes of hops that lack an end: shown as snags, never planned. */
export function hopsWithoutBothEnds(db: Db): string[] {
  return db.$client
    .prepare(
      "SELECT code FROM hop WHERE (SELECT COUNT(*) FROM link_end WHERE hop_code = hop.code) < 2 ORDER BY code",
    )
    .pluck()
    .all() as string[];
}

/** Gates without a date, by hop (all hops, or those named): what holds work and nobody has promised to lift. */
export const openGatesByHop = (db: Db, codes?: readonly string[]): Map<string, Gate[]> =>
  gatesInStates(db, ["open"], codes);

/** Gates that are open or have a date, by hop. */
export const unmetGatesByHop = (db: Db, codes?: readonly string[]): Map<string, Gate[]> =>
  gatesInStates(db, ["open", "dated"], codes);

function gatesInStates(db: Db, states: Gate["state"][], codes?: readonly string[]): Map<string, Gate[]> {
  const rows = db
    .select()
    .from(gate)
    .where(
      and(
        inArray(gate.state, states),
        codes && sql`${gate.hopCode} IN (SELECT value FROM json_each(${JSON.stringify(codes)}))`,
      ),
    )
    .orderBy(gate.hopCode, gate.side, gate.kind)
    .all();
  return groupBy(rows.map(gateOf), (g) => g.hopId);
}

/** All gates of hops, whatever their state. */
export function gatesOfHops(db: Db, codes: readonly string[]): Map<string, Gate[]> {
  const rows = db
    .select()
    .from(gate)
    .where(inArray(gate.hopCode, [...codes]))
    .orderBy(gate.hopCode, gate.side, gate.kind)
    .all();
  return groupBy(rows.map(gateOf), (g) => g.hopId);
}

/** Inserts the hop or brings the stored one to this state: ends, antennas, radios, routes and gates included. */
export function saveHop(db: Db, h: Hop): void {
  saveHops(db, [h]);
}

/** Like `saveHop`, for many. A stored end that the hop does not have stays as it is. */
export function saveHops(db: Db, hops: readonly PartHop[]): void {
  const ends = hops.flatMap((h) =>
    [h.near, h.far].flatMap((e) => (e ? [{ e, id: endId(h.code, e.side) }] : [])),
  );
  upsertRows(
    db,
    hop,
    hops.map((h) => ({
      code: h.code,
      scheme: h.scheme,
      bandGhz: h.bandGhz,
      promisedOn: h.promisedOn ?? null,
      weight: h.weight,
      alignment: h.alignment,
      acceptance: h.acceptance,
    })),
  );
  upsertRows(
    db,
    linkEnd,
    hops.flatMap((h) => [h.near, h.far].flatMap((e) => (e ? [endRow(h.code, e)] : []))),
  );
  // Radios and routes go with their antenna.
  const clearEnd = db.$client.prepare("DELETE FROM antenna_position WHERE end_id = ?");
  for (const { id } of ends) clearEnd.run(id);
  insertRows(
    db,
    antennaPosition,
    ends.flatMap(({ e, id }) => e.antennas.map((a) => antennaRow(id, a))),
  );
  insertRows(
    db,
    odu,
    ends.flatMap(({ e, id }) =>
      e.odus.map(({ route: _, targetLevelDbm = null, ...fields }) => ({
        endId: id,
        targetLevelDbm,
        ...fields,
      })),
    ),
  );
  insertRows(
    db,
    routeSegment,
    ends.flatMap(({ e, id }) =>
      e.odus.flatMap((o) => o.route.map((s, seq) => ({ endId: id, oduLabel: o.label, seq, ...s }))),
    ),
  );
  const clearGates = db.$client.prepare("DELETE FROM gate WHERE hop_code = ?");
  for (const h of hops) clearGates.run(h.code);
  upsertRows(
    db,
    gate,
    hops.flatMap((h) => h.gates.map((g) => gateRow({ ...g, hopId: h.code }))),
  );
}

export function saveGate(db: Db, g: Gate): void {
  upsertRows(db, gate, [gateRow(g)]);
}

/** Adds a gate; false when the hop has one of this kind at this end already: that one is to be changed instead. */
export function addGate(db: Db, g: Gate): boolean {
  return db.insert(gate).values(gateRow(g)).onConflictDoNothing().run().changes > 0;
}

function gateRow(g: Gate): typeof gate.$inferInsert {
  return {
    hopCode: g.hopId,
    side: g.side ?? "both",
    kind: g.kind,
    owner: g.owner,
    state: g.state,
    dueOn: g.dueOn ?? null,
  };
}

function endRow(hopCode: string, e: LinkEnd): typeof linkEnd.$inferInsert {
  return {
    id: endId(hopCode, e.side),
    hopCode,
    side: e.side,
    siteCode: e.siteId,
    cableCode: e.cableCode ?? null,
    worstSupplyV: e.worstSupplyV,
    includesIduPower: e.includesIduPower,
    entryHeightM: e.entryHeightM ?? null,
    couplerSplit: e.couplerSplit ?? null,
  };
}

function antennaRow(id: string, a: AntennaPosition): typeof antennaPosition.$inferInsert {
  return {
    endId: id,
    label: a.label,
    mountHeightM: a.mountHeightM,
    diameterM: a.diameterM,
    polarisations: a.polarisations.length === 2 ? "VH" : (a.polarisations[0] ?? "V"),
    mount: a.mount,
    bandGhz: a.bandGhz,
    owner: a.owner,
  };
}

export function groupBy<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const k = key(row);
    const list = groups.get(k);
    if (list) list.push(row);
    else groups.set(k, [row]);
  }
  return groups;
}
