import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import type { StateName } from "@/app/_ui/states";
import type { KitState } from "@/db/queries/kitRows";

export const LOOK: Record<KitState, { state: StateName; word: string }> = {
  planned: { state: "open", word: "To pick" },
  picked: { state: "under way", word: "Picking" },
  issued: { state: "done", word: "Issued" },
};

export function KitStateMark({ state, boxed }: { state: KitState; boxed?: boolean }) {
  return (
    <StateMark state={LOOK[state].state} boxed={boxed}>
      <T>{LOOK[state].word}</T>
    </StateMark>
  );
}
