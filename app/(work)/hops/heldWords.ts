import type { Words } from "@/app/_ui/language/words";
import { whyWords } from "@/app/(work)/plan/why";
import type { HopListRow } from "@/db/queries/siteViews";
import { furtherHolds } from "@/lib/programme";

export type HeldHop = Pick<HopListRow, "byPlan" | "heldBy" | "openGates" | "failCount">;

/** What holds a hop: the first reason, and how much more; null = nothing. */
export function heldWords(hop: HeldHop, words: Words): string | null {
  const { t } = words;
  const further = furtherWords(hop, words);
  if (hop.heldBy === null) return further;
  const first = whyWords(hop.heldBy, words);
  // What a check says ends with a full stop; here the sentence goes on.
  return further === null
    ? first
    : t("{{first}}; also {{further}}", { first: first.replace(/\.$/, ""), further });
}

/** "1 open gate, 2 failed design checks": what must be lifted besides the first reason. */
export function furtherWords(hop: HeldHop, { t }: Words): string | null {
  const { gates, checks } = furtherHolds(hop);
  const parts = [
    ...(gates > 0 ? [t("{{count}} open gates", { count: gates })] : []),
    ...(checks > 0 ? [t("{{count}} failed design checks", { count: checks })] : []),
  ];
  return parts.length > 0 ? parts.join(", ") : null;
}
