/** Sites, hops with their ends, and gates: rows in, lib's types out, and back. */
import { inArray } from "drizzle-orm";
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
  const row = rowOfSite(s);
  const { code: _, ...rest } = row;
  db.insert(site).values(row).onConflictDoUpdate({ target: site.code, set: rest }).run();
}

/** Hops with both ends and gates, by code; all of them, or those named. A hop without two ends is left out. */
export function loadHops(db: Db, codes?: readonly string[]): Hop[] {
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
        route: (segments.get(`${row.id} ${o.label}`) ?? []).map(
          (s): RouteSegment => ({ kind: s.kind, lengthM: s.lengthM, bendAtEnd: s.bendAtEnd }),
        ),
      }),
    ),
  });

  return hops.flatMap((row): Hop[] => {
    const both = endsByHop.get(row.code) ?? [];
    const near = both.find((e) => e.side === "near");
    const far = both.find((e) => e.side === "far");
    if (!near || !far) return [];
    return [
      {
        id: row.code,
        code: row.code,
        scheme: row.scheme,
        bandGhz: row.bandGhz,
        promisedOn: row.promisedOn ?? undefined,
        weight: row.weight,
        near: buildEnd(near),
        far: buildEnd(far),
        gates: (gates.get(row.code) ?? []).map(
          (g): Gate => ({
            hopId: g.hopCode,
            side: g.side === "both" ? undefined : g.side,
            kind: g.kind,
            owner: g.owner,
            state: g.state,
            dueOn: g.dueOn ?? undefined,
          }),
        ),
      },
    ];
  });
}

export function loadHop(db: Db, code: string): Hop | undefined {
  return loadHops(db, [code])[0];
}

/** Codes of hops that lack an end: shown as snags, never planned. */
export function hopsWithoutBothEnds(db: Db): string[] {
  return db.$client
    .prepare(
      "SELECT code FROM hop WHERE (SELECT COUNT(*) FROM link_end WHERE hop_code = hop.code) < 2 ORDER BY code",
    )
    .pluck()
    .all() as string[];
}

/** Inserts the hop or brings the stored one to this state: ends, antennas, radios, routes and gates included. */
export function saveHop(db: Db, h: Hop): void {
  const row = {
    code: h.code,
    scheme: h.scheme,
    bandGhz: h.bandGhz,
    promisedOn: h.promisedOn ?? null,
    weight: h.weight,
  };
  const { code: _, ...rest } = row;
  db.insert(hop).values(row).onConflictDoUpdate({ target: hop.code, set: rest }).run();
  for (const e of [h.near, h.far]) saveEnd(db, h.code, e);
  db.delete(gate)
    .where(inArray(gate.hopCode, [h.code]))
    .run();
  for (const g of h.gates) saveGate(db, g);
}

export function saveGate(db: Db, g: Gate): void {
  const row = {
    hopCode: g.hopId,
    side: g.side ?? ("both" as const),
    kind: g.kind,
    owner: g.owner,
    state: g.state,
    dueOn: g.dueOn ?? null,
  };
  db.insert(gate)
    .values(row)
    .onConflictDoUpdate({
      target: [gate.hopCode, gate.side, gate.kind],
      set: { owner: row.owner, state: row.state, dueOn: row.dueOn },
    })
    .run();
}

function saveEnd(db: Db, hopCode: string, e: LinkEnd): void {
  const id = endId(hopCode, e.side);
  const row = {
    id,
    hopCode,
    side: e.side,
    siteCode: e.siteId,
    cableCode: e.cableCode ?? null,
    worstSupplyV: e.worstSupplyV,
    includesIduPower: e.includesIduPower,
    entryHeightM: e.entryHeightM ?? null,
    couplerSplit: e.couplerSplit ?? null,
  };
  const { id: _, ...rest } = row;
  db.insert(linkEnd).values(row).onConflictDoUpdate({ target: linkEnd.id, set: rest }).run();
  db.delete(antennaPosition)
    .where(inArray(antennaPosition.endId, [id]))
    .run(); // radios and routes go with their antenna
  for (const a of e.antennas) {
    db.insert(antennaPosition)
      .values({
        endId: id,
        label: a.label,
        mountHeightM: a.mountHeightM,
        diameterM: a.diameterM,
        polarisations: a.polarisations.length === 2 ? "VH" : (a.polarisations[0] ?? "V"),
        mount: a.mount,
        bandGhz: a.bandGhz,
        owner: a.owner,
      })
      .run();
  }
  for (const o of e.odus) {
    const { route, ...fields } = o;
    db.insert(odu)
      .values({ endId: id, ...fields })
      .run();
    route.forEach((s, seq) => {
      db.insert(routeSegment)
        .values({ endId: id, oduLabel: o.label, seq, ...s })
        .run();
    });
  }
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
