/** Which visits of the board a planner looks at; the others are drawn faintly. */
import type { BoardVisit } from "@/app/_ui/PlanBoard";

export const BOARD_FILTERS = {
  late: { label: "Late", passes: (v: BoardVisit) => v.isLate === true },
  gate: { label: "Before a gate opens", passes: (v: BoardVisit) => v.isBeforeGate === true },
  people: { label: "Crew lacks people", passes: (v: BoardVisit) => v.crewShort !== undefined },
  short: { label: "Kit short", passes: (v: BoardVisit) => v.kit?.state === "short" },
  weather: {
    label: "Weather over or near a limit",
    passes: (v: BoardVisit) => v.weather?.state === "not met" || v.weather?.state === "tight",
  },
  pinned: { label: "Pinned", passes: (v: BoardVisit) => v.isPinned === true },
  report: {
    label: "Reported by crews",
    passes: (v: BoardVisit) => v.report !== undefined && v.report.state !== "withdrawn",
  },
  install: { label: "Installs", passes: (v: BoardVisit) => v.kind === "install" },
  alignment: { label: "Alignments", passes: (v: BoardVisit) => v.kind === "alignment" },
  acceptance: { label: "Acceptances", passes: (v: BoardVisit) => v.kind === "acceptance" },
  revisit: { label: "Revisits", passes: (v: BoardVisit) => v.kind === "revisit" },
} as const satisfies Record<string, { label: string; passes: (v: BoardVisit) => boolean }>;

export type BoardFilter = keyof typeof BOARD_FILTERS;

export const isBoardFilter = (text: string | undefined): text is BoardFilter =>
  text !== undefined && Object.hasOwn(BOARD_FILTERS, text);

/** The same array while nothing is filtered: the board compares by identity. */
export function withFaint(
  visits: readonly BoardVisit[],
  filter: BoardFilter | undefined,
): readonly BoardVisit[] {
  if (!filter) return visits;
  const { passes } = BOARD_FILTERS[filter];
  return visits.map((v) => (passes(v) ? v : { ...v, isFaint: true }));
}

/** How many placed visits each filter shows. */
export function countsOf(
  visits: readonly BoardVisit[],
): readonly { key: string; label: string; count: number }[] {
  const placed = visits.filter((v) => v.crewId !== null);
  return Object.entries(BOARD_FILTERS).map(([key, { label, passes }]) => ({
    key,
    label,
    count: placed.filter(passes).length,
  }));
}
