/**
 * Visits to an end that stands: the acceptance readings where they have a visit of their own, and what a failed reading
 * asks for. Each is a choice of the install's parts, so that its minutes follow the same norms.
 * Which parts: common practice.
 */
import type { HourNorms, TaskTemplate } from "./types";

/** The alignment visit's part that takes the readings. */
export const ACCEPTANCE_PART = "acceptance";

/** What is done again at one end. */
export type EndRemedy = "connections" | "earthing" | "indoor unit";

const SIGN_IN = ["induction", "briefing"] as const;
const READINGS_AND_OUT = [ACCEPTANCE_PART, "clean-up"] as const;

export const ACCEPTANCE_PARTS: readonly string[] = [...SIGN_IN, ...READINGS_AND_OUT];

export const REMEDY_PARTS: Readonly<Record<EndRemedy, readonly string[]>> = {
  connections: [...SIGN_IN, "rescue-kit", "connect", "weatherproof", "line-test", ...READINGS_AND_OUT],
  earthing: [...SIGN_IN, "rescue-kit", "earth-odu", ...READINGS_AND_OUT],
  "indoor unit": [...SIGN_IN, "idu", "line-test", ...READINGS_AND_OUT],
};

/** The readings as a part of a visit to one end, before the clean-up; undefined when the norms lack them. */
export function acceptanceAtEnd(norms: HourNorms): TaskTemplate | undefined {
  const readings = norms.alignmentTemplates.find((t) => t.part === ACCEPTANCE_PART);
  return readings && { ...readings, where: "indoor", after: ["line-test", "earth-odu"] };
}
