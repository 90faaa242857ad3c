/** Import rows <-> the domain's nested types: sites, hops with ends and gates, catalogue items. */
import type {
  AntennaPosition,
  CatalogueItem,
  EndSide,
  Gate,
  Hop,
  ItemAttributes,
  LinkEnd,
  Odu,
  Site,
} from "@/lib/site";
import type { LotRule } from "@/lib/stock";
import { keyFrom } from "./keys";
import { kindOf } from "./kinds";
import { END_DEFAULTS } from "./kinds/hops";
import type { AntennaRow, EndRow, GateRow, HopRow, ItemRow, KindName, RadioRow, SiteRow } from "./rows";
import type { TakenOut } from "./typed";

/** The rows of a programme's design, by kind. */
export interface DesignRows {
  hops: readonly HopRow[];
  ends: readonly EndRow[];
  antennas: readonly AntennaRow[];
  radios: readonly RadioRow[];
  gates: readonly GateRow[];
}

/** How codes become ids; the defaults are the codes themselves and `${hopCode}/${side}`. */
export interface Ids {
  siteId?(siteCode: string): string;
  hopId?(hopCode: string): string;
  endId?(hopCode: string, side: EndSide): string;
}

const SIDES: readonly EndSide[] = ["near", "far"];

export function siteFromRow(row: SiteRow, id = row.code): Site {
  const { latDeg, lonDeg } = row;
  return {
    id,
    code: row.code,
    name: row.name,
    region: row.region ?? "",
    ...(latDeg === undefined || lonDeg === undefined ? {} : { position: { latDeg, lonDeg } }),
    elevationM: row.elevationM,
    zone: row.zone,
    structure: row.structure,
    structureHeightM: row.structureHeightM,
    terrain: row.terrain,
    ...(row.hasEarthingBar === undefined ? {} : { hasEarthingBar: row.hasEarthingBar }),
    access: {
      weekdays: row.accessWeekdays,
      fromMin: row.accessFromMin,
      toMin: row.accessToMin,
      noticeDays: row.noticeDays,
      allowsTwoCrews: row.allowsTwoCrews,
    },
  };
}

export function rowFromSite(site: Site): SiteRow {
  return filled<SiteRow>({
    code: site.code,
    name: site.name,
    region: site.region || undefined,
    latDeg: site.position?.latDeg,
    lonDeg: site.position?.lonDeg,
    elevationM: site.elevationM,
    zone: site.zone,
    structure: site.structure,
    structureHeightM: site.structureHeightM,
    terrain: site.terrain,
    hasEarthingBar: site.hasEarthingBar,
    accessWeekdays: site.access.weekdays,
    accessFromMin: site.access.fromMin,
    accessToMin: site.access.toMin,
    noticeDays: site.access.noticeDays,
    allowsTwoCrews: site.access.allowsTwoCrews,
  });
}

/** Hops -> rows for export, or for comparing with an import. */
export function rowsFromHops(
  hops: readonly Hop[],
  siteCodeOf: (siteId: string) => string = (id) => id,
): DesignRows {
  const ends = hops.flatMap((hop) => [hop.near, hop.far].map((end) => ({ hopCode: hop.code, end })));
  const at = (hopCode: string, end: LinkEnd) => ({ hopCode, side: end.side });
  return {
    hops: hops.map((hop) =>
      filled<HopRow>({
        code: hop.code,
        scheme: hop.scheme,
        bandGhz: hop.bandGhz,
        nearSiteCode: siteCodeOf(hop.near.siteId),
        farSiteCode: siteCodeOf(hop.far.siteId),
        promisedOn: hop.promisedOn,
        weight: hop.weight,
        alignment: hop.alignment,
        acceptance: hop.acceptance,
      }),
    ),
    ends: ends.map(({ hopCode, end }) =>
      filled<EndRow>({
        ...at(hopCode, end),
        siteCode: siteCodeOf(end.siteId),
        cableCode: end.cableCode,
        worstSupplyV: end.worstSupplyV,
        includesIduPower: end.includesIduPower,
        entryHeightM: end.entryHeightM,
        couplerSplit: end.couplerSplit,
      }),
    ),
    antennas: ends.flatMap(({ hopCode, end }) =>
      end.antennas.map((a) => ({ ...at(hopCode, end), siteCode: siteCodeOf(end.siteId), ...a })),
    ),
    radios: ends.flatMap(({ hopCode, end }) => end.odus.map((o) => ({ ...at(hopCode, end), ...o }))),
    gates: hops.flatMap((hop) =>
      hop.gates.map((g) =>
        filled<GateRow>({
          hopCode: hop.code,
          side: g.side,
          kind: g.kind,
          owner: g.owner || undefined,
          state: g.state,
          dueOn: g.dueOn,
        }),
      ),
    ),
  };
}

