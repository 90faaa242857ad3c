/** The company's figures for the take-off: defaults with their marks, and the filling-in of older policies. */
import type { FullPolicy, TakeoffPolicy } from "./types";

export interface PolicyFigure {
  label: string;
  /** "" for a count or a choice. */
  unit: string;
  /** "common practice", "from memory" or a citation. Shown beside the figure on the settings screen. */
  source: string;
}

/** Confirm every figure with the maker's instructions and local rules: none is a maker's or a regulator's. */
export const DEFAULT_POLICY: FullPolicy = {
  version: 1,
  surplusM: 5,
  cutStepM: 0.5,
  dripLoopDiameterM: 0.6,
  terminationM: 0.5,
  maxEarthingSpacingM: 60,
  shortRunM: 10,
  minEarthingPoints: 3,
  bendClearanceM: 0.3,
  minEarthingSectionMm2: 16,
  connectorLoss: 0.05,
  tieLoss: 0.05,
  tiesOrHangers: "ties",
  hangerSpacingM: 1,
  tapeWidthRatio: 0.75,
  tapeOverlap: 0.5,
  tapeBeyondMm: 50,
  tapeEndLossMm: 100,
  wrapLengthMm: 150,
  handHoistMaxKg: 50,
  conductorMaxTempC: 50,
  wrapsEntry: false,
  lossOfSurgeArrestorDb: 0.2,
  nearOduM: 1,
  beforeEntryM: 0.3,
  entryHeightM: 4,
  couplerSplit: "equal",
  pvcWidthRatio: 1,
  wrapDiameterAddMm: 12,
  tiesPerOutdoorM: 1,
  tiesPerIndoorM: 1,
  tiesPerDripLoop: 4,
  tiesPerEarthingPoint: 2,
  tiesPerWrap: 2,
  diversityMinM: 5,
  diversityMaxM: 15,
  hopMinM: 50,
  hopMaxKm: 150,
};

const CP = "common practice";
const M = "from memory";

/** What each figure is, its unit and where the default comes from. */
export const POLICY_FIGURES: Record<Exclude<keyof FullPolicy, "version">, PolicyFigure> = {
  surplusM: {
    label: "Surplus on a run, for drip loop and terminations",
    unit: "m",
    source: `${CP}, 3 to 5 m`,
  },
  cutStepM: { label: "Runs are cut to a multiple of", unit: "m", source: CP },
  dripLoopDiameterM: { label: "Drip loop diameter, one turn", unit: "m", source: CP },
  terminationM: { label: "Cable used by both terminations of a run", unit: "m", source: M },
  maxEarthingSpacingM: {
    label: "Largest gap between earthing points outdoors",
    unit: "m",
    source: `${M}; regional rules differ (another policy: 61 m, 200 ft)`,
  },
  shortRunM: { label: "Outdoor run below which two earthing points do", unit: "m", source: M },
  minEarthingPoints: { label: "Earthing points of a run, at least", unit: "", source: CP },
  bendClearanceM: { label: "Earthing points keep from a bend", unit: "m", source: CP },
  minEarthingSectionMm2: {
    label: "Earthing lead section, copper, at least",
    unit: "mm2",
    source: `${M} (IEC 62305-3:2010 Table 8)`,
  },
  connectorLoss: { label: "Connectors spoilt in termination", unit: "share", source: CP },
  tieLoss: { label: "Ties lost or broken", unit: "share", source: CP },
  tiesOrHangers: { label: "Outdoor route held by", unit: "", source: CP },
  hangerSpacingM: { label: "Cable hanger every", unit: "m", source: M },
  tapeWidthRatio: {
    label: "Width of stretched self-amalgamating tape",
    unit: "of relaxed width",
    source: `${CP}, 1/2 to 3/4`,
  },
  tapeOverlap: { label: "Overlap of tape", unit: "of width", source: `${CP}, half-lapped` },
  tapeBeyondMm: { label: "A wrap starts beyond the connector by", unit: "mm", source: `${CP}, 20 to 50 mm` },
  tapeEndLossMm: { label: "Tape lost per wrap and tape", unit: "mm", source: M },
  wrapLengthMm: { label: "Length of a connector or earthing kit that is wrapped", unit: "mm", source: M },
  handHoistMaxKg: { label: "Hoisted by hand up to", unit: "kg", source: M },
  conductorMaxTempC: { label: "Conductor temperature for the DC feed", unit: "degC", source: M },
  wrapsEntry: { label: "Entries are wrapped too", unit: "", source: CP },
  lossOfSurgeArrestorDb: { label: "Loss of a surge arrestor", unit: "dB", source: M },
  nearOduM: { label: "First earthing point from the ODU", unit: "m", source: M },
  beforeEntryM: { label: "Last earthing point before the entry", unit: "m", source: M },
  entryHeightM: { label: "Entry height where the design gives none", unit: "m", source: M },
  couplerSplit: { label: "Hybrid coupler where the design names none", unit: "", source: M },
  pvcWidthRatio: {
    label: "Width of PVC tape as laid",
    unit: "of relaxed width",
    source: `${M}: laid without stretch`,
  },
  wrapDiameterAddMm: { label: "Wrap diameter over cable diameter where unknown", unit: "mm", source: M },
  tiesPerOutdoorM: { label: "Ties per metre of fixed route outdoors", unit: "1/m", source: CP },
  tiesPerIndoorM: { label: "Ties per metre of fixed route indoors", unit: "1/m", source: CP },
  tiesPerDripLoop: { label: "Ties per drip loop: 2 at its ends, 2 to bind it", unit: "", source: CP },
  tiesPerEarthingPoint: { label: "Ties per earthing point, 0.2 m above and below", unit: "", source: CP },
  tiesPerWrap: { label: "Ties per finished wrap", unit: "", source: CP },
  diversityMinM: { label: "Space diversity: height difference from", unit: "m", source: M },
  diversityMaxM: { label: "Space diversity: height difference to", unit: "m", source: M },
  hopMinM: { label: "A hop shorter than this is taken for a mistake", unit: "m", source: M },
  hopMaxKm: { label: "A hop longer than this is taken for a mistake", unit: "km", source: M },
};

const filled = new WeakMap<TakeoffPolicy, FullPolicy>();

/** The policy with every figure set: one saved before a figure came in takes that figure's default. */
export function fullPolicy(policy: TakeoffPolicy): FullPolicy {
  let full = filled.get(policy);
  if (!full) {
    const given = Object.entries(policy).filter(([, value]) => value !== undefined);
    full = { ...DEFAULT_POLICY, ...(Object.fromEntries(given) as unknown as TakeoffPolicy) };
    filled.set(policy, full);
  }
  return full;
}
