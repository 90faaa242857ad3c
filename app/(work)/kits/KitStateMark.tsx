import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import { KIT_STATES } from "@/app/_ui/states";
import type { KitState } from "@/db/queries/kitRows";

export function KitStateMark({ state, boxed }: { state: KitState; boxed?: boolean }) {
  return (
    <StateMark state={KIT_STATES[state].state} boxed={boxed}>
      <T>{KIT_STATES[state].word}</T>
    </StateMark>
  );
}
