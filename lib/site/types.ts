/** Design data of sites, hops and link ends, and the catalogue the design draws on. Lengths m, angles degrees. */
import type { LatLon } from "@/lib/geo";
import type { CalendarDate, Weekday } from "@/lib/time";

/** Lattice tower, guyed mast, monopole, rooftop. */
export type StructureKind = "lattice" | "mast" | "monopole" | "roof";
export const STRUCTURE_KINDS: readonly StructureKind[] = ["lattice", "mast", "monopole", "roof"];

export type Polarisation = "V" | "H";

export type Scheme =
  | "1+0"
  | "1+1 hot standby"
  | "1+1 space diversity"
  | "2+0 dual-polar"
  | "2+0 two channels";
export const SCHEMES: readonly Scheme[] = [
  "1+0",
  "1+1 hot standby",
  "1+1 space diversity",
  "2+0 dual-polar",
  "2+0 two channels",
];

/** Terrain category of EN 1991-1-4 Table 4.1. */
export type TerrainCategory = "0" | "I" | "II" | "III" | "IV";
export const TERRAIN_CATEGORIES: readonly TerrainCategory[] = ["0", "I", "II", "III", "IV"];

export type Owner = "contractor" | "customer";

/** When the site owner lets crews in. Minutes are wall-clock minutes of the day in the site's zone. */
export interface SiteAccess {
  weekdays: readonly Weekday[];
  fromMin: number;
  toMin: number;
  /** Days of notice that the owner wants before a visit. */
  noticeDays: number;
  /** May two crews work on the structure at the same time? */
  allowsTwoCrews: boolean;
}

export interface Site {
  id: string;
  code: string;
  name: string;
  region: string;
  /** undefined when the design data has no coordinate: such a site is planned last and shown as a snag. */
  position?: LatLon;
  elevationM: number;
  /** IANA time zone. */
  zone: string;
  structure: StructureKind;
  /** Height of the structure above its base, m. */
  structureHeightM: number;
  terrain: TerrainCategory;
  /** Is there an earthing bar for the runs? undefined = not surveyed. */
  hasEarthingBar?: boolean;
  access: SiteAccess;
}

export type AntennaMount = "pole" | "face" | "roof stand";
export const ANTENNA_MOUNTS: readonly AntennaMount[] = ["pole", "face", "roof stand"];

export interface AntennaPosition {
  /** Unique within the end, e.g. `A1`. */
  label: string;
  mountHeightM: number;
  diameterM: number;
  polarisations: readonly Polarisation[];
  mount: AntennaMount;
  bandGhz: number;
  owner: Owner;
}

export type OduRole = "main" | "standby" | "channel 1" | "channel 2";
export const ODU_ROLES: readonly OduRole[] = ["main", "standby", "channel 1", "channel 2"];

export type TransmitHalf = "high" | "low";

/** What makes two radios the same thing on a shelf: all four must match. */
export interface RadioIdentity {
  bandGhz: number;
  subBand: string;
  duplexSpacingMhz: number;
  half: TransmitHalf;
}

export type SegmentKind = "vertical" | "bridge" | "tray" | "indoor";
export const SEGMENT_KINDS: readonly SegmentKind[] = ["vertical", "bridge", "tray", "indoor"];

export interface RouteSegment {
  kind: SegmentKind;
  lengthM: number;
  /** Does the cable bend where this segment ends? */
  bendAtEnd: boolean;
}

export interface Odu extends RadioIdentity {
  /** Unique within the end, e.g. `R1`. */
  label: string;
  /** Label of the antenna position it feeds. */
  antennaLabel: string;
  polarisation: Polarisation;
  role: OduRole;
  /** On the antenna or its coupler, or on a pole beside it. */
  mounting: "direct" | "remote";
  owner: Owner;
  /** From the ODU down to the IDU, in order. */
  route: readonly RouteSegment[];
  /** Distance from the ODU frame to its earthing bar, m. */
  earthBarDistanceM: number;
  /** Receive level that the link budget promises at this ODU, dBm; undefined = not given yet. */
  targetLevelDbm?: number;
}

export type EndSide = "near" | "far";

/** How a hybrid coupler shares the power between its two ports. */
export type CouplerSplit = "equal" | "unequal";

export interface LinkEnd {
  id: string;
  hopId: string;
  side: EndSide;
  siteId: string;
  antennas: readonly AntennaPosition[];
  odus: readonly Odu[];
  /** Catalogue code of the IF cable, or undefined for "choose the lightest that passes". */
  cableCode?: string;
  /** Supply voltage at the IDU in the worst case, V (magnitude of the -48 V system). */
  worstSupplyV: number;
  /** Is a DC cable and breaker for the IDU part of the order? */
  includesIduPower: boolean;
  /** Height of the cable entry above the base of the structure, m; undefined = the policy's assumption. */
  entryHeightM?: number;
  /** Which hybrid coupler the link budget counts on; undefined = the policy's choice. */
  couplerSplit?: CouplerSplit;
}

/** A condition that must be met before work starts on a hop. */
export type GateKind =
  | "survey"
  | "structure approval"
  | "site ready"
  | "supply"
  | "spectrum licence"
  | "access permit";
export const GATE_KINDS: readonly GateKind[] = [
  "survey",
  "structure approval",
  "site ready",
  "supply",
  "spectrum licence",
  "access permit",
];