/**
 * Accepted rows merged into the hops that stand: a row replaces the one of its key, everything else stays.
 *
 * @param standing hops as they are, by code; those that no row names are not returned
 * @returns the hops that the rows touch, whole; and the codes of hops that lack a site at an end, which cannot be
 *   whole: their own row can be stored, nothing else
 */
export function hopsFromRows(
  rows: Partial<DesignRows>,
  standing: ReadonlyMap<string, Hop>,
  ids: Ids = {},
): { hops: Hop[]; withoutBothEnds: string[] } {
  const hopRows = new Map((rows.hops ?? []).map((r) => [r.code, r]));
  const ends = groupedByHop(rows.ends);
  const antennas = groupedByHop(rows.antennas);
  const radios = groupedByHop(rows.radios);
  const gates = groupedByHop(rows.gates);
  const touched = new Set([
    ...hopRows.keys(),
    ...[ends, antennas, radios, gates].flatMap((m) => [...m.keys()]),
  ]);
  const hops: Hop[] = [];
  const withoutBothEnds: string[] = [];

  for (const code of touched) {
    const old = standing.get(code);
    const row = hopRows.get(code);
    if (!row && !old) throw new RangeError(`no hop ${code} to put its rows on: they would have been refused`);
    const hopId = old?.id ?? ids.hopId?.(code) ?? code;
    const [near, far] = SIDES.map((side): LinkEnd | undefined => {
      const oldEnd = old?.[side];
      const siteCode = row && (side === "near" ? row.nearSiteCode : row.farSiteCode);
      const siteId = row ? siteCode && (ids.siteId?.(siteCode) ?? siteCode) : oldEnd?.siteId;
      if (!siteId) return undefined;
      return {
        id: oldEnd?.id ?? ids.endId?.(code, side) ?? `${code}/${side}`,
        hopId,
        side,
        siteId,
        ...endFields(ends.get(code)?.find((e) => e.side === side) ?? oldEnd ?? END_DEFAULTS),
        antennas: replaced(oldEnd?.antennas ?? [], antennas.get(code) ?? [], side, antennaOf),
        odus: replaced(oldEnd?.odus ?? [], radios.get(code) ?? [], side, oduOf),
      };
    });
    if (!near || !far) {
      withoutBothEnds.push(code);
      continue;
    }
    const base = row ?? old!;
    hops.push({
      id: hopId,
      code,
      scheme: base.scheme,
      bandGhz: base.bandGhz,
      ...(base.promisedOn === undefined ? {} : { promisedOn: base.promisedOn }),
      weight: base.weight,
      alignment: base.alignment,
      acceptance: base.acceptance,
      near,
      far,
      gates: mergedGates(hopId, old?.gates ?? [], gates.get(code) ?? []),
    });
  }
  return { hops, withoutBothEnds };
}

/** Hops without the antennas, radios and gates that a person takes out; what no row names stays. */
export function hopsWithout(hops: ReadonlyMap<string, Hop>, takenOut: readonly TakenOut[]): Map<string, Hop> {
  const gone = new Set(takenOut.map(({ kind, key }) => `${kind} ${key}`));
  const stays = (kind: KindName, row: Record<string, unknown>) =>
    !gone.has(`${kind} ${keyFrom(kindOf(kind).key, row)}`);
  const endOf = (hopCode: string, end: LinkEnd): LinkEnd => ({
    ...end,
    antennas: end.antennas.filter(({ label }) => stays("antennas", { hopCode, side: end.side, label })),
    odus: end.odus.filter(({ label }) => stays("radios", { hopCode, side: end.side, label })),
  });
  return new Map(
    [...hops].map(([code, hop]) => [
      code,
      {
        ...hop,
        near: endOf(code, hop.near),
        far: endOf(code, hop.far),
        gates: hop.gates.filter(({ side, kind }) => stays("gates", { hopCode: code, side, kind })),
      },
    ]),
  );
}

