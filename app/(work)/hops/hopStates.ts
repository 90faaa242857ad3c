import type { StateName } from "@/app/_ui/states";
import type { SiteState } from "@/db/queries/siteViews";
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

export const STRUCTURE_WORDS: Readonly<Record<StructureKind, string>> = {
  lattice: "lattice tower",
  mast: "guyed mast",
  monopole: "monopole",
  roof: "rooftop",
};

export const sitePath = (code: string): string => `/sites/${encodeURIComponent(code)}`;
export const hopPath = (code: string): string => `/hops/${encodeURIComponent(code)}`;
