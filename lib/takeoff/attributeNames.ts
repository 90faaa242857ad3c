import type { ItemAttributes, MatchedAttribute } from "@/lib/site";

/** What a person calls each attribute that items are matched on, and its unit. */
export const MATCHED_NAMES: Readonly<Record<MatchedAttribute, readonly [name: string, unit?: string]>> = {
  bandGhz: ["band", "GHz"],
  subBand: ["sub-band"],
  duplexSpacingMhz: ["duplex spacing", "MHz"],
  half: ["half"],
  diameterM: ["diameter", "m"],
  split: ["split"],
  cableDiameterMm: ["cable diameter", "mm"],
  crossSectionMm2: ["cross section", "mm2"],
};

/** Attributes that a check may find lacking, called as their columns in the file of items are. */
export const NEEDED_NAMES = {
  k1: "loss k1",
  k2: "loss k2",
  loopOhmPer100M: "loop resistance",
  ifLowMhz: "IF low",
  ifHighMhz: "IF high",
  maxIfLossDb: "largest IF loss",
  powerW: "power",
  minVoltageV: "lowest voltage",
  tapeWidthMm: "tape width",
  tapeThicknessMm: "tape thickness",
} as const satisfies Partial<Record<keyof ItemAttributes, string>>;

export type NeededAttribute = keyof typeof NEEDED_NAMES;

/** What a piece holds, by the measure that a rule counts in. */
export const CONTENT_NAMES = { m: "roll length", g: "content" } as const;