export function itemFromRow(row: ItemRow): CatalogueItem & { lotRule: LotRule["kind"] } {
  const {
    code,
    name,
    category,
    unit,
    massKg,
    volumeL,
    owner,
    leadTimeDays,
    lotRule,
    orderMultiple,
    minimumOrder,
    safetyStock,
    priceMinor,
    currency,
    shelfLifeDays,
    ...attributes
  } = row;
  return {
    code,
    name,
    category,
    unit,
    massKg,
    volumeL,
    attributes,
    owner,
    leadTimeDays,
    lotRule,
    orderMultiple,
    minimumOrder,
    safetyStock,
    priceMinor,
    currency,
    ...(shelfLifeDays === undefined ? {} : { shelfLifeDays }),
  };
}

export function rowFromItem(item: CatalogueItem & { lotRule?: LotRule["kind"] }): ItemRow {
  const { attributes, lotRule, ...rest } = item;
  return filled<ItemRow>({
    ...(filled(attributes) as ItemAttributes),
    ...rest,
    lotRule: lotRule ?? "minimum",
  });
}

function endFields(
  end: Pick<LinkEnd, "cableCode" | "worstSupplyV" | "includesIduPower" | "entryHeightM" | "couplerSplit">,
) {
  return filled({
    cableCode: end.cableCode,
    worstSupplyV: end.worstSupplyV,
    includesIduPower: end.includesIduPower,
    entryHeightM: end.entryHeightM,
    couplerSplit: end.couplerSplit,
  });
}

function antennaOf({ hopCode: _, side: __, siteCode: ___, ...antenna }: AntennaRow): AntennaPosition {
  return antenna;
}

function oduOf({ hopCode: _, side: __, ...odu }: RadioRow): Odu {
  return odu;
}

/** The old list with new entries in the place of those of the same label, others behind. */
function replaced<T extends { label: string }, R extends { label: string; side: EndSide }>(
  old: readonly T[],
  rows: readonly R[],
  side: EndSide,
  make: (row: R) => T,
): T[] {
  const made = new Map(rows.filter((r) => r.side === side).map((r) => [r.label, make(r)]));
  const kept = old.map((o) => {
    const instead = made.get(o.label);
    made.delete(o.label);
    return instead ?? o;
  });
  return [...kept, ...made.values()];
}

function mergedGates(hopId: string, old: readonly Gate[], rows: readonly GateRow[]): Gate[] {
  const nameOf = (g: { side?: EndSide; kind: string }) => `${g.side ?? ""} ${g.kind}`;
  const made = new Map(
    rows.map((r): [string, Gate] => [
      nameOf(r),
      filled<Gate>({
        hopId,
        side: r.side,
        kind: r.kind,
        owner: r.owner ?? "",
        state: r.state,
        dueOn: r.dueOn,
      }),
    ]),
  );
  const kept = old.map((g) => {
    const instead = made.get(nameOf(g));
    made.delete(nameOf(g));
    return instead ?? g;
  });
  return [...kept, ...made.values()];
}

function groupedByHop<R extends { hopCode: string }>(rows: readonly R[] | undefined): Map<string, R[]> {
  const groups = new Map<string, R[]>();
  for (const row of rows ?? []) {
    const list = groups.get(row.hopCode);
    if (list) list.push(row);
    else groups.set(row.hopCode, [row]);
  }
  return groups;
}

/** Without the fields that are undefined. */
function filled<T extends object>(fields: { [K in keyof T]: T[K] | undefined }): T {
  return Object.fromEntries(Object.entries(fields).filter(([, v]) => v !== undefined)) as T;
}
