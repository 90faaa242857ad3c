import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import { KIT_STATES } from "@/app/_ui/states";
import type { KitState } from "@/db/queries/kitRows";

/** @param isNeverIssued its visit is done without it: nobody is to pick it any more */
export function KitStateMark({
  state,
  isNeverIssued,
  boxed,
}: {
  state: KitState;
  isNeverIssued?: boolean;
  boxed?: boolean;
}) {
  if (isNeverIssued && state === "planned")
    return (
      <StateMark state="warn" boxed={boxed}>
        <T>Never issued</T>
      </StateMark>
    );
  return (
    <StateMark state={KIT_STATES[state].state} boxed={boxed}>
      <T>{KIT_STATES[state].word}</T>
    </StateMark>
  );
}
