import { DEFAULT_DERATING } from "./derating";
import { DEFAULT_LEARNING } from "./learning";
import { ALIGNMENT_TEMPLATES, END_TEMPLATES, EXTRA_TASK } from "./templates";
import type { HourNorms } from "./types";

/** A version that was stored before a figure existed takes the figure's default. */
export const fullNorms = (body: HourNorms): HourNorms => ({
  ...body,
  alignment: { ...DEFAULT_NORMS.alignment, ...body.alignment },
  learning: { ...DEFAULT_NORMS.learning, ...body.learning },
  derating: body.derating ?? DEFAULT_NORMS.derating,
});

/** Delivered figures, all from memory, common practice: calibrate. Plans record the version. */
export const DEFAULT_NORMS: HourNorms = {
  version: 1,
  templates: END_TEMPLATES,
  alignmentTemplates: ALIGNMENT_TEMPLATES,
  extraTask: EXTRA_TASK,
  climb: {
    ascentMPerMin: { lattice: 5, mast: 4, monopole: 4, roof: 12 },
    descentMPerMin: { lattice: 7, mast: 6, monopole: 6, roof: 15 },
    restAboveM: 30,
    restMinPerM: 0.1,
    kitUp: { aMin: 6, mMin: 10, bMin: 20 },
    restBetween: { aMin: 15, mMin: 20, bMin: 40 },
    longestSpellMin: 180,
    minWorkPerAscentMin: 45,
    optimisticShare: 0.8,
    pessimisticShare: 1.6,
    source: "from memory, common practice: calibrate",
  },
  alignment: {
    smallDiameterM: 0.6,
    small: { aMin: 60, mMin: 85, bMin: 120 },
    largeDiameterM: 1.2,
    large: { aMin: 120, mMin: 170, bMin: 240 },
    diversityFactor: 2,
    longestVisitMin: 480,
    source:
      "from memory: 1 to 2 h up to 0.6 m, 2 to 4 h from 1.2 m, doubled for diversity; eight hours on site a day",
  },
  groundAssemblyMaxM: 0.6,
  winchFromKg: 50,
  rescuersOnSite: 1,
  peopleWhileHoisting: 3,
  climbersAloft: 2,
  learning: DEFAULT_LEARNING,
  derating: DEFAULT_DERATING,
};
