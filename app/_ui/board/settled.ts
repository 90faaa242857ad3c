/** Visits that no hand moves any more, and why. */
import type { BoardVisit } from "./types";

export type Settled = "done" | "withdrawn" | "begun" | "frozen";

/** Said at the pointer, to screen readers and in the visit's panel alike. */
export const SETTLED_WORDS: Readonly<Record<Settled, string>> = {
  done: "It was reported done and stays where it was.",
  withdrawn: "This revisit was withdrawn and is not needed any more; the next plan leaves it out.",
  begun: "It began before today and stays where it is; its crew reports what is left.",
  frozen: "It lies in the frozen days and cannot be moved.",
};

/** @param days of the board: those before `frozenUntilDay` are settled, those before `todayDay` are past */
export function settledOf(
  visit: Pick<BoardVisit, "crewId" | "startDay" | "report">,
  { frozenUntilDay, todayDay = 0 }: { frozenUntilDay: number; todayDay?: number },
): Settled | undefined {
  if (visit.crewId === null) return undefined;
  if (visit.report?.state === "done" || visit.report?.state === "withdrawn") return visit.report.state;
  if (visit.startDay >= frozenUntilDay) return undefined;
  return visit.startDay < todayDay ? "begun" : "frozen";
}
