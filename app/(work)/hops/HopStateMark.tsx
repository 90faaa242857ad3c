import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import type { SiteState } from "@/db/queries/siteViews";
import { HOP_STATE } from "./hopStates";

/** Where a hop (or the worst hop of a site) stands against its promise. */
export function HopStateMark({ state }: { state: SiteState }) {
  return (
    <StateMark state={HOP_STATE[state].state}>
      <T>{HOP_STATE[state].word}</T>
    </StateMark>
  );
}
