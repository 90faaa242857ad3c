/** The rules a new company starts with. Every figure carries its mark: confirm with the maker's instructions. */
import type { ItemCategory } from "@/lib/site";
import type { Driver, RoundingLevel, TakeoffRule } from "./types";

const CP = "common practice";
const M = "from memory";

type Details = Partial<Omit<TakeoffRule, "id" | "name" | "category" | "driver">>;

function rule(
  id: string,
  name: string,
  category: ItemCategory,
  driver: Driver,
  level: RoundingLevel,
  source: string,
  details: Details = {},
): TakeoffRule {
  return {
    id,
    name,
    category,
    driver,
    factor: 1,
    offset: 0,
    allowance: 0,
    step: 1,
    level,
    when: {},
    source,
    enabled: true,
    ...details,
  };
}

/** Common practice: two lugs an earthing lead. */
const LUGS_PER_LEAD = 2;
/** Clamps that one can of cold-galvanising spray restores (from memory). */
const CLAMPS_PER_CAN = 20;
/** Length of the lead from an IDU to the indoor earthing bar, m (from memory). */
const IDU_LEAD_M = 3;
/** Length of the DC cable from the breaker to an IDU, m (from memory). */
const IDU_DC_CABLE_M = 10;

export const DEFAULT_RULES: readonly TakeoffRule[] = [
  // the run
  rule("connectors", "IF connectors", "connector", "connectors", "order", CP, {
    allowanceFrom: "connectorLoss",
  }),
  rule("caps", "Connector caps for hoisting", "consumable", "runs", "order", M, { itemCode: "CAP-CON" }),
  rule("grips", "Hoisting grips", "hoisting grip", "runs", "end", CP),
  rule("arrestors", "Surge arrestors, indoor end", "surge arrestor", "runs", "end", CP),
  rule("glands", "Cable glands at the entry", "gland", "entries", "end", CP),
  rule("cable-labels", "Cable labels", "label", "runs", "end", CP, { factor: 2, itemCode: "LBL-CABLE" }),
  rule("cable-labels-outdoor", "Weatherproof cable labels", "label", "runs", "end", CP, {
    itemCode: "LBL-OUTDOOR",
  }),
  rule("odu-labels", "ODU labels", "label", "ODUs", "end", CP, { itemCode: "LBL-ODU" }),

  // earthing
  rule("earthing-kits", "Earthing kits", "earthing kit", "earthing points", "end", CP),
  rule("odu-leads", "Earthing lead, ODU frames", "earthing lead", "metres of ODU earthing lead", "order", M, {
    allowance: 0.1,
  }),
  rule("odu-lugs", "Lugs, ODU leads", "lug", "ODU earthing leads", "end", CP, { factor: LUGS_PER_LEAD }),
  rule("idu-lead", "Earthing lead, IDU", "earthing lead", "IDUs", "order", M, {
    factor: IDU_LEAD_M,
    measure: "m",
    allowance: 0.1,
  }),
  rule("idu-lugs", "Lugs, IDU lead", "lug", "IDUs", "end", CP, { factor: LUGS_PER_LEAD }),
  rule(
    "galvanising-points",
    "Cold-galvanising spray, earthing points",
    "chemical",
    "earthing points",
    "order",
    M,
    {
      factor: 1 / CLAMPS_PER_CAN,
      itemCode: "CHM-ZINC",
    },
  ),
  rule(
    "galvanising-leads",
    "Cold-galvanising spray, ODU leads",
    "chemical",
    "ODU earthing leads",
    "order",
    M,
    {
      factor: 1 / CLAMPS_PER_CAN,
      itemCode: "CHM-ZINC",
    },
  ),

  // fixing
  rule("ties-outdoor", "Ties, UV-stable", "tie outdoor", "ties outdoors", "site", CP, {
    allowanceFrom: "tieLoss",
  }),
  rule("ties-indoor", "Ties, indoors", "tie indoor", "ties indoors", "site", CP, {
    allowanceFrom: "tieLoss",
  }),
  rule("hangers", "Cable hangers", "cable hanger", "cable hangers", "end", CP, { allowance: 0.02 }),

  // weatherproofing
  rule(
    "tape-self-amalgamating",
    "Self-amalgamating tape",
    "self-amalgamating tape",
    "metres of self-amalgamating tape",
    "order",
    CP,
    { measure: "m", itemCode: "TAPE-SA-38" },
  ),
  rule("tape-pvc", "PVC tape", "PVC tape", "metres of PVC tape", "order", CP, {
    measure: "m",
    itemCode: "TAPE-PVC-19",
  }),
  rule("wipes", "Cleaning wipes", "consumable", "wraps", "order", M, { itemCode: "WIPE", allowance: 0.1 }),

  // antenna, ODU, waveguide
  rule("pole-mounts", "Pole mounts, antennas", "pole mount", "antennas", "end", CP),
  rule("pole-mounts-odu", "Pole mounts, remote ODUs", "pole mount", "remote ODUs", "end", CP),
  rule("struts-1200", "Side strut from 1.2 m", "side strut", "antennas from 1.2 m", "end", M),
  rule("struts-2400", "Second side strut from 2.4 m", "side strut", "antennas from 2.4 m", "end", M),
  rule(
    "flexible-waveguide",
    "Flexible waveguides, remote ODUs",
    "flexible waveguide",
    "remote ODUs",
    "end",
    CP,
  ),
  rule("gaskets", "Flange gaskets", "flange gasket", "waveguide flanges", "order", CP, { allowance: 0.05 }),
  rule(
    "gasket-lubricant",
    "Gasket lubricant, never on the flange face",
    "chemical",
    "waveguide flanges",
    "order",
    M,
    {
      factor: 2,
      measure: "g",
      itemCode: "CHM-GASKET",
    },
  ),
  rule("rust-lubricant", "Rust-preventing lubricant, captive screws", "chemical", "couplers", "order", M, {
    factor: 5,
    measure: "g",
    itemCode: "CHM-RUST",
  }),
  rule(
    "polarisation-parts",
    "Polarisation parts not in the coupler's box",
    "polarisation part",
    "polarisation parts to buy",
    "end",
    CP,
  ),

  // indoors
  rule("idus", "Indoor units", "IDU", "IDUs", "end", CP),
  rule("idu-dc-cable", "DC cable, IDU", "power", "IDU power feeds", "order", M, {
    factor: IDU_DC_CABLE_M,
    measure: "m",
    itemCode: "PWR-CABLE",
  }),
  rule("idu-breaker", "Breaker, IDU", "power", "IDU power feeds", "end", CP, { itemCode: "PWR-BREAKER" }),
];
