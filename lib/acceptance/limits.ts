import type { AcceptanceLimits } from "./types";

/** Delivered figures, from memory, common practice: the customer's acceptance procedure comes first. */
export const DEFAULT_ACCEPTANCE_LIMITS: AcceptanceLimits = {
  levelToleranceDb: 3,
  crossPolarMinDb: 25,
  earthMaxOhm: 10,
  errorRunH: 24,
  errorRunMaxS: 0,
};
