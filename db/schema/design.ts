/** Sites, hops, link ends and gates: the design data as imported. Natural keys; a renamed code cascades. */
import { sql } from "drizzle-orm";
import {
  check,
  foreignKey,
  index,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
  uniqueIndex,
} from "drizzle-orm/sqlite-core";
import type {
  AcceptanceProcedure,
  AlignmentProcedure,
  AntennaMount,
  CouplerSplit,
  EndSide,
  GateKind,
  OduRole,
  Owner,
  Polarisation,
  Scheme,
  SegmentKind,
  StructureKind,
  TerrainCategory,
  TransmitHalf,
} from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { item } from "./catalogue";

const cascade = { onUpdate: "cascade", onDelete: "cascade" } as const;
const keep = { onUpdate: "cascade", onDelete: "restrict" } as const;

export const site = sqliteTable(
  "site",
  {
    code: text("code").primaryKey(),
    name: text("name").notNull(),
    region: text("region").notNull(),
    /** Both or neither: a site without a coordinate is a snag, not a guess. */
    latDeg: real("lat_deg"),
    lonDeg: real("lon_deg"),
    elevationM: real("elevation_m").notNull(),
    zone: text("zone").notNull(),
    structure: text("structure").$type<StructureKind>().notNull(),
    structureHeightM: real("structure_height_m").notNull(),
    terrain: text("terrain").$type<TerrainCategory>().notNull(),
    hasEarthingBar: integer("has_earthing_bar", { mode: "boolean" }),
    /** ISO weekdays as digits in order, e.g. `12345`. */
    accessWeekdays: text("access_weekdays").notNull(),
    accessFromMin: integer("access_from_min").notNull(),
    accessToMin: integer("access_to_min").notNull(),
    noticeDays: integer("notice_days").notNull(),
    allowsTwoCrews: integer("allows_two_crews", { mode: "boolean" }).notNull(),
  },
  (t) => [
    check("site_position", sql`(${t.latDeg} IS NULL) = (${t.lonDeg} IS NULL)`),
    check("site_lat", sql`${t.latDeg} IS NULL OR ${t.latDeg} BETWEEN -90 AND 90`),
    check("site_lon", sql`${t.lonDeg} IS NULL OR ${t.lonDeg} BETWEEN -180 AND 180`),
    check("site_structure", sql`${t.structure} IN ('lattice','mast','monopole','roof')`),
    check("site_terrain", sql`${t.terrain} IN ('0','I','II','III','IV')`),
    check("site_height", sql`${t.structureHeightM} > 0`),
    check(
      "site_access",
      sql`${t.accessFromMin} >= 0 AND ${t.accessToMin} <= 1440 AND ${t.accessFromMin} < ${t.accessToMin}`,
    ),
    check("site_weekdays", sql`${t.accessWeekdays} <> '' AND ${t.accessWeekdays} NOT GLOB '*[^1-7]*'`),
    check("site_notice", sql`${t.noticeDays} >= 0`),
    index("site_region").on(t.region),
  ],
);

export const hop = sqliteTable(
  "hop",
  {
    code: text("code").primaryKey(),
    scheme: text("scheme").$type<Scheme>().notNull(),
    bandGhz: real("band_ghz").notNull(),
    promisedOn: text("promised_on").$type<CalendarDate>(),
    weight: real("weight").notNull(),
    alignment: text("alignment").$type<AlignmentProcedure>().notNull().default("both ends at once"),
    acceptance: text("acceptance").$type<AcceptanceProcedure>().notNull().default("with the alignment"),
  },
  (t) => [
    check(
      "hop_scheme",
      sql`${t.scheme} IN ('1+0','1+1 hot standby','1+1 space diversity','2+0 dual-polar','2+0 two channels')`,
    ),
    check("hop_band", sql`${t.bandGhz} > 0`),
    check("hop_weight", sql`${t.weight} > 0`),
    check("hop_alignment", sql`${t.alignment} IN ('both ends at once','end after end')`),
    check("hop_acceptance", sql`${t.acceptance} IN ('with the alignment','own visit')`),
    check("hop_promise", sql`${t.promisedOn} IS NULL OR ${t.promisedOn} GLOB '????-??-??'`),
  ],
);

export const linkEnd = sqliteTable(
  "link_end",
  {
    /** `${hopCode}/${side}`. */
    id: text("id").primaryKey(),
    hopCode: text("hop_code")
      .notNull()
      .references(() => hop.code, cascade),
    side: text("side").$type<EndSide>().notNull(),
    siteCode: text("site_code")
      .notNull()
      .references(() => site.code, keep),
    cableCode: text("cable_code").references(() => item.code, keep),
    worstSupplyV: real("worst_supply_v").notNull(),
    includesIduPower: integer("includes_idu_power", { mode: "boolean" }).notNull(),
    entryHeightM: real("entry_height_m"),
    couplerSplit: text("coupler_split").$type<CouplerSplit>(),
  },
  (t) => [
    check("link_end_side", sql`${t.side} IN ('near','far')`),
    check("link_end_supply", sql`${t.worstSupplyV} > 0`),
    check("link_end_split", sql`${t.couplerSplit} IS NULL OR ${t.couplerSplit} IN ('equal','unequal')`),
    check("link_end_entry", sql`${t.entryHeightM} IS NULL OR ${t.entryHeightM} >= 0`),
    uniqueIndex("link_end_hop_side").on(t.hopCode, t.side),
    index("link_end_site").on(t.siteCode),
  ],
);

