/** What makes two catalogue items the same thing on a shelf, and an item the one that fits. */
import type { ItemAttributes, ItemCategory } from "./types";

/**
 * Attributes that must all be equal for an item to fit. Radios: all four parts of their identity, so that stock,
 * spares and substitution never mix variants. A category that is not listed fits everywhere.
 */
export const MATCHED_ON: Readonly<Partial<Record<ItemCategory, readonly MatchedAttribute[]>>> = {
  ODU: ["bandGhz", "subBand", "duplexSpacingMhz", "half"],
  antenna: ["bandGhz", "diameterM"],
  "hybrid coupler": ["bandGhz", "split"],
  "orthomode coupling": ["bandGhz"],
  "flange gasket": ["bandGhz"],
  "flexible waveguide": ["bandGhz"],
  "polarisation part": ["bandGhz"],
  connector: ["cableDiameterMm"],
  "earthing kit": ["cableDiameterMm"],
  "hoisting grip": ["cableDiameterMm"],
  "cable hanger": ["cableDiameterMm"],
  gland: ["cableDiameterMm"],
  lug: ["crossSectionMm2"],
};

export type MatchedAttribute = keyof Pick<
  ItemAttributes,
  | "bandGhz"
  | "subBand"
  | "duplexSpacingMhz"
  | "half"
  | "diameterM"
  | "split"
  | "cableDiameterMm"
  | "crossSectionMm2"
>;
