/** Limits of acceptance readings. */
import type { Spec } from "./figure";

const READING_SOURCE = "from memory, common practice: the customer's procedure comes first";

export const ACCEPTANCE: readonly Spec[] = [
  {
    path: "levelToleranceDb",
    label: "Receive level off its target, at most",
    unit: "dB",
    min: 0.1,
    max: 20,
    source: READING_SOURCE,
  },
  {
    path: "crossPolarMinDb",
    label: "Cross-polar discrimination, at least",
    unit: "dB",
    min: 5,
    max: 60,
    source: READING_SOURCE,
  },
  {
    path: "earthMaxOhm",
    label: "Earth resistance, at most",
    unit: "ohm",
    min: 0.1,
    max: 1000,
    source: READING_SOURCE,
  },
  { path: "errorRunH", label: "Error run", unit: "h", min: 0.25, max: 720, source: READING_SOURCE },
  {
    path: "errorRunMaxS",
    label: "Errored seconds in the error run, at most",
    unit: "s",
    min: 0,
    max: 10_000,
    isWhole: true,
    source: READING_SOURCE,
  },
];