export const antennaPosition = sqliteTable(
  "antenna_position",
  {
    endId: text("end_id")
      .notNull()
      .references(() => linkEnd.id, cascade),
    label: text("label").notNull(),
    mountHeightM: real("mount_height_m").notNull(),
    diameterM: real("diameter_m").notNull(),
    /** `V`, `H` or `VH`. */
    polarisations: text("polarisations").$type<"V" | "H" | "VH">().notNull(),
    mount: text("mount").$type<AntennaMount>().notNull(),
    bandGhz: real("band_ghz").notNull(),
    owner: text("owner").$type<Owner>().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.endId, t.label] }),
    check("antenna_height", sql`${t.mountHeightM} > 0`),
    check("antenna_diameter", sql`${t.diameterM} > 0`),
    check("antenna_polarisations", sql`${t.polarisations} IN ('V','H','VH')`),
    check("antenna_mount", sql`${t.mount} IN ('pole','face','roof stand')`),
    check("antenna_owner", sql`${t.owner} IN ('contractor','customer')`),
  ],
);

export const odu = sqliteTable(
  "odu",
  {
    endId: text("end_id").notNull(),
    label: text("label").notNull(),
    antennaLabel: text("antenna_label").notNull(),
    polarisation: text("polarisation").$type<Polarisation>().notNull(),
    role: text("role").$type<OduRole>().notNull(),
    mounting: text("mounting").$type<"direct" | "remote">().notNull(),
    owner: text("owner").$type<Owner>().notNull(),
    bandGhz: real("band_ghz").notNull(),
    subBand: text("sub_band").notNull(),
    duplexSpacingMhz: real("duplex_spacing_mhz").notNull(),
    half: text("half").$type<TransmitHalf>().notNull(),
    earthBarDistanceM: real("earth_bar_distance_m").notNull(),
    targetLevelDbm: real("target_level_dbm"),
  },
  (t) => [
    primaryKey({ columns: [t.endId, t.label] }),
    foreignKey({
      columns: [t.endId, t.antennaLabel],
      foreignColumns: [antennaPosition.endId, antennaPosition.label],
      name: "odu_antenna",
    })
      .onUpdate("cascade")
      .onDelete("cascade"),
    check("odu_polarisation", sql`${t.polarisation} IN ('V','H')`),
    check("odu_role", sql`${t.role} IN ('main','standby','channel 1','channel 2')`),
    check("odu_mounting", sql`${t.mounting} IN ('direct','remote')`),
    check("odu_owner", sql`${t.owner} IN ('contractor','customer')`),
    check("odu_half", sql`${t.half} IN ('high','low')`),
    check("odu_earth", sql`${t.earthBarDistanceM} >= 0`),
  ],
);

export const routeSegment = sqliteTable(
  "route_segment",
  {
    endId: text("end_id").notNull(),
    oduLabel: text("odu_label").notNull(),
    seq: integer("seq").notNull(),
    kind: text("kind").$type<SegmentKind>().notNull(),
    lengthM: real("length_m").notNull(),
    bendAtEnd: integer("bend_at_end", { mode: "boolean" }).notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.endId, t.oduLabel, t.seq] }),
    foreignKey({
      columns: [t.endId, t.oduLabel],
      foreignColumns: [odu.endId, odu.label],
      name: "segment_odu",
    })
      .onUpdate("cascade")
      .onDelete("cascade"),
    check("segment_kind", sql`${t.kind} IN ('vertical','bridge','tray','indoor')`),
    check("segment_length", sql`${t.lengthM} > 0`),
  ],
);

export const gate = sqliteTable(
  "gate",
  {
    hopCode: text("hop_code")
      .notNull()
      .references(() => hop.code, cascade),
    /** `both` holds the whole hop. */
    side: text("side").$type<EndSide | "both">().notNull(),
    kind: text("kind").$type<GateKind>().notNull(),
    owner: text("owner").notNull(),
    state: text("state").$type<"met" | "dated" | "open">().notNull(),
    dueOn: text("due_on").$type<CalendarDate>(),
  },
  (t) => [
    primaryKey({ columns: [t.hopCode, t.side, t.kind] }),
    check("gate_side", sql`${t.side} IN ('near','far','both')`),
    check(
      "gate_kind",
      sql`${t.kind} IN ('survey','structure approval','site ready','supply','spectrum licence','access permit')`,
    ),
    check("gate_state", sql`${t.state} IN ('met','dated','open')`),
    check("gate_dated", sql`${t.state} <> 'dated' OR ${t.dueOn} IS NOT NULL`),
  ],
);