export interface Gate {
  hopId: string;
  /** undefined = the gate holds the whole hop. */
  side?: EndSide;
  kind: GateKind;
  owner: string;
  /** met: passed. dated: expected on `dueOn`. open: no date, work cannot be planned. */
  state: "met" | "dated" | "open";
  dueOn?: CalendarDate;
}

/** How a hop's antennas are aligned. End after end only where the procedure allows it (common practice). */
export type AlignmentProcedure = "both ends at once" | "end after end";
export const ALIGNMENT_PROCEDURES: readonly AlignmentProcedure[] = ["both ends at once", "end after end"];

/** When the acceptance readings are taken on site: as the last work of the alignment, or on a visit to each end. */
export type AcceptanceProcedure = "with the alignment" | "own visit";
export const ACCEPTANCE_PROCEDURES: readonly AcceptanceProcedure[] = ["with the alignment", "own visit"];

export interface Hop {
  id: string;
  code: string;
  scheme: Scheme;
  bandGhz: number;
  /** Date promised to the customer. */
  promisedOn?: CalendarDate;
  /** Weight of a day late, 1 = ordinary. */
  weight: number;
  alignment: AlignmentProcedure;
  acceptance: AcceptanceProcedure;
  near: LinkEnd;
  far: LinkEnd;
  gates: readonly Gate[];
}

/* ---- catalogue ---- */

export type Unit = "piece" | "m" | "roll" | "can" | "tube" | "pack";
export const UNITS: readonly Unit[] = ["piece", "m", "roll", "can", "tube", "pack"];

export type ItemCategory =
  | "ODU"
  | "antenna"
  | "hybrid coupler"
  | "orthomode coupling"
  | "IDU"
  | "IF cable"
  | "connector"
  | "earthing kit"
  | "earthing lead"
  | "lug"
  | "tie outdoor"
  | "tie indoor"
  | "cable hanger"
  | "self-amalgamating tape"
  | "PVC tape"
  | "surge arrestor"
  | "hoisting grip"
  | "pole mount"
  | "side strut"
  | "flange gasket"
  | "label"
  | "gland"
  | "power"
  | "chemical"
  | "consumable"
  | "flexible waveguide"
  | "polarisation part";
export const ITEM_CATEGORIES: readonly ItemCategory[] = [
  "ODU",
  "antenna",
  "hybrid coupler",
  "orthomode coupling",
  "IDU",
  "IF cable",
  "connector",
  "earthing kit",
  "earthing lead",
  "lug",
  "tie outdoor",
  "tie indoor",
  "cable hanger",
  "self-amalgamating tape",
  "PVC tape",
  "surge arrestor",
  "hoisting grip",
  "pole mount",
  "side strut",
  "flange gasket",
  "label",
  "gland",
  "power",
  "chemical",
  "consumable",
  "flexible waveguide",
  "polarisation part",
];

/** Attributes by which the take-off finds an item. Only those that apply are set. */
export interface ItemAttributes {
  bandGhz?: number;
  subBand?: string;
  duplexSpacingMhz?: number;
  half?: TransmitHalf;
  diameterM?: number;
  /** Couplers: polarisation as delivered. */
  factoryPolarisation?: Polarisation;
  /** Couplers: does the part for the other polarisation come in the box? undefined = yes. */
  polarisationPartInBox?: boolean;
  /** Couplers: equal or unequal split with the loss of each port, dB. */
  split?: CouplerSplit;
  mainLossDb?: number;
  standbyLossDb?: number;
  /** The cable type that a connector, kit, hanger or gland fits: outer diameter, mm. */
  cableDiameterMm?: number;
  /** IF cable: loss k1 sqrt(f) + k2 f, dB per 100 m, f in MHz. */
  k1?: number;
  k2?: number;
  /** IF cable: DC loop resistance at 20 degC, ohm per 100 m of route. */
  loopOhmPer100M?: number;
  minBendRadiusMm?: number;
  /** IF cable: longest hang between grips, or largest pull, N. */
  maxPullN?: number;
  massKgPerM?: number;
  /** Tapes. */
  tapeWidthMm?: number;
  tapeThicknessMm?: number;
  rollLengthM?: number;
  tapeMinTempC?: number;
  /** ODU: power drawn, W, and lowest working voltage at its input, V. */
  powerW?: number;
  minVoltageV?: number;
  /** IF cable: the two intermediate frequencies, MHz, and the loss limit between IDU and ODU, dB, are on the ODU. */
  ifLowMhz?: number;
  ifHighMhz?: number;
  maxIfLossDb?: number;
  crossSectionMm2?: number;
  /** IF cable: most bends that one run may have. */
  maxBends?: number;
  /** Connectors and earthing kits: the diameter that a tape wrap starts on, mm. */
  wrapDiameterMm?: number;
  /** Tubes and cans: what they hold, g. */
  contentG?: number;
}

export interface CatalogueItem {
  code: string;
  name: string;
  category: ItemCategory;
  unit: Unit;
  massKg: number;
  volumeL: number;
  attributes: ItemAttributes;
  /** Who normally owns it. */
  owner: Owner;
  leadTimeDays: number;
  /** Order quantities are a multiple of this, at least `minimumOrder`. Cable: the drum length, m. */
  orderMultiple: number;
  minimumOrder: number;
  safetyStock: number;
  priceMinor: number;
  currency: string;
  shelfLifeDays?: number;
}
