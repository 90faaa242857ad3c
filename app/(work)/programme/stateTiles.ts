import type { Words } from "@/app/_ui/language/words";
import type { StatProps } from "@/app/_ui/Stat";
import type { HopState, ProgrammeSummary } from "@/lib/programme";

export interface StateTile extends Pick<StatProps, "tone"> {
  state: HopState;
  label: string;
  count: number;
  limit: string;
  /** The list of hops with just these. */
  href: string;
}

/** A tile for each state of a hop: together they count every hop. What is rare shows when there is any. */
export function stateTiles(sum: ProgrammeSummary, { t }: Words): StateTile[] {
  const tiles: Omit<StateTile, "href">[] = [
    {
      state: "done",
      label: t("Finished"),
      count: sum.done,
      limit: t("of {{count}} hops", { count: allHops(sum) }),
    },
    {
      state: "to accept",
      label: t("To accept"),
      count: sum.toAccept,
      limit: t("work done, readings missing or off"),
      tone: "warn",
    },
    {
      state: "on promise",
      label: t("On promise, P80"),
      count: sum.onPromise,
      limit: t("planned, and in time in four runs of five"),
      tone: "good",
    },
    {
      state: "at risk",
      label: t("At risk"),
      count: sum.atRisk,
      limit: t("planned in time, late in more than one run of five or before a gate opens"),
      tone: sum.atRisk > 0 ? "warn" : "plain",
    },
    {
      state: "late",
      label: t("Late"),
      count: sum.late,
      limit: sum.late > 0 ? t("{{count}} days in all", { count: sum.lateDays }) : t("none"),
      tone: sum.late > 0 ? "problem" : "plain",
    },
    {
      state: "held",
      label: t("Held"),
      count: sum.held,
      limit: t("a gate, a check or a missing figure"),
      tone: sum.held > 0 ? "warn" : "plain",
    },
    {
      state: "not planned",
      label: t("Not planned"),
      count: sum.notPlanned,
      limit: t("no place in the plan in force"),
      tone: "warn",
    },
  ];
  return tiles
    .filter(({ state, count }) => count > 0 || !RARE.has(state))
    .map((tile) => ({ ...tile, href: `/sites?tab=hops&f.state=${tile.state.replaceAll(" ", "+")}` }));
}

const RARE: ReadonlySet<HopState> = new Set(["to accept", "not planned"]);

const allHops = (sum: ProgrammeSummary): number =>
  sum.done + sum.toAccept + sum.onPromise + sum.atRisk + sum.late + sum.held + sum.notPlanned;
