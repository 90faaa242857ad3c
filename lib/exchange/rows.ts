/**
 * One flat row type per kind of thing that files bring in. Field names are those of lib/site/types.ts and
 * lib/schedule/types.ts where a field means the same; other things are named by their codes, never by ids.
 * `undefined` = the cell is blank. Text is trimmed, in Unicode NFC and without control characters but line feeds.
 */
import type { WorkKind } from "@/lib/calibration";
import type { Skill } from "@/lib/hours";
import type {
  AcceptanceProcedure,
  AlignmentProcedure,
  AntennaMount,
  CouplerSplit,
  EndSide,
  GateKind,
  ItemAttributes,
  ItemCategory,
  OduRole,
  Owner,
  Polarisation,
  RouteSegment,
  Scheme,
  StructureKind,
  TerrainCategory,
  TransmitHalf,
  Unit,
} from "@/lib/site";
import type { LotRule } from "@/lib/stock";
import type { CalendarDate, Weekday } from "@/lib/time";

export interface SiteRow {
  code: string;
  name: string;
  region?: string;
  latDeg?: number;
  lonDeg?: number;
  elevationM: number;
  zone: string;
  structure: StructureKind;
  structureHeightM: number;
  terrain: TerrainCategory;
  hasEarthingBar?: boolean;
  accessWeekdays: readonly Weekday[];
  accessFromMin: number;
  accessToMin: number;
  noticeDays: number;
  allowsTwoCrews: boolean;
}

export interface HopRow {
  code: string;
  scheme: Scheme;
  bandGhz: number;
  /** Blank = not known yet: the hop has no such end and stays a snag. */
  nearSiteCode?: string;
  farSiteCode?: string;
  promisedOn?: CalendarDate;
  weight: number;
  alignment: AlignmentProcedure;
  acceptance: AcceptanceProcedure;
}

/** What a hop's end has beyond its site, antennas and radios. A hop without such a row takes the defaults. */
export interface EndRow {
  hopCode: string;
  side: EndSide;
  /** Checked against the hop's near or far site, never stored from here. */
  siteCode?: string;
  cableCode?: string;
  worstSupplyV: number;
  includesIduPower: boolean;
  entryHeightM?: number;
  couplerSplit?: CouplerSplit;
}

export interface AntennaRow {
  hopCode: string;
  side: EndSide;
  /** Checked against the hop's near or far site, never stored from here. */
  siteCode?: string;
  label: string;
  mountHeightM: number;
  diameterM: number;
  polarisations: readonly Polarisation[];
  mount: AntennaMount;
  bandGhz: number;
  owner: Owner;
}

/** One ODU. */
export interface RadioRow {
  hopCode: string;
  side: EndSide;
  label: string;
  antennaLabel: string;
  bandGhz: number;
  subBand: string;
  duplexSpacingMhz: number;
  half: TransmitHalf;
  polarisation: Polarisation;
  role: OduRole;
  mounting: "direct" | "remote";
  owner: Owner;
  route: readonly RouteSegment[];
  earthBarDistanceM: number;
  targetLevelDbm?: number;
}

export interface GateRow {
  hopCode: string;
  /** undefined = the gate holds the whole hop. */
  side?: EndSide;
  kind: GateKind;
  owner?: string;
  state: "met" | "dated" | "open";
  dueOn?: CalendarDate;
}

/** A warehouse (also a crew's depot), a vehicle or a site with stock. */
export interface PlaceRow {
  code: string;
  name: string;
  kind: "warehouse" | "vehicle" | "site" | "hold" | "repair";
  latDeg?: number;
  lonDeg?: number;
}

/** A catalogue item with its attributes side by side. */
export interface ItemRow extends ItemAttributes {
  code: string;
  name: string;
  category: ItemCategory;
  unit: Unit;
  massKg: number;
  volumeL: number;
  owner: Owner;
  leadTimeDays: number;
  lotRule: LotRule["kind"];
  orderMultiple: number;
  minimumOrder: number;
  safetyStock: number;
  priceMinor: number;
  currency: string;
  shelfLifeDays?: number;
}

/** Opening stock: what lies at one place, of one owner and lot or drum. */
export interface StockRow {
  itemCode: string;
  placeCode: string;
  owner: Owner;
  lotCode?: string;
  expiresOn?: CalendarDate;
  drumSerial?: string;
  /** Length of the drum as received, m. */
  receivedM?: number;
  /** What is left on the drum, m. Equals `quantity` on a drum row. */
  remainingM?: number;
  /** In the item's unit, whole hundredths. */
  quantity: number;
}

/** One line of an order on its way. */
export interface OrderRow {
  orderCode: string;
  lineNo: number;
  itemCode: string;
  quantity: number;
  dueOn: CalendarDate;
  placeCode: string;
  supplier?: string;
  owner: Owner;
  priceMinor?: number;
  currency?: string;
}

export interface CrewRow {
  code: string;
  name: string;
  /** Code of the place the crew starts from. */
  depotPlace: string;
  zone: string;
  weekdays: readonly Weekday[];
  shiftFromMin: number;
  shiftToMin: number;
  overtimeMaxMin: number;
  weeklyMaxMin: number;
  restMin: number;
  nightsAwayMax: number;
  payloadKg: number;
  pace: number;
}

export interface HeldSkill {
  skill: Skill;
  /** Last day of the certificate; undefined = does not expire. */
  validUntil?: CalendarDate;
}

/** Both days are days off. */
export interface Leave {
  fromOn: CalendarDate;
  toOn: CalendarDate;
  reason: string;
}

export interface CrewMemberRow {
  code: string;
  crewCode: string;
  name: string;
  isLead: boolean;
  skills: readonly HeldSkill[];
  leave: readonly Leave[];
}

export interface WeatherPlaceRow {
  code: string;
  name: string;
  latDeg: number;
  lonDeg: number;
  elevationM: number;
}

/** One hour at one place. A missing figure is undefined: a gap is never fine weather. */
export interface WeatherRow {
  placeCode: string;
  /** Start of the hour, epoch milliseconds. */
  startsAtMillis: number;
  /** Of an ensemble forecast: which of its members, from 1. */
  memberNo?: number;
  windMs?: number;
  gustMs?: number;
  rainMmH?: number;
  tempC?: number;
  humidityPct?: number;
  thunder?: boolean;
}

/** Minutes that a crew timed for one task. */
export interface TaskMinutes {
  /** Part of the hour norms. */
  part: string;
  workedMin: number;
}

/** What a crew worked on one visit on one day. */
export interface ActualHoursRow {
  hopCode: string;
  side: EndSide;
  work: WorkKind;
  /** 1 for the first or only visit of the work, 2 for the second ... */
  visitNo: number;
  workedOn: CalendarDate;
  crewCode: string;
  workedMin: number;
  /** Did the visit end with it? */
  isFinished: boolean;
  tasks: readonly TaskMinutes[];
}

export interface RowsByKind {
  sites: SiteRow;
  hops: HopRow;
  ends: EndRow;
  antennas: AntennaRow;
  radios: RadioRow;
  gates: GateRow;
  places: PlaceRow;
  items: ItemRow;
  stock: StockRow;
  orders: OrderRow;
  crews: CrewRow;
  "crew members": CrewMemberRow;
  "weather places": WeatherPlaceRow;
  weather: WeatherRow;
  "actual hours": ActualHoursRow;
}

export type KindName = keyof RowsByKind;
export type RowOf<K extends KindName> = RowsByKind[K];
