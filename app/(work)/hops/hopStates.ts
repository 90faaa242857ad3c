import type { StateName } from "@/app/_ui/states";
import type { StoredReport } from "@/db/queries/reports";
import type { HopListRow, SiteState } from "@/db/queries/siteViews";
import type { StructureKind } from "@/lib/site";

/** Sign and word of where a hop (or the worst hop of a site) stands against its promise. */
export const HOP_STATE: Readonly<Record<SiteState, { state: StateName; word: string }>> = {
  done: { state: "done", word: "Done" },
  "to accept": { state: "under way", word: "To accept" },
  "on promise": { state: "planned", word: "On promise" },
  "at risk": { state: "warn", word: "At risk" },
  late: { state: "late", word: "Late" },
  held: { state: "hold", word: "Held" },
  "not planned": { state: "unplaced", word: "Not planned" },
  "no hops": { state: "none", word: "No hops" },
};

/** The same words by sign, for maps and their keys: a line and its row in the list say one thing. */
export const HOP_WORDS: Partial<Readonly<Record<StateName, string>>> = Object.fromEntries(
  Object.values(HOP_STATE).map(({ state, word }) => [state, word]),
);

/** What a crew reported, as a state: what it put on hold is called as every hold is. */
export const OUTCOME_STATE: Readonly<Record<StoredReport["outcome"], { state: StateName; word: string }>> = {
  done: { state: "done", word: "done" },
  "part done": { state: "under way", word: "part done" },
  hold: { state: "hold", word: "On hold" },
};

export const STRUCTURE_WORDS: Readonly<Record<StructureKind, string>> = {
  lattice: "lattice tower",
  mast: "guyed mast",
  monopole: "monopole",
  roof: "rooftop",
};

/** It cannot end on its planned day: a gate opens later only. */
export const isHeldByGate = ({ gateOn, plannedOn }: Pick<HopListRow, "gateOn" | "plannedOn">): boolean =>
  gateOn !== null && plannedOn !== null && gateOn > plannedOn;

export const sitePath = (code: string): string => `/sites/${encodeURIComponent(code)}`;
export const hopPath = (code: string): string => `/hops/${encodeURIComponent(code)}`;
